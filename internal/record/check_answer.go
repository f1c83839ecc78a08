package record

import "math"

func (a *AnswerGiven) check() *Refusal {
	if bad := itemOf(a.Item); bad != nil {
		return bad
	}
	if bad := first(
		among("state", a.State, StateAnswered, StateNotApplicable, StateNotTested),
		short("reason", a.Reason, LongestText),
		short("note", a.Note, LongestText),
	); bad != nil {
		return bad
	}
	for _, fact := range sortedKeys(a.Facts) {
		if bad := short("facts", fact, LongestWord); bad != nil {
			return bad
		}
	}
	return a.checkValue()
}

// checkValue refuses a state and a value that do not go together. Whether the
// value fits the item is for the checklist to say.
func (a *AnswerGiven) checkValue() *Refusal {
	named, got := a.value()
	switch a.State {
	case StateAnswered:
		if named == "" && len(a.Facts) == 0 {
			return &Refusal{Code: CodeRequired, Field: "level", Want: "a level, a number, both sides or side questions, as the item asks"}
		}
	case StateNotApplicable:
		if a.Reason == "" {
			return &Refusal{Code: CodeRequired, Field: "reason", Want: "why the item does not apply"}
		}
		fallthrough
	default:
		if named != "" {
			return &Refusal{Code: CodeWrongType, Field: named, Want: "nothing beside the state " + quoted(a.State), Got: got}
		}
	}
	if a.Level == "" {
		return nil
	}
	return among("level", a.Level, "4", "3", "2", "1", "0", "yes", "no")
}

// value names the first field that holds a value.
func (a *AnswerGiven) value() (field, got string) {
	if a.Level != "" {
		return "level", quoted(a.Level)
	}
	for _, v := range []struct {
		field  string
		number *float64
	}{{"number", a.Number}, {"left", a.Left}, {"right", a.Right}} {
		if v.number != nil {
			return v.field, shown(*v.number)
		}
	}
	return "", ""
}

func itemOf(item string) *Refusal {
	ok := item != "" && len(item) <= LongestWord && item[0] >= 'a' && item[0] <= 'z'
	for i := 0; ok && i < len(item); i++ {
		c := item[i]
		ok = c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-'
	}
	if ok {
		return nil
	}
	return missingOr(CodeWrongType, "item", "an item's id", item)
}

func (a *AnswerChosen) check() *Refusal {
	if bad := first(itemOf(a.Item), refOf("keep", a.Keep)); bad != nil {
		return bad
	}
	if len(a.Drop) == 0 {
		return &Refusal{Code: CodeRequired, Field: "drop", Want: "at least one answer that yields"}
	}
	for _, drop := range a.Drop {
		if bad := refOf("drop", drop); bad != nil {
			return bad
		}
		if drop == a.Keep {
			return &Refusal{Code: CodeOutOfRange, Field: "drop", Want: "answers other than the one that stands", Got: quoted(string(drop))}
		}
	}
	return nil
}

func (r *ReadingMarked) check() *Refusal {
	if r.Slip && r.Reason == "" {
		return &Refusal{Code: CodeRequired, Field: "reason", Want: "why the reading is set aside"}
	}
	return first(refOf("reading", r.Reading), short("reason", r.Reason, LongestText))
}

func (r *RunMarked) check() *Refusal {
	if r.Slip && r.Reason == "" {
		return &Refusal{Code: CodeRequired, Field: "reason", Want: "why the run is set aside"}
	}
	return first(refOf("run", r.Run), short("reason", r.Reason, LongestText))
}

// Most that a reading can be; more is a slip of the hand or of the unit.
const (
	mostForce       = 10_000 // gf
	mostUnintended  = 5_000  // gf
	mostSwitchPress = 2_000  // gf, what a switch asks for
	mostTravel      = 150    // mm
	mostHold        = 600    // s
	mostRelease     = 20     // s
)

func (r *ReadingTaken) check() *Refusal {
	if bad := first(
		among("what", r.What, ReadForce, ReadTravel, ReadHold, ReadRelease, ReadUnintended, ReadSwitchForce),
		siteOf(r.Site),
		r.checkSwitch(),
		among("state", r.State, "rested", "tired"),
		short("note", r.Note, LongestText),
	); bad != nil {
		return bad
	}
	if r.Missed && (r.What != ReadRelease || r.Value != 0) {
		return &Refusal{Code: CodeWrongType, Field: "missed", Want: "a missed release with the value 0"}
	}
	if bad := r.checkDirection(); bad != nil {
		return bad
	}
	return r.checkValue()
}

// checkSwitch refuses a switch's purpose with a reading of anything else.
func (r *ReadingTaken) checkSwitch() *Refusal {
	if r.Switch != "" && r.What != ReadSwitchForce {
		return &Refusal{Code: CodeWrongType, Field: "switch", Want: "nothing, as this is not the force at a switch", Got: quoted(r.Switch)}
	}
	return amongOrNone("switch", r.Switch, SwitchPurposes())
}

func (r *ReadingTaken) checkDirection() *Refusal {
	switch r.What {
	case ReadForce, ReadTravel:
		return among("direction", r.Direction, "forward", "reverse", "left", "right", "press")
	}
	if r.Direction == "" {
		return nil
	}
	return among("direction", r.Direction, "forward", "reverse", "left", "right", "press")
}

func (r *ReadingTaken) checkValue() *Refusal {
	switch r.What {
	case ReadTravel:
		return r.measured("mm", mostTravel)
	case ReadHold:
		return r.measured("s", mostHold)
	case ReadRelease:
		return r.measured("s", mostRelease)
	case ReadUnintended:
		return r.force(mostUnintended)
	}
	return r.force(mostForce)
}

func (r *ReadingTaken) measured(unit string, most float64) *Refusal {
	if r.Unit != unit {
		return missingOr(CodeWrongUnit, "unit", unit, r.Unit)
	}
	return between("value", r.Value, 0, most, unit)
}

// force checks a force in its own unit. The limit is in gram-force.
func (r *ReadingTaken) force(most float64) *Refusal {
	grams := gramsOf(r.Unit)
	if grams == 0 {
		return missingOr(CodeWrongUnit, "unit", oneOf(ForceUnits()), r.Unit)
	}
	if r.Value >= 0 && r.Value*grams <= most*(1+1e-9) {
		return nil
	}
	return between("value", r.Value, 0, math.Floor(most/grams*100)/100, r.Unit)
}

// gramsOf is how many gram-force a unit holds: 1 gf is 9.80665 mN by the
// standard acceleration of free fall, an ounce is 28.349523125 g and a pound
// 453.59237 g (NIST SP 811, 2008, App. B). 0 is not a unit of force.
func gramsOf(unit string) float64 {
	switch unit {
	case "gf":
		return 1
	case "N":
		return 1000 / 9.80665
	case "ozf":
		return 28.349523125
	case "lbf":
		return 453.59237
	}
	return 0
}

func siteOf(site string) *Refusal {
	if KnownSite(site) {
		return nil
	}
	return missingOr(CodeWrongType, "site", "a site such as chin or index-right", site)
}
