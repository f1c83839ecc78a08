package model

import (
	"doorsill/internal/decimal"
	"doorsill/internal/message"
)

// TrendQuestion asks what changed over visits and when a control may become too
// heavy. Days count from 1 January 1970, to 1,000,000.
//
//codegen:read
type TrendQuestion struct {
	// Course is one of Courses; with another word there is no forecast.
	Course string `json:"course"`
	// WaitWeeks is until the control comes, 0 to 260; JudgedLoss is the therapist's
	// own figure for the loss of force in gf a week, above 0; nil when not known.
	WaitWeeks  *int     `json:"wait_weeks,omitempty"`
	JudgedLoss *float64 `json:"judged_loss,omitempty"`
	// NeededGF is the force to full command of the present control, to 10,000; 0
	// when none is chosen.
	NeededGF float64 `json:"needed_gf,omitempty"`
	// RecheckDay and RecheckWeeks are the day of the last visit and the weeks of
	// its recheck, to 260; the weeks are 0 when it has none.
	RecheckDay   int          `json:"recheck_day,omitempty"`
	RecheckWeeks int          `json:"recheck_weeks,omitempty"`
	Points       []TrendPoint `json:"points"`
}

// TrendPoint is one number found at one visit. Points are by day, and those of one
// day have the conditions of the first.
type TrendPoint struct {
	Day int `json:"day"`
	// Quantity is force-rested or force-tired (gf, weakest needed direction), the
	// same with a hyphen and a needed direction, which the forecast rests on where
	// there are any, travel (mm), release (s), domain- and a section (points), or
	// help- and an item (level).
	Quantity string `json:"quantity"`
	// Value is 0 to 100 points, of all else 0 to 10,000.
	Value float64 `json:"value"`
	// Coverage is 0 to 100 percent, of domains alone.
	Coverage   int             `json:"coverage,omitempty"`
	Conditions TrendConditions `json:"conditions"`
}

// TrendConditions are what must be the same for two numbers to be compared; an
// empty word is not known and differs from none.
type TrendConditions struct {
	Support   string `json:"support,omitempty"`
	Site      string `json:"site,omitempty"`
	Control   string `json:"control,omitempty"`
	Settings  string `json:"settings,omitempty"`
	TimeOfDay string `json:"time_of_day,omitempty"`
	Rater     string `json:"rater,omitempty"`
	Checklist string `json:"checklist,omitempty"`
}

// Trend answers a TrendQuestion.
//
//codegen:write
type Trend struct {
	Conditions []DifferentConditions `json:"conditions,omitempty"`
	// Changes are each visit with the one before, and the last with the first;
	// what cannot be compared is left out.
	Changes []Change      `json:"changes,omitempty"`
	Usable  []UsableForce `json:"usable,omitempty"`
	Line    *TrendLine    `json:"line,omitempty"`
	// Reaches are when reserves 3 and 2 are reached.
	Reaches []Reach `json:"reaches,omitempty"`
	// Band is how the usable force may go on, from the first visit on where the
	// line rests on own data.
	Band []BandPoint `json:"band,omitempty"`
	// Chances are how likely reserves 3 and 2 are still there when the control
	// comes; none where no wait was named or nothing measured says so.
	Chances []ReserveChance `json:"chances,omitempty"`
	// Message says what follows, or why there is no forecast; Advice and Notes go
	// with it.
	Message message.Message   `json:"message,omitzero"`
	Advice  []message.Message `json:"advice,omitzero"`
	Notes   []message.Message `json:"notes,omitzero"`
	Recheck *TrendRecheck     `json:"recheck,omitempty"`
	// Provenance is what the slope and the reserve rest on.
	Provenance []Provenance `json:"provenance,omitempty"`
}

// DifferentConditions names what was not the same at two visits.
type DifferentConditions struct {
	From int `json:"from"`
	To   int `json:"to"`
	// Names are of support, site, control, settings, time-of-day, rater and
	// checklist, in this order.
	Names   []string        `json:"names"`
	Message message.Message `json:"message"`
}

// Change is how one number moved between two visits.
type Change struct {
	// Quantity is as in TrendPoint, or "help" for all levels of help together.
	Quantity string `json:"quantity"`
	From     int    `json:"from"`
	To       int    `json:"to"`
	// Direction is up, down, mixed or same.
	Direction string          `json:"direction"`
	Message   message.Message `json:"message"`
}

// UsableForce is the force that counts on a day, gf.
type UsableForce struct {
	Day   int           `json:"day"`
	Force decimal.Micro `json:"force"`
}

