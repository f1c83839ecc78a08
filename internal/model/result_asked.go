package model

import (
	"doorsill/internal/decimal"
	"doorsill/internal/message"
)

// What screens ask of the engine besides a result, and what it answers.

// Plausibility judges a value as it is typed.
//
//codegen:write
type Plausibility struct {
	// Verdict is ok, ask (possible but unusual) or refuse (cannot be stored).
	Verdict string          `json:"verdict"`
	Message message.Message `json:"message,omitzero"`
	// Suggestion is what may have been meant.
	Suggestion     *decimal.Micro `json:"suggestion,omitempty"`
	SuggestionUnit string         `json:"suggestion_unit,omitempty"`
}

// Series are repeated readings of one thing, direction and state, in Unit.
//
//codegen:read
type Series struct {
	What   string    `json:"what"`
	Unit   string    `json:"unit"`
	Values []float64 `json:"values"`
}

// SeriesSummary is what a series comes to while it is being taken.
//
//codegen:write
type SeriesSummary struct {
	Count int `json:"count"`
	// Value is the one that counts, in the series' unit: the mean, of unintended
	// force the largest.
	Value *decimal.Micro `json:"value,omitempty"`
	// Low and High are the smallest and the largest reading; Spread, what is between
	// them, is in percent of the mean.
	Low    *decimal.Micro `json:"low,omitempty"`
	High   *decimal.Micro `json:"high,omitempty"`
	Spread *decimal.Micro `json:"spread,omitempty"`
	// Wanted is how many more are wanted; More is how many are asked for after a
	// rest, because enough readings lie far apart.
	Wanted int `json:"wanted"`
	More   int `json:"more,omitempty"`
	// Apart says of readings that lie far apart, be they enough or not, which and
	// what to do.
	Apart message.Message `json:"apart,omitzero"`
	// Odd are the places, from 0, of readings far from the middle one.
	Odd     []int           `json:"odd,omitempty"`
	Message message.Message `json:"message"`
}

// Rose is what was measured at one site in every direction, or at every switch,
// beside what the chosen control asks there: the figures of a drawing, each as it
// is to be shown. What a person can give is rounded down, what is asked up.
//
//codegen:write
type Rose struct {
	// Unit is that of all figures.
	Unit string    `json:"unit"`
	Arms []RoseArm `json:"arms"`
}

// RoseArm is one direction or switch.
type RoseArm struct {
	// ID is one of ReadingDirections, or of SwitchPurposes, or "both" switches.
	ID string `json:"id"`
	// Needed says that the chosen control needs it.
	Needed bool `json:"needed,omitempty"`
	// Asked is what the chosen control asks, Plenty the same times the least
	// reserve that is workable; they are left out where nothing is asked.
	Asked  *decimal.Micro `json:"asked,omitempty"`
	Plenty *decimal.Micro `json:"plenty,omitempty"`
	Rested *RoseSeries    `json:"rested,omitempty"`
	Tired  *RoseSeries    `json:"tired,omitempty"`
	// Usable is what can be planned on; Assumed says that it is a share of the
	// rested figure, as nothing was measured tired.
	Usable  *decimal.Micro `json:"usable,omitempty"`
	Assumed bool           `json:"assumed,omitempty"`
	// Short and Tight say that Usable is less than the least reserve that may be
	// used, or than one that is workable. Message compares it with what is asked.
	Short   bool            `json:"short,omitempty"`
	Tight   bool            `json:"tight,omitempty"`
	Message message.Message `json:"message,omitzero"`
}

// RoseSeries is what the readings of one state come to.
type RoseSeries struct {
	Count int           `json:"count"`
	Value decimal.Micro `json:"value"`
	// Low and High are the smallest and the largest reading.
	Low  decimal.Micro `json:"low"`
	High decimal.Micro `json:"high"`
	// Apart says that they lie far apart.
	Apart bool `json:"apart,omitempty"`
}

// Advised is one setting to try for an observed problem.
type Advised struct {
	Key string `json:"key"`
	// Way is up, down or set; Step is how much at a time.
	Way     string          `json:"way"`
	Step    message.Message `json:"step"`
	Message message.Message `json:"message"`
	// Retests are items that become due again.
	Retests []string `json:"retests,omitempty"`
}

// Advice is what to try for a problem, the likeliest first.
//
//codegen:write
type Advice struct {
	// Rests is what the advice rests on.
	Rests   message.Message `json:"rests"`
	Changes []Advised       `json:"changes"`
}

// Point is a place on a plan in millimetres, x to the right and y up.
type Point struct {
	X decimal.Micro `json:"x"`
	Y decimal.Micro `json:"y"`
}

// Pose is the chair at one place of its way.
type Pose struct {
	// At is the middle of the drive axle; Heading is in degrees against the
	// clock from x.
	At      Point         `json:"at"`
	Heading decimal.Micro `json:"heading"`
	// Outline are the chair's corners.
	Outline []Point `json:"outline"`
}

// Wall is an edge of a wall.
type Wall struct {
	From Point `json:"from"`
	To   Point `json:"to"`
}

// Span is where a measure of a place is taken, from wall to wall.
type Span struct {
	// Of is the field of the place, such as "width_mm".
	Of   string `json:"of"`
	From Point  `json:"from"`
	To   Point  `json:"to"`
}

// Tightest is the tightest point on the chair with the millimetres left there.
type Tightest struct {
	At     Point         `json:"at"`
	RoomMM decimal.Micro `json:"room_mm"`
}

// PlanDrawing draws a place with the chair in it. Without a plan only Message is set.
//
//codegen:write
type PlanDrawing struct {
	Walls []Wall `json:"walls,omitempty"`
	// Spans are where the measures of the place are taken, in the order of its fields.
	Spans    []Span          `json:"spans,omitempty"`
	Poses    []Pose          `json:"poses,omitempty"`
	Tightest *Tightest       `json:"tightest,omitempty"`
	Message  message.Message `json:"message"`
}

// Threshold is one number that results depend on.
//
//codegen:write
type Threshold struct {
	ID string `json:"id"`
	// Value is the exact decimal: units of force keep all their digits.
	Value string `json:"value"`
	// Unit is left out for a plain ratio or count.
	Unit message.Message `json:"unit,omitzero"`
	// Source says where the number comes from, Status how well it is founded: its
	// argument "status" is as in Provenance.
	Source message.Message `json:"source"`
	Status message.Message `json:"status"`
}
