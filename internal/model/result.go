package model

import (
	"doorsill/internal/decimal"
	"doorsill/internal/message"
)

// ResultFormat names the form of a Result. It changes when a field goes or means
// something else; a new field alone does not change it.
const ResultFormat = "doorsill-result/2"

// FirstResultFormat names the form before: lines of fields parted by TAB, with
// sentences in them. It is kept as evidence of what was signed.
const FirstResultFormat = "doorsill-result/1"

// Result is what a visit means: codes, ids and quantities, and no words. Its
// canonical form is JSON with the fields in this order, without spaces and
// without any Message.Text; that form is hashed, signed, stored and sent.
//
//codegen:write
type Result struct {
	// Format is ResultFormat; Engine, Catalogue and Rules name the engine's
	// version, the set of message codes, and the content hash of the checklist.
	Format    string `json:"format"`
	Engine    string `json:"engine"`
	Catalogue string `json:"catalogue"`
	Rules     string `json:"rules"`
	// Level is one of ResultLevels; Interim says that it rests on less than it should.
	Level   string          `json:"level"`
	Interim bool            `json:"interim,omitempty"`
	Message message.Message `json:"message"`
	// Headline says plainly why the level is not a higher one, and what would do;
	// Aloud is the same to the client.
	Headline message.Message `json:"headline,omitzero"`
	Aloud    message.Message `json:"aloud,omitzero"`
	// Gates are every condition of every level above Pause, in order; the first
	// unmet one of the next level is the gate that failed.
	Gates []Gate `json:"gates"`
	// Effects are the gravest first.
	Effects []RaisedEffect `json:"effects"`
	Domains []Domain       `json:"domains"`
	// Costs are the three dearest items of each domain.
	Costs []Cost `json:"costs"`
	// Items are in the order of the checklist.
	Items []ItemResult `json:"items"`
	// Quantities are what readings and runs come to.
	Quantities []Quantity `json:"quantities"`
	// Control is the verdict on the chosen control, Reasons what its rules say.
	Control Verdicts `json:"control"`
	Reasons []Reason `json:"reasons"`
	// Classes are the usual kinds of control at the chosen site.
	Classes []ClassVerdict `json:"classes"`
	// Choices are every control at every site where force was read; Left says
	// what remains when no stick fits anywhere.
	Choices []Choice `json:"choices"`
	Left    *Reason  `json:"left,omitempty"`
	// Windows are the verdicts rested and tired: both, or none where they are
	// the same.
	Windows []Window `json:"windows,omitempty"`
	// Loads are what driving asks of the strength: the chosen control in every
	// needed direction; first choice, fallback and wish in the weakest.
	Loads []Load `json:"loads,omitempty"`
	// Limits are what a usual day may ask, and strain.
	Limits []Quantity `json:"limits,omitempty"`
	// Ways are how far the chair goes before the hand lets go, at each speed as it
	// was last set at this visit.
	Ways []SpeedWay `json:"ways,omitempty"`
	// Exposure is there for a site on the head, where no strain index exists.
	Exposure *Exposure `json:"exposure,omitempty"`
	// Recheck is when to look again by this visit alone.
	Recheck  *Recheck  `json:"recheck,omitempty"`
	Passages []Passage `json:"passages,omitempty"`
	// Due are items that a change of a setting made due again.
	Due []Due `json:"due,omitempty"`
	// Provenance says what quantities rest on, once for each name.
	Provenance []Provenance `json:"provenance,omitempty"`
	// Up are the fewest changes that lead to the next level.
	Up       []Step            `json:"up,omitempty"`
	Missing  []Missing         `json:"missing,omitempty"`
	Override *Ruling           `json:"override,omitempty"`
	Notes    []message.Message `json:"notes"`
}

// Gate is one condition of a level.
type Gate struct {
	Level string `json:"level"`
	Met   bool   `json:"met"`
	// Code is the id of the condition; scores are "score-" and the section.
	Code    string          `json:"code"`
	Message message.Message `json:"message"`
}

// RaisedEffect is an effect that an answer raises.
type RaisedEffect struct {
	// Effect is stop, stop-control, stop-vehicle or limit: and a level.
	Effect string `json:"effect"`
	// Item is the item whose answer raises it; empty where a Place of the home does.
	Item    string          `json:"item"`
	Place   string          `json:"place,omitempty"`
	Message message.Message `json:"message"`
}

