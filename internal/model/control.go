package model

import (
	"strconv"

	"doorsill/internal/validation"
)

// ControlListed adds a drive control to a team's kit, or replaces what is known
// of it. Its subject is the control's id. Figures are measured on the control
// itself, at the contact point.
type ControlListed struct {
	Team string `json:"team" check:"id"`
	// Name is the team's own; no make is asked for.
	Name string `json:"name" check:"required,max=LongestName" want:"the team's name for the control"`
	// Class is one of Classes.
	Class string `json:"class" check:"oneof=Classes"`
	// StartGF moves the chair at all, OperateGF gives full command (gf).
	StartGF   float64 `json:"start_gf" check:"0..MostForce" unit:"gf"`
	OperateGF float64 `json:"operate_gf" check:"0..MostForce" unit:"gf"`
	// TravelMM is the way to full command, LeverMM the length of the lever.
	TravelMM float64 `json:"travel_mm" check:"0..mostTravel" unit:"mm"`
	LeverMM  float64 `json:"lever_mm,omitempty" check:"0..500" unit:"mm"`
	// Sealing is the code of IEC 60529, such as "IP54"; empty is not sealed or
	// not known.
	Sealing string `json:"sealing,omitempty" check:"sealing,optional"`
	// PowerJack and ModeJack say whether switches can be plugged in.
	PowerJack bool   `json:"power_jack"`
	ModeJack  bool   `json:"mode_jack"`
	Connector string `json:"connector,omitempty" check:"max=LongestName"`
	// Attendant says that it is fit to be used by a helper.
	Attendant bool    `json:"attendant"`
	WeightG   float64 `json:"weight_g,omitempty" check:"0..20000" unit:"g"`
	// Mounts are some of MountKinds.
	Mounts []string `json:"mounts,omitempty" check:"oneof=MountKinds"`
	// Measured is the date of the figures, 2006-01-02; MeasuredBy says who
	// measured.
	Measured   string `json:"measured,omitempty" check:"date,optional"`
	MeasuredBy string `json:"measured_by,omitempty" check:"max=LongestName"`
	// Gone says that the control is no longer in the kit.
	Gone bool `json:"gone,omitempty"`
}

// Control is the fold of one control's events: what the team knows of it.
//
//codegen:write
type Control struct {
	ID string `json:"id"`
	Stamp
	ControlListed
}

// KitPacked takes the team's kit, as the tablet knows it, into the visit, so
// that verdicts do not change when the kit does. The last one counts.
type KitPacked struct {
	Controls []PackedControl `json:"controls" check:"max=200,each"`
}

// PackedControl is a control of the kit as it was packed.
type PackedControl struct {
	ID        string  `json:"id" check:"id"`
	Name      string  `json:"name" check:"required,max=LongestName" want:"the team's name for the control"`
	Class     string  `json:"class" check:"oneof=Classes"`
	StartGF   float64 `json:"start_gf" check:"0..MostForce" unit:"gf"`
	OperateGF float64 `json:"operate_gf" check:"0..MostForce" unit:"gf"`
	TravelMM  float64 `json:"travel_mm" check:"0..mostTravel" unit:"mm"`
	LeverMM   float64 `json:"lever_mm,omitempty" check:"0..500" unit:"mm"`
	Sealing   string  `json:"sealing,omitempty" check:"sealing,optional"`
	PowerJack bool    `json:"power_jack"`
	ModeJack  bool    `json:"mode_jack"`
	Attendant bool    `json:"attendant"`
}

func (c *ControlListed) checkTogether() *validation.Error {
	return checkForces(c.StartGF, c.OperateGF)
}

func (p *PackedControl) checkTogether() *validation.Error {
	return checkForces(p.StartGF, p.OperateGF)
}

// checkForces refuses a force that moves the chair at all above the force for
// full command, where that is known.
func checkForces(start, operate float64) *validation.Error {
	if operate > 0 && start > operate {
		return &validation.Error{Code: validation.CodeOutOfRange, Path: "start_gf",
			Want: "at most the force for full command, " + validation.Number(operate) + " gf", Got: validation.Number(start)}
	}
	return nil
}

func (k *KitPacked) checkTogether() *validation.Error {
	packed := make(map[string]bool, len(k.Controls))
	for i := range k.Controls {
		id := k.Controls[i].ID
		if packed[id] {
			return &validation.Error{Code: validation.CodeOutOfRange, Path: "controls[" + strconv.Itoa(i) + "].id", Want: "each control once", Got: validation.Quote(id) + " twice"}
		}
		packed[id] = true
	}
	return nil
}
