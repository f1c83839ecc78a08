package record

import "encoding/json"

// ClientOpened starts a client's record in a team.
type ClientOpened struct {
	Team string `json:"team"`
	// Ref is the service's own number for the client.
	Ref  string `json:"ref"`
	Name string `json:"name"`
	// Born, Referred are dates, 2006-01-02.
	Born     string `json:"born,omitempty"`
	Referred string `json:"referred"`
	// Priority is "urgent", "soon" or "routine".
	Priority string `json:"priority"`
	// Course is "stable", "slow", "fast", "fluctuating" or "improving".
	Course string `json:"course"`
	// Reason is why the client was referred, in the referrer's words.
	Reason string `json:"reason,omitempty"`
	// Visiting is what the visitor must know: parking, pets, who is there.
	Visiting string `json:"visiting,omitempty"`
}

// ClientChanged replaces the fields it names; others stay. Keys are the JSON
// names of ClientOpened except "team".
type ClientChanged struct {
	Fields map[string]string `json:"fields"`
}

// ClientAssigned sets who is responsible and where the client stands. Only the
// server writes it, after a compare-and-set on Version.
type ClientAssigned struct {
	// Assignee is a person id, or empty for nobody yet.
	Assignee string `json:"assignee"`
	// Status is "waiting", "active", "hold" or "closed".
	Status  string `json:"status"`
	Version int64  `json:"version"`
	// By is the person who asked for it.
	By string `json:"by"`
}

// VisitStarted opens a visit and pins it to one checklist.
type VisitStarted struct {
	Client    string       `json:"client"`
	Team      string       `json:"team"`
	Checklist ChecklistRef `json:"checklist"`
	// Unit is the force unit that the visit's gauge shows: gf, N, ozf or lbf.
	Unit string `json:"unit"`
	// SecondOf is the visit of the same trial by another therapist. The two are
	// rated apart: see Visit.SecondOf.
	SecondOf string `json:"second_of,omitempty"`
}

// ChecklistRef names one checklist version and its content hash.
type ChecklistRef struct {
	ID      string `json:"id"`
	Version string `json:"version"`
	Hash    string `json:"hash"`
}

// VisitNoted replaces the free texts of a visit that it names.
type VisitNoted struct {
	// Fields may hold "present", "story", "goals", "consent", "stop-holder",
	// "risks" and "note".
	Fields map[string]string `json:"fields"`
}

// States of an answer. Not tested is the default and counts as nothing good.
const (
	StateAnswered      = "answered"
	StateNotApplicable = "not-applicable"
	StateNotTested     = "not-tested"
)

// AnswerGiven answers one item, or takes the answer back to not tested.
type AnswerGiven struct {
	Item string `json:"item"`
	// State is answered, not-applicable or not-tested.
	State string `json:"state"`
	// Level is the answer to a help (4 to 0), fit (3 to 0) or yes-no item.
	Level string `json:"level,omitempty"`
	// Number is the answer to a number or count item, in the item's unit.
	Number *float64 `json:"number,omitempty"`
	// Left and Right answer a count item that is asked for each side.
	Left  *float64 `json:"left,omitempty"`
	Right *float64 `json:"right,omitempty"`
	// Facts answers the item's side questions by fact id.
	Facts map[string]bool `json:"facts,omitempty"`
	// Reason says why the item does not apply.
	Reason string `json:"reason,omitempty"`
	Note   string `json:"note,omitempty"`
}

// AnswerChosen settles an item that two people answered without seeing each
// other: Keep stands, every Drop yields.
type AnswerChosen struct {
	Item string `json:"item"`
	Keep Ref    `json:"keep"`
	Drop []Ref  `json:"drop"`
}

// What a reading measures.
const (
	ReadForce       = "force"        // usable force at a site in a direction; unit gf, N, ozf or lbf
	ReadTravel      = "travel"       // usable travel at a site in a direction; unit mm
	ReadHold        = "hold"         // how long forward was held; unit s
	ReadRelease     = "release"      // word "stop" to centre; unit s, or Missed
	ReadUnintended  = "unintended"   // unintended force at the site; a force unit
	ReadSwitchForce = "switch-force" // usable force at the switch site; a force unit
)

// ReadingTaken is one measurement. Readings add up; they never replace one
// another.
type ReadingTaken struct {
	What string `json:"what"`
	// Site is a body site with its side, such as "chin" or "index-right".
	Site string `json:"site"`
	// Direction is forward, reverse, left, right or press, relative to the
	// chair; empty where it has no meaning.
	Direction string `json:"direction,omitempty"`
	// State is "rested" or "tired".
	State string `json:"state"`
	// Switch is "power" or "mode" when a switch force is that of one switch;
	// empty counts for both.
	Switch string `json:"switch,omitempty"`
	// Supported says whether the limb or head was held up.
	Supported bool    `json:"supported"`
	Value     float64 `json:"value"`
	Unit      string  `json:"unit"`
	// Missed marks a release that did not come; Value is then 0.
	Missed bool   `json:"missed,omitempty"`
	Note   string `json:"note,omitempty"`
}

