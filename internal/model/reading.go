package model

import (
	"math"

	"doorsill/internal/validation"
)

// ReadingTaken is one measurement. Readings add up; they never replace one
// another.
type ReadingTaken struct {
	What string `json:"what" check:"oneof=ReadingKinds"`
	// Site is a body site with its side, such as "chin" or "index-right".
	Site string `json:"site" check:"site"`
	// Direction is forward, reverse, left, right or press, relative to the
	// chair; empty where it has no meaning.
	Direction string `json:"direction,omitempty" check:"oneof=ReadingDirections,optional"`
	// State is "rested" or "tired".
	State string `json:"state" check:"oneof=FatigueStates"`
	// Switch is "power" or "mode" when a switch force is that of one switch;
	// empty counts for both.
	Switch string `json:"switch,omitempty" check:"oneof=SwitchPurposes,optional"`
	// Supported says whether the limb or head was held up.
	Supported bool    `json:"supported"`
	Value     float64 `json:"value"`
	Unit      string  `json:"unit"`
	// Missed marks a release or a command that did not come, or another that came
	// instead; Value is then 0.
	Missed bool `json:"missed,omitempty"`
	// Class and Control are those of the control that was held, let go of or
	// pushed without meaning to, as in the set-up.
	Class   string `json:"class,omitempty" check:"oneof=Classes,optional"`
	Control string `json:"control,omitempty" check:"max=LongestName"`
	Note    string `json:"note,omitempty" check:"max=LongestText"`
}

// ReadingMarked sets a reading aside as a slip, or takes it back in. The
// reading itself stays in the log.
type ReadingMarked struct {
	Reading Ref  `json:"reading" check:"ref"`
	Slip    bool `json:"slip"`
	// Reason is required when Slip is true.
	Reason string `json:"reason,omitempty" check:"max=LongestText"`
}

// ReadingMoved says where a reading that was entered in the wrong place belongs.
// All of its place is given: what is left out is empty. The reading as it was taken
// stays in the log.
type ReadingMoved struct {
	Reading Ref `json:"reading" check:"ref"`
	// Direction, State, Switch, Supported and Note are as in ReadingTaken.
	Direction string `json:"direction,omitempty" check:"oneof=ReadingDirections,optional"`
	State     string `json:"state" check:"oneof=FatigueStates"`
	Switch    string `json:"switch,omitempty" check:"oneof=SwitchPurposes,optional"`
	Supported bool   `json:"supported"`
	Note      string `json:"note,omitempty" check:"max=LongestText"`
}

// Of is the reading in its new place.
func (m *ReadingMoved) Of(r ReadingTaken) ReadingTaken {
	r.Direction, r.State, r.Switch, r.Supported, r.Note = m.Direction, m.State, m.Switch, m.Supported, m.Note
	return r
}

// Reading is one measurement with its stamp.
type Reading struct {
	Stamp
	ReadingTaken
	// Moved says that it was taken down in another place first.
	Moved bool `json:"moved,omitempty"`
	// Slip is the reason why the reading was set aside, or empty.
	Slip string `json:"slip,omitempty"`
	// Due marks a release that must be timed anew because a setting was
	// changed since; see Retests.
	Due bool `json:"due,omitempty"`
}

func (r *ReadingMarked) checkTogether() *validation.Error {
	if r.Slip && r.Reason == "" {
		return &validation.Error{Code: validation.CodeRequired, Path: "reason", Want: "why the reading is set aside"}
	}
	return nil
}

func (r *ReadingTaken) checkTogether() *validation.Error {
	if r.Switch != "" && r.What != ReadSwitchForce {
		return &validation.Error{Code: validation.CodeWrongType, Path: "switch", Want: "nothing, as this is not the force at a switch", Got: validation.Quote(r.Switch)}
	}
	if r.Missed && (!r.Timed() || r.Value != 0) {
		return &validation.Error{Code: validation.CodeWrongType, Path: "missed", Want: "a missed release or command with the value 0"}
	}
	if r.Direction == "" && (r.What == ReadForce || r.What == ReadTravel) {
		return validation.OneOf("direction", "", ReadingDirections())
	}
	return r.checkValue()
}

// Timed reports whether the reading is a time from a word on, which may be missed.
func (r *ReadingTaken) Timed() bool {
	return r.What == ReadRelease || r.What == ReadCommand || r.What == ReadStopCommand
}

func (r *ReadingTaken) checkValue() *validation.Error {
	switch r.What {
	case ReadCommand, ReadStopCommand:
		return r.checkMeasured("s", mostCommand)
	case ReadUnasked:
		return r.checkMeasured("per-10-min", mostUnasked)
	case ReadSteps:
		return r.checkMeasured("steps", mostSteps)
	case ReadBreath:
		return r.checkMeasured("kPa", mostBreath)
	case ReadTravel:
		return r.checkMeasured("mm", mostTravel)
	case ReadHold:
		return r.checkMeasured("s", mostHold)
	case ReadRelease:
		return r.checkMeasured("s", mostRelease)
	case ReadUnintended:
		return r.checkForce(mostUnintended)
	}
	return r.checkForce(MostForce)
}

func (r *ReadingTaken) checkMeasured(unit string, most float64) *validation.Error {
	if r.Unit != unit {
		return validation.Unexpected(validation.CodeWrongUnit, "unit", unit, r.Unit)
	}
	return validation.Between("value", r.Value, 0, most, unit)
}

// checkForce checks a force in its own unit. The limit is in gram-force.
func (r *ReadingTaken) checkForce(most float64) *validation.Error {
	gf, known := ToGF(r.Value, r.Unit)
	if !known {
		return validation.Unexpected(validation.CodeWrongUnit, "unit", validation.Either(ForceUnits()), r.Unit)
	}
	if r.Value >= 0 && gf <= most*(1+1e-9) {
		return nil
	}
	limit, _ := FromGF(most, r.Unit)
	return validation.Between("value", r.Value, 0, math.Floor(limit*100)/100, r.Unit)
}

// Stops reports whether a kind of reading shows that the driver can stop: a change
// of one of Retests makes it due again.
func Stops(what string) bool { return what == ReadRelease || what == ReadStopCommand }
