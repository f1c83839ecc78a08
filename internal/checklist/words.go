package checklist

import (
	"strconv"

	"doorsill/internal/validation"
)

// Types of item.
const (
	TypeHelp   = "help"   // levels 4 to 0: how much help was needed
	TypeFit    = "fit"    // levels 3 to 0 in the item's own words
	TypeYesNo  = "yes-no" // yes or no
	TypeNumber = "number" // a number with a unit, judged by bands
	TypeCount  = "count"  // a tally, judged by bands
)

// Effects that an answer can raise.
const (
	Stop             = "stop"              // no driving with any control
	StopControl      = "stop-control"      // this control at this site may not be used
	StopVehicle      = "stop-vehicle"      // may not travel seated in a vehicle
	LimitPractise    = "limit:practise"    // level not above Practise
	LimitAccompanied = "limit:accompanied" // level not above Accompanied
	LimitHomeGround  = "limit:home-ground" // level not above Home ground
)

// Sources of an item that is computed from readings, runs and the set-up and
// never typed.
const (
	FromForceReserve  = "force-reserve"
	FromTravelReserve = "travel-reserve"
	FromSpread        = "spread"
	FromTiredRatio    = "tired-ratio"
	FromHold          = "hold"
	FromRelease       = "release"
	FromNoise         = "noise"
	FromSwitchReserve = "switch-reserve"
	FromPresses       = "presses-per-10-min"
	FromContacts      = "contacts-per-50-m"
	FromPrompts       = "prompts-per-10-min"
	FromRescues       = "rescues"
	FromRough         = "unmeant-per-20-m"
)

// Facts that the engine derives. Any other fact of a condition is asked beside
// the item; an unanswered one counts as true, which is the cautious side.
const (
	FactHeadBorne     = "head-borne"     // site is chin, lip, tongue, cheek or head
	FactLightControl  = "light-control"  // the chosen control needs 15 gf or less
	FactReleaseMissed = "release-missed" // any release that did not come
	FactPersonContact = "person-contact" // any contact with a person in a run
	FactUnequalSides  = "unequal-sides"  // left and right differ by 2 or more
	FactOwnStopOpen   = "own-stop-open"  // no tired force at the driver's own stop switch shows a reserve of 2 or more
)

// States of an answer that a condition can name.
const (
	StateNotTested     = "not-tested"               // nobody answered
	StateNotApplicable = "not-applicable"           // does not apply, whatever the reason
	StateNAOtherwise   = "not-applicable-otherwise" // does not apply, for a reason that is not one of the item's na_reasons
)

// ConditionStates lists the states of an answer that a condition can name.
func ConditionStates() []string {
	return []string{StateNotTested, StateNotApplicable, StateNAOtherwise}
}

// Types lists the types of item.
func Types() []string { return []string{TypeHelp, TypeFit, TypeYesNo, TypeNumber, TypeCount} }

// Effects lists the effects, the gravest first.
func Effects() []string {
	return []string{Stop, StopControl, StopVehicle, LimitPractise, LimitAccompanied, LimitHomeGround}
}

// Sources lists what a computed item can be computed from.
func Sources() []string {
	return []string{
		FromForceReserve, FromTravelReserve, FromSpread, FromTiredRatio, FromHold, FromRelease, FromNoise,
		FromSwitchReserve, FromPresses, FromContacts, FromPrompts, FromRescues, FromRough,
	}
}

// DerivedFacts lists the facts that the engine derives and nobody is asked.
func DerivedFacts() []string {
	return []string{FactHeadBorne, FactLightControl, FactReleaseMissed, FactPersonContact, FactUnequalSides, FactOwnStopOpen}
}

// Levels lists the answers that an item of the type can have, best first; nil
// for number and count items.
func Levels(itemType string) []string {
	switch itemType {
	case TypeHelp:
		return []string{"4", "3", "2", "1", "0"}
	case TypeFit:
		return []string{"3", "2", "1", "0"}
	case TypeYesNo:
		return []string{"yes", "no"}
	}
	return nil
}

// checkWords refuses a definition with a word that this program does not know.
// A checklist for a newer program must not be scored as if what the word says
// were not there.
func (d *Definition) checkWords() *validation.Error {
	if err := validation.OneOf("format", d.Format, Formats()); err != nil {
		return err
	}
	for s := range d.Sections {
		for i := range d.Sections[s].Items {
			if err := d.Sections[s].Items[i].checkWords(); err != nil {
				return err.Within(at("items", i)).Within(at("sections", s))
			}
		}
	}
	return nil
}

func (i *Item) checkWords() *validation.Error {
	err := validation.OneOf("type", i.Type, Types())
	if err == nil && i.From != "" {
		err = validation.OneOf("from", i.From, Sources())
	}
	for e := range i.Effects {
		if err == nil {
			err = validation.OneOf("effect", i.Effects[e].Effect, Effects()).Within(at("effects", e))
		}
		for w := range i.Effects[e].When {
			for _, state := range i.Effects[e].When[w].States {
				if err == nil {
					err = validation.OneOf("states", state, ConditionStates()).Within(at("when", w)).Within(at("effects", e))
				}
			}
		}
	}
	return err
}

func at(list string, place int) string { return list + "[" + strconv.Itoa(place) + "]" }
