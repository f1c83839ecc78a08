package model

import "doorsill/internal/validation"

// SetupChosen names the control, site and place that the visit's level is for.
// The last one counts.
type SetupChosen struct {
	// Class is a control class id: see Classes.
	Class string `json:"class" check:"oneof=Classes"`
	// Control is the team's own name for it.
	Control string `json:"control,omitempty" check:"max=LongestName"`
	Site    string `json:"site" check:"site"`
	// StartGF moves the chair at all, OperateGF gives full command, TravelMM
	// is the way to full command, in gram-force and millimetres.
	StartGF   float64 `json:"start_gf" check:"0..MostForce" unit:"gf"`
	OperateGF float64 `json:"operate_gf" check:"0..MostForce" unit:"gf"`
	TravelMM  float64 `json:"travel_mm" check:"0..mostTravel" unit:"mm"`
	// Throw is the part of the travel that gives full command, in percent by
	// direction (20 to 100); a missing direction is 100.
	Throw map[string]float64 `json:"throw,omitempty" check:"keys=Directions,20..100" unit:"%"`
	// Needed are the directions that the driver must be able to give.
	Needed []string `json:"needed" check:"oneof=Directions"`
	// SwitchPressGF is the force that the driver's switch asks for; 0 when
	// there is none. It counts for the power and for the mode switch, but for
	// the one that has a force of its own.
	SwitchPressGF float64 `json:"switch_press_gf,omitempty" check:"0..mostSwitchPress" unit:"gf"`
	// PowerPressGF and ModePressGF are the forces that a switch for power and
	// one for modes ask for; 0 is none of its own.
	PowerPressGF float64 `json:"power_press_gf,omitempty" check:"0..mostSwitchPress" unit:"gf"`
	ModePressGF  float64 `json:"mode_press_gf,omitempty" check:"0..mostSwitchPress" unit:"gf"`
	// StopPressGF is the force that the driver's own stop switch asks for; 0
	// when there is none, or none that asks force.
	StopPressGF float64 `json:"stop_press_gf,omitempty" check:"0..mostSwitchPress" unit:"gf"`
	// DriveMode is how it drives, one of DriveModes; empty was not asked, and of a
	// stick means held.
	DriveMode string `json:"drive_mode,omitempty" check:"oneof=DriveModes,optional"`
	// SeparateStop: the driver has a stop beside the control.
	SeparateStop bool `json:"separate_stop,omitempty"`
	// BreathKPa is the pressure that a breath control asks for, in kPa.
	BreathKPa float64 `json:"breath_kpa,omitempty" check:"0..mostBreath" unit:"kPa"`
	// Place and Window say where and when, in words.
	Place  string `json:"place,omitempty" check:"max=LongestName"`
	Window string `json:"window,omitempty" check:"max=LongestName"`
}

// Setup is the chosen control, site and place with its stamp.
type Setup struct {
	Stamp
	SetupChosen
}

// CheckNew refuses a force that moves the chair at all above the force for full
// command, and a direction that is named as needed twice. It is no part of
// Check, since set-ups that were stored before this was refused are still read;
// see Sane.
func (s *SetupChosen) CheckNew() *validation.Error {
	return validation.First(checkForces(s.StartGF, s.OperateGF), eachOnce("needed", s.Needed, "each direction once"))
}

// Sane returns the set-up without a starting force that cannot be, which then
// counts as not known, and with each needed direction once.
func (s SetupChosen) Sane() SetupChosen {
	if checkForces(s.StartGF, s.OperateGF) != nil {
		s.StartGF = 0
	}
	s.Needed = once(s.Needed)
	return s
}
