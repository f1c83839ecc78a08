// Package rules is the part of a checklist that the engine computes with: no
// wording beyond what a result must name, and no JSON, so that it can go into
// the browser. The checklist package compiles a definition to a Set; Encode
// and Parse carry it as text.
package rules

// Types of item.
const (
	Help   = "help"   // levels 4 to 0: how much help was needed
	Fit    = "fit"    // levels 3 to 0 in the item's own words
	YesNo  = "yes-no" // yes or no
	Number = "number" // a number with a unit, judged by bands
	Count  = "count"  // a tally, judged by bands
)

// Effects that an answer can raise.
const (
	Stop             = "stop"              // no driving with any control
	StopControl      = "stop-control"      // this control at this site may not be used
	StopVehicle      = "stop-vehicle"      // may not travel seated in a vehicle
	LimitPractise    = "limit:practise"    // level not above Practise
	LimitAccompanied = "limit:accompanied" // level not above Accompanied
	LimitHomeGround  = "limit:home-ground" // level not above Home ground
)

// Sources of an item that is computed from readings, runs and the set-up and
// never typed.
const (
	FromForceReserve  = "force-reserve"
	FromTravelReserve = "travel-reserve"
	FromSpread        = "spread"
	FromTiredRatio    = "tired-ratio"
	FromHold          = "hold"
	FromRelease       = "release"
	FromNoise         = "noise"
	FromSwitchReserve = "switch-reserve"
	FromPresses       = "presses-per-10-min"
	FromContacts      = "contacts-per-50-m"
	FromPrompts       = "prompts-per-10-min"
	FromRescues       = "rescues"
	FromRough         = "unmeant-per-20-m"
)

// Facts that a condition can ask for. The first group is asked beside the
// item; an unanswered one counts as true (the cautious side). The second group
// is derived by the engine.
const (
	FactNoCarerPlan     = "no-carer-plan"
	FactOnlyStop        = "only-stop"
	FactMountBeforeFace = "mount-before-face"
	FactRampOverLimit   = "ramp-over-limit"
	FactHeadBorne       = "head-borne"     // site is chin, lip, tongue, cheek or head
	FactLightControl    = "light-control"  // the chosen control needs 15 gf or less
	FactReleaseMissed   = "release-missed" // any release that did not come
	FactPersonContact   = "person-contact" // any contact with a person in a run
	FactUnequalSides    = "unequal-sides"  // left and right differ by 2 or more
)

// Set is one checklist version as the engine sees it.
type Set struct {
	// Hash is the content hash of the definition that the set was made from.
	Hash     string
	Sections []Section
}

// Section is one domain.
type Section struct {
	Code, Title string
	Items       []Item
}

// Item is one question.
type Item struct {
	ID     string
	Type   string
	Title  string // short name used in sentences
	Weight int    // 1 to 3
	NA     bool   // not applicable is allowed
	Needed bool   // the funding letter needs the answer
	Unit   string
	// From is the source of a computed item, or empty.
	From string
	// Better is "high" or "low" for number and count items.
	Better string
	// Decimals is how many places a value is shown with, 0 to 3.
	Decimals int
	// Bounds run from best to worst, one fewer than there are bands. With
	// Better "high" a value at or above the bound is in the band, with "low"
	// at or below. A value between two printed bands thus falls in the worse.
	Bounds []float64
	// Sides is true for a count that is asked for left and right.
	Sides bool
	// Of is the most that a count can be, or 0 when open.
	Of      int
	Effects []Effect
}

// Effect is raised when any of its conditions holds.
type Effect struct {
	Effect string
	When   []Condition
}

// Condition holds when the answer is one of Levels or in one of Bands (1 is
// the best band), where given, and every fact is true.
type Condition struct {
	Levels []string
	Bands  []int
	Facts  []string
}