// Domain is one section's score.
type Domain struct {
	Code string `json:"code"`
	// Score is 0 to 100; it is left out below 80 % coverage. Low and High bound
	// it: what is not tested as nothing, and as the best answer.
	Score *int `json:"score,omitempty"`
	Low   int  `json:"low"`
	High  int  `json:"high"`
	// Coverage is answered weight over applicable weight in percent, rounded
	// down.
	Coverage   int             `json:"coverage"`
	Answered   int             `json:"answered"`
	Applicable int             `json:"applicable"`
	Message    message.Message `json:"message"`
}

// Cost is what one item takes off its section's score, in points of 100.
type Cost struct {
	Domain  string          `json:"domain"`
	Item    string          `json:"item"`
	Points  decimal.Micro   `json:"points"`
	Message message.Message `json:"message"`
}

// ItemResult is what stands for one item.
type ItemResult struct {
	ID string `json:"id"`
	// State is one of the states of an answer.
	State string `json:"state"`
	// Level is the chosen level of an item in levels; Band that of a number or
	// count, 1 being the best.
	Level string `json:"level,omitempty"`
	Band  int    `json:"band,omitempty"`
	// Points is the worth of the answer, 0 to 100; it is left out without one.
	Points *int `json:"points,omitempty"`
	// Shown is the value with its unit, rounded towards the worse side.
	Shown message.Message `json:"shown,omitzero"`
	// Computed answers come from readings and runs.
	Computed bool `json:"computed,omitempty"`
	// Choice says that several people's answers wait for a choice.
	Choice bool `json:"choice,omitempty"`
}

// Origins of a quantity.
const (
	OriginMeasured = "measured"
	OriginAssumed  = "assumed"
	OriginMissing  = "missing"
)

// Quantity is one computed number.
type Quantity struct {
	// Name is its id, such as "reserve"; Site and Direction say where.
	Name      string `json:"name"`
	Site      string `json:"site,omitempty"`
	Direction string `json:"direction,omitempty"`
	// Value is in Unit: gf, mm, s, %, ratio, count, or an id such as per-50-m; it is
	// left out when it is missing.
	Value *decimal.Micro `json:"value,omitempty"`
	Unit  string         `json:"unit,omitempty"`
	// Origin is one of the Origin constants.
	Origin string `json:"origin"`
	// Basis names the entry of Provenance that says what it rests on; without one
	// it was read off in this visit.
	Basis   string          `json:"basis,omitempty"`
	Message message.Message `json:"message,omitzero"`
}

// Verdicts on a control. Each is feasible, marginal, not-feasible, or unknown
// while something that it needs was not measured.
type Verdicts struct {
	Indoors  string          `json:"indoors"`
	Outdoors string          `json:"outdoors"`
	Message  message.Message `json:"message"`
}

// Reason is what one rule says of a control.
type Reason struct {
	Rule string `json:"rule"`
	// OutdoorsOnly rules do not count indoors.
	OutdoorsOnly bool            `json:"outdoors_only,omitempty"`
	Verdict      string          `json:"verdict"`
	Message      message.Message `json:"message"`
	// Change says what would change the verdict.
	Change message.Message `json:"change,omitzero"`
}

// ClassVerdict is how a usual kind of control would do at the chosen site.
type ClassVerdict struct {
	ID      string `json:"id"`
	Verdict string `json:"verdict"`
	// Reserve is the force reserve, rounded down to two decimals.
	Reserve *decimal.Micro  `json:"reserve,omitempty"`
	Message message.Message `json:"message"`
}

// Choice is the verdict on one control at one site.
type Choice struct {
	// Control is an id in the kit, or "class:" and a usual kind; Subject names it
	// with its site.
	Control  string          `json:"control"`
	Site     string          `json:"site"`
	Subject  message.Message `json:"subject,omitzero"`
	Indoors  string          `json:"indoors"`
	Outdoors string          `json:"outdoors"`
	// Rank is the place in the order of choice from 1; Role is main or fallback.
	Rank int    `json:"rank,omitempty"`
	Role string `json:"role,omitempty"`
	// Reserve is the force reserve, rounded down to two decimals.
	Reserve *decimal.Micro `json:"reserve,omitempty"`
	// Messages are read one after the other: the verdict, what keeps the control
	// from being used, and its place in the order of choice.
	Messages []message.Message `json:"messages"`
	// Reasons are the worst first. Rules that are content are there for main,
	// fallback and what the client wishes, and force for all.
	Reasons []Reason `json:"reasons"`
}

// Window is the verdict indoors on the chosen control in one state, and the
// level.
type Window struct {
	// State is rested or tired.
	State   string          `json:"state"`
	Verdict string          `json:"verdict"`
	Message message.Message `json:"message"`
	// Level is the one that the visit comes to in this state, one of Levels.
	Level        string          `json:"level,omitempty"`
	LevelMessage message.Message `json:"level_message,omitzero"`
}

