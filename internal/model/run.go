package model

import (
	"doorsill/internal/validation"
)

// RunTimed is one stretch of the driving trial with its tallies.
type RunTimed struct {
	Route string `json:"route,omitempty" check:"max=LongestName"`
	// Place is "indoors", "outdoors" or "rough".
	Place string `json:"place" check:"oneof=RunPlaces"`
	// State is "rested" or "tired".
	State   string  `json:"state" check:"oneof=FatigueStates"`
	Seconds float64 `json:"seconds" check:"0..14400" unit:"s"`
	Metres  float64 `json:"metres" check:"0..20000" unit:"m"`
	// Things and People are contacts; Prompts are spoken or gestured; Rescues
	// are take-overs and uses of the stop; Unmeant are commands that the
	// driver did not mean; Presses are switch presses that were not meant.
	Things  int `json:"things" check:"0..9999"`
	People  int `json:"people" check:"0..9999"`
	Prompts int `json:"prompts" check:"0..9999"`
	Rescues int `json:"rescues" check:"0..9999"`
	Unmeant int `json:"unmeant" check:"0..9999"`
	Presses int `json:"presses" check:"0..9999"`
	// Class, Control and Site are those of the control that was driven with, as
	// in the set-up. Empty ones are of the set-up that stood; see FoldVisit.
	Class   string `json:"class,omitempty" check:"oneof=Classes,optional"`
	Control string `json:"control,omitempty" check:"max=LongestName"`
	Site    string `json:"site,omitempty" check:"site,optional"`
	Note    string `json:"note,omitempty" check:"max=LongestText"`
}

// RunMarked sets a run aside as saved by mistake, or takes it back in. The run
// itself stays in the log.
type RunMarked struct {
	Run  Ref  `json:"run" check:"ref"`
	Slip bool `json:"slip"`
	// Reason is required when Slip is true.
	Reason string `json:"reason,omitempty" check:"max=LongestText"`
}

// Run is one stretch of the trial with its stamp.
type Run struct {
	Stamp
	RunTimed
	// Slip is the reason why the run was set aside, or empty.
	Slip string `json:"slip,omitempty"`
}

func (r *RunMarked) checkTogether() *validation.Error {
	if r.Slip && r.Reason == "" {
		return &validation.Error{Code: validation.CodeRequired, Path: "reason", Want: "why the run is set aside"}
	}
	return nil
}
