package rules

// Types lists the types of item.
func Types() []string { return []string{Help, Fit, YesNo, Number, Count} }

// Effects lists the effects, the gravest first.
func Effects() []string {
	return []string{Stop, StopControl, StopVehicle, LimitPractise, LimitAccompanied, LimitHomeGround}
}

// Sources lists what a computed item can be computed from.
func Sources() []string {
	return []string{FromForceReserve, FromTravelReserve, FromSpread, FromTiredRatio, FromHold,
		FromRelease, FromNoise, FromSwitchReserve, FromPresses, FromContacts, FromPrompts,
		FromRescues, FromRough}
}

// DerivedFacts lists the facts that the engine derives and nobody is asked.
func DerivedFacts() []string {
	return []string{FactHeadBorne, FactLightControl, FactReleaseMissed, FactPersonContact, FactUnequalSides}
}

// AskedFacts lists the facts of the standard checklist that are asked beside
// an item. A team's own checklist may ask others, under other names.
func AskedFacts() []string {
	return []string{FactNoCarerPlan, FactOnlyStop, FactMountBeforeFace, FactRampOverLimit}
}

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
