package agreement

// FewPairs is how many pairs a figure needs to be shown: with fewer it would
// say more about two people than about the checklist.
const FewPairs = 5

// Report is how far the raters of a team agree.
type Report struct {
	// Pairs counts pairs of signed visits, Open those that one of the two has
	// not signed yet.
	Pairs int `json:"pairs"`
	Open  int `json:"open"`
	// ByApp counts those pairs in which one rater's tablet had been sent what the
	// other said before its own rater had signed: only the app kept it out of
	// sight. Of the others the log shows that neither tablet had it.
	ByApp int `json:"by_app"`
	// Together takes all items with the same number of levels, Items each by
	// itself.
	Together []ItemAgreement `json:"together"`
	Items    []ItemAgreement `json:"items"`
	// Force is null when no force was measured by both.
	Force *ForceAgreement `json:"force"`
	// Stops are items where one rater raised a stop and the other did not, the
	// newest first; Apart are forces that lie far apart.
	Stops []StopApart  `json:"stops"`
	Apart []ForceApart `json:"apart"`
}

// ItemAgreement is the agreement on an item, or on items with so many levels.
type ItemAgreement struct {
	// Item and Title are empty for items taken together.
	Item   string `json:"item"`
	Title  string `json:"title"`
	Levels int    `json:"levels"`
	N      int    `json:"n"`
	// Few hides the figures: there are fewer than FewPairs pairs.
	Few bool `json:"few"`
	// Same and Within (one level) are percentages.
	Same   *Interval `json:"same"`
	Within *Interval `json:"within"`
	// Kappa and Weighted (linear) are null until there are pairs enough.
	Kappa    *Interval `json:"kappa"`
	Weighted *Interval `json:"weighted"`
	// Word is the usual one for Weighted, or empty; Say is the whole in a
	// sentence.
	Word string `json:"word"`
	// Met says that every figure that is shown meets its aim.
	Met bool   `json:"met"`
	Say string `json:"say"`
}

// Interval is a figure with its 95 % interval, null where it has none.
type Interval struct {
	Value float64  `json:"value"`
	Low   *float64 `json:"low"`
	High  *float64 `json:"high"`
}

// ForceAgreement is how far forces agree: ICC(2,1) over sites, directions and states
// that both raters measured.
type ForceAgreement struct {
	N   int       `json:"n"`
	Few bool      `json:"few"`
	ICC *Interval `json:"icc"`
	Say string    `json:"say"`
}

// RatedPair names two visits of one client.
type RatedPair struct {
	Client string `json:"client"`
	First  string `json:"first"`
	Second string `json:"second"`
	// FirstBy and SecondBy are the raters' person ids; At is when the second
	// visit was started, by its tablet.
	FirstBy  string `json:"first_by"`
	SecondBy string `json:"second_by"`
	At       string `json:"at"`
}

// StopApart is a stop that one rater raised and the other did not.
type StopApart struct {
	RatedPair
	Item  string `json:"item"`
	Title string `json:"title"`
	// ByFirst says who raised it.
	ByFirst bool `json:"by_first"`
}

// ForceApart is a force that the raters measured far apart.
type ForceApart struct {
	RatedPair
	Site      string `json:"site"`
	Direction string `json:"direction"`
	// State is "rested" or "tired".
	State string `json:"state"`
	// Percent is the difference in percent of the mean of both.
	Percent float64 `json:"percent"`
	Say     string  `json:"say"`
}