// TrendLine is the line that a forecast rests on.
type TrendLine struct {
	// Source is own-data, judged or none; without a line there are no numbers.
	Source string `json:"source"`
	// Direction is the one whose line is the weakest at the last visit; empty
	// where only the weakest of each visit is known. Slope is its change in gf a
	// week.
	Direction string         `json:"direction,omitempty"`
	Slope     *decimal.Micro `json:"slope,omitempty"`
	// Scatter is how far readings lie from their lines, in percent of the force;
	// it was assumed where few visits cannot show it.
	Scatter        *decimal.Micro `json:"scatter,omitempty"`
	ScatterAssumed bool           `json:"scatter_assumed,omitempty"`
}

// BandPoint is the usable force on a day by the line, gf, with bounds of which
// each by itself holds with 95 % where they rest on own data.
type BandPoint struct {
	Day    int           `json:"day"`
	Low    decimal.Micro `json:"low"`
	Middle decimal.Micro `json:"middle"`
	High   decimal.Micro `json:"high"`
}

// ReserveChance is how likely a reserve is still there some weeks after the
// last visit, in percent.
type ReserveChance struct {
	Reserve decimal.Micro `json:"reserve"`
	Weeks   decimal.Micro `json:"weeks"`
	Percent decimal.Micro `json:"percent"`
}

// Reach is when a reserve may be reached, in weeks from the last visit: by the
// line, and by its bounds early and late; what is not in sight is left out.
type Reach struct {
	Reserve decimal.Micro   `json:"reserve"`
	Already bool            `json:"already,omitempty"`
	Weeks   *decimal.Micro  `json:"weeks,omitempty"`
	Early   *decimal.Micro  `json:"early,omitempty"`
	Late    *decimal.Micro  `json:"late,omitempty"`
	Message message.Message `json:"message"`
}

// TrendRecheck is when to look again over all visits.
type TrendRecheck struct {
	Day   int `json:"day"`
	Weeks int `json:"weeks"`
	// By is interval or forecast: which of the two set the date.
	By      string          `json:"by"`
	Message message.Message `json:"message"`
}

// RatersQuestion asks how far two raters agree.
type RatersQuestion struct {
	Pairs  []RatedPair `json:"pairs"`
	Forces []ForcePair `json:"forces"`
}

// RatedPair are two raters' answers to one item.
type RatedPair struct {
	Item string `json:"item"`
	// Trial is what both saw; the answers to one trial are not independent.
	Trial string `json:"trial,omitempty"`
	// Levels is how many the item has, 2 to 20; A and B count from 0.
	Levels int  `json:"levels"`
	A      int  `json:"a"`
	B      int  `json:"b"`
	StopA  bool `json:"stop_a,omitempty"`
	StopB  bool `json:"stop_b,omitempty"`
}

// ForcePair are two raters' means of one force, 0 to 10,000 gf.
type ForcePair struct {
	Key string  `json:"key"`
	A   float64 `json:"a"`
	B   float64 `json:"b"`
}

// Interval is an estimate with its 95 % interval.
type Interval struct {
	Value decimal.Micro  `json:"value"`
	Low   *decimal.Micro `json:"low,omitempty"`
	High  *decimal.Micro `json:"high,omitempty"`
}

// RatedItem is the agreement on one item, or on all with so many levels ("all").
type RatedItem struct {
	Item   string `json:"item"`
	Levels int    `json:"levels"`
	Pairs  int    `json:"pairs"`
	// Same and WithinOne are in percent.
	Same      Interval `json:"same"`
	WithinOne Interval `json:"within_one"`
	// Kappa and WeightedKappa are left out below 30 pairs.
	Kappa         *Interval `json:"kappa,omitempty"`
	WeightedKappa *Interval `json:"weighted_kappa,omitempty"`
	// Word is the usual word for the weighted kappa, left out with it; Met says
	// that every shown figure meets its aim.
	Word    message.Message `json:"word,omitzero"`
	Met     bool            `json:"met"`
	Message message.Message `json:"message"`
}

// ForceAgreement is ICC(2,1) over all forces.
type ForceAgreement struct {
	Forces  int             `json:"forces"`
	ICC     *Interval       `json:"icc,omitempty"`
	Message message.Message `json:"message"`
}

// ForcesApart is how far two raters' means lie apart.
type ForcesApart struct {
	Key     string          `json:"key"`
	Percent decimal.Micro   `json:"percent"`
	Check   bool            `json:"check,omitempty"`
	Message message.Message `json:"message"`
}

// Raters answers a RatersQuestion.
type Raters struct {
	Items  []RatedItem     `json:"items"`
	Forces *ForceAgreement `json:"forces,omitempty"`
	Apart  []ForcesApart   `json:"apart,omitempty"`
	// Discuss are items where one raised a stop and the other did not, once a
	// pair.
	Discuss []string `json:"discuss,omitempty"`
}
