package strength

// What a reading measures.
type What uint8

const (
	UnknownWhat What = iota
	Force            // usable force, gf
	Travel           // usable travel, mm
	Hold             // how long forward was held, s
	Release          // word "stop" to the control back in the middle, s
	Unintended       // force that was not meant, gf
	SwitchForce      // usable force at a switch site, gf; for both switches
	PowerForce       // the same for the power switch
	ModeForce        // the same for the mode switch
	StopForce        // the same for the driver's own stop switch
	Command          // word to the command that was asked, s
	StopCommand      // word "stop" to the command that stops, s
	Unasked          // commands that nobody asked, in 10 min
	Steps            // presses or scanning steps that a command takes
	Breath           // pressure that the breath reaches and holds, kPa
)

// Switches of the driver: an index of what is kept for each.
const (
	BothSwitches = iota // what is not said to be of one of them
	PowerSwitch
	ModeSwitch
	StopSwitch // never read off the others: a stop is only what was tried as one
	switches
)

// WhatOf returns what the id of a record stands for, or UnknownWhat.
func WhatOf(id string) What {
	switch id {
	case "force":
		return Force
	case "travel":
		return Travel
	case "hold":
		return Hold
	case "release":
		return Release
	case "unintended":
		return Unintended
	case "switch-force":
		return SwitchForce
	case "switch-power":
		return PowerForce
	case "switch-mode":
		return ModeForce
	case "switch-stop":
		return StopForce
	case "command":
		return Command
	case "stop-command":
		return StopCommand
	case "unasked":
		return Unasked
	case "steps":
		return Steps
	case "breath":
		return Breath
	}
	return UnknownWhat
}

// IsForce reports whether the reading is a force and has a force unit.
func (w What) IsForce() bool { return w == Force || w >= Unintended && w <= StopForce }

// Direction of a command, relative to the chair.
type Direction uint8

const (
	NoDirection Direction = iota
	Forward
	Reverse
	Left
	Right
	Press
	directions = iota
)

// DirectionOf returns the direction of an id, NoDirection for "", and false
// for anything else.
func DirectionOf(id string) (Direction, bool) {
	for d := NoDirection; d < directions; d++ {
		if d.String() == id {
			return d, true
		}
	}
	return NoDirection, false
}

// directionIDs is read only.
var directionIDs = [directions]string{"", "forward", "reverse", "left", "right", "press"}

// String returns the id of the direction, "" for NoDirection.
func (d Direction) String() string { return directionIDs[d] }

// Reading is one measurement that was not set aside as a slip.
type Reading struct {
	What      What
	Site      string
	Direction Direction
	// Tired says that the person had been made tired first.
	Tired bool
	// Supported says that the limb or head was held up.
	Supported bool
	// Missed marks a release that did not come; Value is then meaningless.
	Missed bool
	// Value is in gf, mm or s, not negative.
	Value float64
	// Class and Control are those of the control that was held, let go of or
	// pushed without meaning to; an empty class is one that nobody named.
	Class, Control string
}

// Setup is the chosen control and how it is set.
type Setup struct {
	// Class and Site are ids, Control is the team's name for it.
	Class, Site, Control string
	// Borrow: as long as nothing was found with this very control, what was
	// found with others at the site stands in.
	Borrow bool
	// StartGF moves the chair at all, OperateGF gives full command, TravelMM
	// is the way to full command.
	StartGF, OperateGF, TravelMM float64
	// Mode is how the control drives the chair: held, momentary or latched; empty
	// was not asked. SeparateStop is a stop of the driver beside the control.
	Mode         string
	SeparateStop bool
	// BreathKPa is the pressure that a breath control asks for, in kPa, or 0.
	BreathKPa float64
	// Throw is the percent of the travel that gives full command, by
	// direction; 20 to 100.
	Throw [directions]float64
	// Needed are the directions that the driver must be able to give.
	Needed []Direction
	// SwitchPressGF is the force that the driver's switch asks for, or 0, and
	// OwnPressGF that of one switch, which goes before it.
	SwitchPressGF float64
	OwnPressGF    [switches]float64
}

// PressGF is the force that a switch asks for, or 0 when there is none.
func (s *Setup) PressGF(at int) float64 {
	if s.OwnPressGF[at] > 0 || at == StopSwitch {
		return s.OwnPressGF[at]
	}
	return s.SwitchPressGF
}