// ReadingMarked sets a reading aside as a slip, or takes it back in. The
// reading itself stays in the log.
type ReadingMarked struct {
	Reading Ref  `json:"reading"`
	Slip    bool `json:"slip"`
	// Reason is required when Slip is true.
	Reason string `json:"reason,omitempty"`
}

// RunTimed is one stretch of the driving trial with its tallies.
type RunTimed struct {
	Route string `json:"route,omitempty"`
	// Place is "indoors", "outdoors" or "rough".
	Place string `json:"place"`
	// State is "rested" or "tired".
	State   string  `json:"state"`
	Seconds float64 `json:"seconds"`
	Metres  float64 `json:"metres"`
	// Things and People are contacts; Prompts are spoken or gestured; Rescues
	// are take-overs and uses of the stop; Unmeant are commands that the
	// driver did not mean; Presses are switch presses that were not meant.
	Things  int    `json:"things"`
	People  int    `json:"people"`
	Prompts int    `json:"prompts"`
	Rescues int    `json:"rescues"`
	Unmeant int    `json:"unmeant"`
	Presses int    `json:"presses"`
	Note    string `json:"note,omitempty"`
}

// RunMarked sets a run aside as saved by mistake, or takes it back in. The run
// itself stays in the log.
type RunMarked struct {
	Run  Ref  `json:"run"`
	Slip bool `json:"slip"`
	// Reason is required when Slip is true.
	Reason string `json:"reason,omitempty"`
}

// SetupChosen names the control, site and place that the visit's level is for.
// The last one counts.
type SetupChosen struct {
	// Class is a control class id: see Classes.
	Class string `json:"class"`
	// Control is the team's own name for it.
	Control string `json:"control,omitempty"`
	Site    string `json:"site"`
	// StartGF moves the chair at all, OperateGF gives full command, TravelMM
	// is the way to full command, in gram-force and millimetres.
	StartGF   float64 `json:"start_gf"`
	OperateGF float64 `json:"operate_gf"`
	TravelMM  float64 `json:"travel_mm"`
	// Throw is the part of the travel that gives full command, in percent by
	// direction (20 to 100); a missing direction is 100.
	Throw map[string]float64 `json:"throw,omitempty"`
	// Needed are the directions that the driver must be able to give.
	Needed []string `json:"needed"`
	// SwitchPressGF is the force that the driver's switch asks for; 0 when
	// there is none. It counts for the power and for the mode switch, but for
	// the one that has a force of its own.
	SwitchPressGF float64 `json:"switch_press_gf,omitempty"`
	// PowerPressGF and ModePressGF are the forces that a switch for power and
	// one for modes ask for; 0 is none of its own.
	PowerPressGF float64 `json:"power_press_gf,omitempty"`
	ModePressGF  float64 `json:"mode_press_gf,omitempty"`
	// Place and Window say where and when, in words.
	Place  string `json:"place,omitempty"`
	Window string `json:"window,omitempty"`
}

// PlanAgreed is what happens next.
type PlanAgreed struct {
	// Recheck is a date, 2006-01-02.
	Recheck string `json:"recheck,omitempty"`
	Note    string `json:"note,omitempty"`
}

// OverrideMade is a therapist's decision against the calculated level.
type OverrideMade struct {
	Level string `json:"level"`
	// Reason is one of OverrideReasons; Text explains it.
	Reason     string `json:"reason"`
	Text       string `json:"text"`
	Mitigation string `json:"mitigation,omitempty"`
	Agreed     string `json:"agreed,omitempty"`
	// From and Until are dates, 2006-01-02.
	From  string `json:"from"`
	Until string `json:"until,omitempty"`
}

// VisitSigned closes a visit. Level and Result are what the tablet showed.
type VisitSigned struct {
	Level string `json:"level"`
	// Result is the SHA-256 in hex of the result text shown when signing.
	Result string `json:"result"`
	// Name is the signer's name and credential as they want it on paper.
	Name string `json:"name"`
}

// AmendmentMade changes a signed visit: the same kinds as before, with a reason.
type AmendmentMade struct {
	Reason string          `json:"reason"`
	Kind   string          `json:"kind"`
	Change json.RawMessage `json:"change"`
}
