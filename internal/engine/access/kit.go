package access

import "doorsill/internal/engine/strength"

// Generic begins the id of a usual kind of control, as against one of the kit.
const Generic = "class:"

// NoSeal is the Seal of a control whose code is not known, or that has none.
const NoSeal = -1

// Control is one control that could be driven with.
type Control struct {
	// ID is the kit's, or Generic and a class.
	ID, Class string
	// StartGF, OperateGF, TravelMM and LeverMM are as in strength.Setup; 0 is
	// not known, or nothing asked.
	StartGF, OperateGF, TravelMM, LeverMM float64
	// Seal is the second digit of the IEC 60529 code, 0 to 9, or NoSeal.
	Seal int
	// PowerJack and ModeJack say whether a switch can be plugged in for it,
	// Attendant that a helper can drive with the control.
	PowerJack, ModeJack, Attendant bool
}

// Answer is yes or no once somebody was asked.
type Answer uint8

const (
	NotAsked Answer = iota
	No
	Yes
)

// Amount is a number that may not be given.
type Amount struct {
	Value float64
	Given bool
}

// Needs is how and where the person will drive, as far as it is known.
type Needs struct {
	RoughGround, HelperDrives, ReverseKey, Blocked Answer
	// HoursDriving is a day's; WristDeg is bent forward above 0; WaitWeeks is
	// until delivery.
	HoursDriving, CommandsPerMin, SecondsPerCommand, WristDeg, WaitWeeks Amount
	Task                                                                 Task
	// Base is stable, adjustable or moves; Course stable, slow, fast,
	// fluctuating or improving; WishControl the id of a Control. Empty is not
	// known.
	Base, Course, WishSite, WishControl string
}

// Task is another task of the hand that drives.
type Task struct {
	// Share is percent of strength; Hours are its own, not given while driving.
	Share, PerMinute, Seconds, WristDeg, Hours Amount
}

// Given reports whether anything is known of a task.
func (t *Task) Given() bool {
	return t.Share.Given || t.PerMinute.Given || t.Seconds.Given || t.WristDeg.Given || t.Hours.Given
}

// baseMoves is the base on which no verdict rests.
const baseMoves = "moves"

// Moist is how damp a site is: dry, damp or wet.
type Moist struct{ Site, How string }

// RuledOut is a site that is not to drive, with why in the therapist's words.
type RuledOut struct{ Site, Why string }

// usual reports whether a control is a kind, and not one that is at hand.
func (c *Control) usual() bool { return len(c.ID) > len(Generic) && c.ID[:len(Generic)] == Generic }

// proportional reports whether the control answers to how far it is moved.
func (c *Control) proportional() bool { return !strength.Forceless(c.Class) }

// is reports whether a set-up is about this control.
func (c *Control) is(s *strength.Setup) bool {
	return s != nil && c.Class == s.Class && c.OperateGF == s.OperateGF && c.TravelMM == s.TravelMM && (c.StartGF == s.StartGF || c.usual())
}

// kind is a usual kind of control. Whether one has jacks depends on the make.
func kind(c *strength.Class) Control {
	return Control{ID: Generic + c.ID, Class: c.ID, OperateGF: c.OperateGF, TravelMM: c.TravelMM, Seal: NoSeal, PowerJack: true, ModeJack: true}
}

// own is the chosen control: the one of the kit with the same quantities, or one
// of which no more is known than the set-up says.
func (in *Input) own() Control {
	s := in.Setup
	for i := range in.Kit {
		if in.Kit[i].is(s) {
			return in.Kit[i]
		}
	}
	return Control{Class: s.Class, StartGF: s.StartGF, OperateGF: s.OperateGF, TravelMM: s.TravelMM, Seal: NoSeal, PowerJack: true, ModeJack: true}
}