// Load is how much of the strength in a direction a control asks.
type Load struct {
	// Control is "setup" for the chosen one as it is set, else as in Choice; Subject
	// names it with its site.
	Control   string          `json:"control"`
	Site      string          `json:"site"`
	Subject   message.Message `json:"subject,omitzero"`
	Direction string          `json:"direction"`
	// Share is in Unit, percent of the strength there; it is left out when no force
	// was measured. Basis is as in Quantity.
	Share   *decimal.Micro  `json:"share,omitempty"`
	Unit    string          `json:"unit,omitempty"`
	Basis   string          `json:"basis,omitempty"`
	Message message.Message `json:"message"`
	// Holding is how long the chosen control can be held there.
	Holding []Quantity `json:"holding,omitempty"`
}

// SpeedWay is how far the chair goes before the hand lets go.
type SpeedWay struct {
	// Setting is the entry that set the speed, Key and Profile what was set.
	Setting Ref    `json:"setting"`
	Key     string `json:"key"`
	Profile string `json:"profile,omitempty"`
	// Metres is left out without a speed in km/h or a timed release. Basis is as in
	// Quantity.
	Metres  *decimal.Micro  `json:"metres,omitempty"`
	Basis   string          `json:"basis,omitempty"`
	Message message.Message `json:"message"`
}

// Exposure is the card of a driver by chin or head.
type Exposure struct {
	Site    string          `json:"site"`
	Message message.Message `json:"message"`
}

// Recheck is when to look again.
type Recheck struct {
	Weeks   int             `json:"weeks"`
	Message message.Message `json:"message"`
}

// Verdicts on a passage.
const (
	PassageFits       = "fits"
	PassageTight      = "tight"
	PassageDoesNotFit = "does-not-fit"
	PassageUnknown    = "unknown"
)

// Passage is whether the chair gets through one place.
type Passage struct {
	Place string `json:"place"`
	// Name is the household's name for it, LeadsTo what is reached through it.
	Name    string `json:"name,omitempty"`
	LeadsTo string `json:"leads_to,omitempty"`
	// NotNeeded says that the person can live without it; then it limits nothing.
	NotNeeded bool `json:"not_needed,omitempty"`
	// Barred says that a limit of the chair or a plate is passed: nobody drives
	// here, also not accompanied.
	Barred  bool   `json:"barred,omitempty"`
	Verdict string `json:"verdict"`
	// LeftMM is what is left at the tightest point by any motion, below 0 what is
	// missing, rounded down; it is left out where only small moves are left to try.
	LeftMM *decimal.Micro `json:"left_mm,omitempty"`
	// Basis is as in Quantity.
	Basis   string          `json:"basis,omitempty"`
	Message message.Message `json:"message"`
	// Assumes is what the formula takes for granted; Reference names figures of
	// a building standard with their sections.
	Assumes   message.Message `json:"assumes,omitzero"`
	Reference message.Message `json:"reference,omitzero"`
}

// Due is an item that must be shown again.
type Due struct {
	Item    string          `json:"item"`
	Message message.Message `json:"message"`
}

// Provenance is what a quantity rests on.
type Provenance struct {
	// Quantity is its name, without state, direction and switch at the end.
	Quantity string `json:"quantity"`
	// Formula is the sum with units, Source the public source.
	Formula message.Message `json:"formula"`
	Source  message.Message `json:"source"`
	// Status is published, derived (here, and checked by search), practice (of the
	// trade, without a source), from-memory, or proposal (not validated).
	Status string `json:"status"`
	// Borrowed says that the numbers in the formula were found on another part of
	// the body.
	Borrowed bool `json:"borrowed,omitempty"`
}

// Step is one change on the way to the next level.
type Step struct {
	Level   string          `json:"level"`
	Item    string          `json:"item,omitempty"`
	Message message.Message `json:"message"`
}

// Missing is one thing that was not answered or measured.
type Missing struct {
	// Group is first, stop, needed or useful.
	Group string `json:"group"`
	// Item is the item to answer; without it Reading says what to measure.
	Item    string          `json:"item,omitempty"`
	Reading *WantedReading  `json:"reading,omitempty"`
	Message message.Message `json:"message"`
}

// WantedReading is something to measure or note: What is force, setup, run,
// consent, stop-holder, home, mount, settings or plan.
type WantedReading struct {
	What      string `json:"what"`
	Site      string `json:"site,omitempty"`
	Direction string `json:"direction,omitempty"`
}

// Ruling says whether a therapist's decision stands.
type Ruling struct {
	Accepted bool            `json:"accepted"`
	Level    string          `json:"level"`
	Message  message.Message `json:"message"`
}
