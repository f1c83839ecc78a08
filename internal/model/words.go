package model

import "slices"

// Sites returns the ids of the body sites that can work a control, most used
// first. A site that comes in pairs ends in "-left" or "-right"; what comes
// before the last hyphen is the part of the body.
func Sites() []string {
	return []string{
		"chin", "lip", "tongue", "head-back", "head-left", "head-right", "cheek-left", "cheek-right",
		"hand-left", "hand-right", "thumb-left", "thumb-right", "index-left", "index-right",
		"middle-left", "middle-right", "ring-left", "ring-right", "little-left", "little-right",
		"forearm-left", "forearm-right", "elbow-left", "elbow-right", "shoulder-left", "shoulder-right",
		"knee-left", "knee-right", "foot-left", "foot-right", "toe-left", "toe-right",
	}
}

// KnownSite reports whether a site is one of Sites.
func KnownSite(site string) bool { return slices.Contains(Sites(), site) }

// Classes returns the ids of the control classes, by kind and not by make.
func Classes() []string {
	return []string{
		"standard",      // a stick worked by the hand, about 250 gf
		"small",         // a small stick, about 50 gf
		"very-light",    // a stick for a finger or thumb, about 10 gf
		"force-sensing", // a stick that hardly moves
		"switched",      // one to four switches, also head pads
		"breath",        // worked by sipping and puffing
		"scanning",      // one switch and a moving choice
		"attendant",     // worked by a helper
		"non-contact",   // worked by head, tongue or eye without touch
	}
}

// Levels returns the readiness levels from the most careful to the widest.
func Levels() []string {
	return []string{"pause", "practise", "accompanied", "home-ground", "wider-ground"}
}

// NoLevel is the level of a visit in which too little is known to say one.
const NoLevel = "none"

// ResultLevels returns the levels that a result and a signature can have: none
// yet, and then Levels. Nobody decides for none.
func ResultLevels() []string {
	return []string{NoLevel, "pause", "practise", "accompanied", "home-ground", "wider-ground"}
}

// OverrideReasons returns the reasons that a therapist can give for deciding
// against the calculated level.
func OverrideReasons() []string {
	return []string{
		"known-driver",     // known driver with a long safe record
		"harder-trial",     // the trial was harder than real life
		"fluctuating",      // a condition that comes and goes
		"accepted-risk",    // the client accepts the risk and has capacity
		"waiting-for-part", // waiting for a part, safe meanwhile
		"other",
	}
}

// NoteFields returns the free texts that a visit can hold.
func NoteFields() []string {
	return []string{"present", "story", "goals", "consent", "stop-holder", "risks", "note"}
}

// ClientFields returns the keys that ClientChanged can name.
func ClientFields() []string {
	return []string{"ref", "name", "born", "referred", "priority", "course", "reason", "visiting"}
}

// Directions returns the directions of a control, relative to the chair.
func Directions() []string { return []string{"forward", "reverse", "left", "right"} }

// ForceUnits returns the units that a force can be given in.
func ForceUnits() []string { return []string{"gf", "N", "ozf", "lbf"} }

// Priorities returns how urgent a client can be.
func Priorities() []string { return []string{"urgent", "soon", "routine"} }

// Courses returns how a client's condition can change.
func Courses() []string { return []string{"stable", "slow", "fast", "fluctuating", "improving"} }

// StatusClosed is where a client stands whose work is done.
const StatusClosed = "closed"

// Statuses returns where a client can stand.
func Statuses() []string { return []string{"waiting", "active", "hold", StatusClosed} }

// States of an answer. Not tested is the default and counts as nothing good.
const (
	StateAnswered      = "answered"
	StateNotApplicable = "not-applicable"
	StateNotTested     = "not-tested"
)

// AnswerStates returns the states of an answer.
func AnswerStates() []string {
	return []string{StateAnswered, StateNotApplicable, StateNotTested}
}

// How an answer came about that was not given to its item by itself.
const (
	MethodAllFine     = "all-fine"      // "all of these are fine", for a part of the checklist
	MethodAsLastVisit = "as-last-visit" // the answer of the visit before, looked at and confirmed
)

// AnswerMethods returns the ways in which an answer can come about other than by
// being given to its item by itself.
func AnswerMethods() []string { return []string{MethodAllFine, MethodAsLastVisit} }

// AnswerLevels returns the levels of an answer to a help, fit or yes-no item.
func AnswerLevels() []string { return []string{"4", "3", "2", "1", "0", "yes", "no"} }

// What a reading measures.
const (
	ReadForce       = "force"        // usable force at a site in a direction; unit gf, N, ozf or lbf
	ReadTravel      = "travel"       // usable travel at a site in a direction; unit mm
	ReadHold        = "hold"         // how long forward was held; unit s
	ReadRelease     = "release"      // word "stop" to centre; unit s, or Missed
	ReadUnintended  = "unintended"   // unintended force at the site; a force unit
	ReadSwitchForce = "switch-force" // usable force at the switch site; a force unit
	ReadCommand     = "command"      // word to the command that was asked; unit s, or Missed
	ReadStopCommand = "stop-command" // word "stop" to the command that stops; unit s, or Missed
	ReadUnasked     = "unasked"      // commands that nobody asked, in ten minutes; unit per-10-min
	ReadSteps       = "steps"        // presses or scanning steps that a command takes; unit steps
	ReadBreath      = "breath"       // pressure that the breath reaches and holds; unit kPa
)

// ReadingKinds returns what a reading can measure.
func ReadingKinds() []string {
	return []string{ReadForce, ReadTravel, ReadHold, ReadRelease, ReadUnintended, ReadSwitchForce,
		ReadCommand, ReadStopCommand, ReadUnasked, ReadSteps, ReadBreath}
}

// How a control drives the chair.
const (
	DriveHeld      = "held"      // as long as it is held
	DriveMomentary = "momentary" // a short command moves a little, and no more
	DriveLatched   = "latched"   // it goes on until it is stopped
)

// DriveModes returns how a control can drive the chair.
func DriveModes() []string { return []string{DriveHeld, DriveMomentary, DriveLatched} }

// ReadingDirections returns the directions of a reading, relative to the chair.
func ReadingDirections() []string { return []string{"forward", "reverse", "left", "right", "press"} }

// States of a person in which something is measured or driven.
const (
	FatigueRested = "rested"
	FatigueTired  = "tired"
)

// FatigueStates returns the states in which something is measured.
func FatigueStates() []string { return []string{FatigueRested, FatigueTired} }

// RunPlaces returns where a stretch of the driving trial can be.
func RunPlaces() []string { return []string{"indoors", "outdoors", "rough"} }
