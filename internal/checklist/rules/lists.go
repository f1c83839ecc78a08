package rules

// The lists, read only: what is handed out is a copy.
var (
	types   = [...]string{Help, Fit, YesNo, Number, Count}
	effects = [...]string{Stop, StopControl, StopVehicle, LimitPractise, LimitAccompanied, LimitHomeGround}
	sources = [...]string{
		FromForceReserve, FromTravelReserve, FromSpread, FromTiredRatio, FromHold, FromRelease, FromNoise,
		FromSwitchReserve, FromPresses, FromContacts, FromPrompts, FromRescues, FromRough,
	}
	derivedFacts = [...]string{FactHeadBorne, FactLightControl, FactReleaseMissed, FactPersonContact, FactUnequalSides}
	askedFacts   = [...]string{FactNoCarerPlan, FactOnlyStop, FactMountBeforeFace, FactRampOverLimit}
)

func fresh(list []string) []string { return append([]string(nil), list...) }

// Types lists the types of item.
func Types() []string { return fresh(types[:]) }

// Effects lists the effects, the gravest first.
func Effects() []string { return fresh(effects[:]) }

// Sources lists what a computed item can be computed from.
func Sources() []string { return fresh(sources[:]) }

// DerivedFacts lists the facts that the engine derives and nobody is asked.
func DerivedFacts() []string { return fresh(derivedFacts[:]) }

// AskedFacts lists the facts of the standard checklist that are asked beside
// an item. A team's own checklist may ask others, under other names.
func AskedFacts() []string { return fresh(askedFacts[:]) }

// Levels lists the answers that an item of the type can have, best first; nil
// for number and count items.
func Levels(itemType string) []string {
	switch itemType {
	case Help:
		return []string{"4", "3", "2", "1", "0"}
	case Fit:
		return []string{"3", "2", "1", "0"}
	case YesNo:
		return []string{"yes", "no"}
	}
	return nil
}
