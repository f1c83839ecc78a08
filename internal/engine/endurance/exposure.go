package endurance

import "doorsill/internal/engine/provenance"

// NoIndex is said on every exposure card.
const NoIndex = "No validated strain index exists for the jaw, neck, lips or tongue. This card counts exposure; it does not score it."

// Marks of the exposure card.
const (
	NeckShare     = 0.10 // share of strength listed as a risk factor for neck and shoulder
	ManyCommands  = 1000 // commands a day
	PainCaution   = 4    // of 10
	PainRefer     = 7    // of 10
	extremeWanted = "neutral, turned or extreme"
)

// Posture of neck and jaw while driving.
type Posture string

const (
	NeutralPosture Posture = "neutral"
	TurnedPosture  Posture = "turned"  // held away from the middle
	ExtremePosture Posture = "extreme" // near the end of the movement
	UnknownPosture Posture = ""        // nobody looked
)

// Exposure is what a driver by chin or head does in a day. What nobody
// measured is provenance.NotMeasured(), or UnknownPosture.
type Exposure struct {
	// Site is a head-borne site: chin, lip, tongue, cheek or head.
	Site string
	// CommandsPerDay is 0 to 100,000, HoursPerDay of driving 0 to 24.
	CommandsPerDay, HoursPerDay float64
	// Share is the share of strength of a command, above 0. It may be above 1.
	Share float64
	// Pain at the site, 0 to 10.
	Pain    float64
	Posture Posture
	// Signs is true when there were signs of strain in the past four weeks.
	Signs bool
}

// CardRow is one line of the exposure card.
type CardRow struct {
	Name string
	// Value has a meaning when Measured.
	Value    float64
	Unit     string
	Measured bool
	// Raised is true where the line is a reason to look again early.
	Raised bool
	Say    string
	provenance.Provenance
}

// Card is the exposure of a driver by chin or head.
type Card struct {
	Site string
	// NoIndex says that there is no score.
	NoIndex string
	Rows    []CardRow
	// Raised counts the raised rows, Missing the rows that nobody measured.
	Raised, Missing int
}

// ExposureCard returns the exposure of a driver by chin or head: commands a
// day, commands a minute (commands/(hours·60), 2 decimals), share of strength,
// pain, posture and signs of strain. Rows that nobody measured say so; values
// out of range, and sites that are not head-borne, are refused. There is no
// index and the card says so. The marks are proposals, but for the share of
// 0.10 at the neck, which a published review of risk factors lists.
func ExposureCard(e Exposure) (Card, error) {
	if err := e.check(); err != nil {
		return Card{}, err
	}
	card := Card{Site: e.Site, NoIndex: NoIndex, Rows: []CardRow{
		e.commandsRow(), e.rateRow(), e.shareRow(), e.painRow(), e.postureRow(), e.signsRow(),
	}}
	for _, row := range card.Rows {
		if row.Raised {
			card.Raised++
		}
		if !row.Measured {
			card.Missing++
		}
	}
	return card, nil
}

func (e Exposure) check() error {
	if !HeadBorne(e.Site) {
		return provenance.Refuse("site", "chin, lip, tongue, cheek or head, not \""+e.Site+"\"",
			"From forearm to finger the strain index can be given.")
	}
	const still = "The other lines of the card can still be filled in."
	err := provenance.First(
		optional(e.CommandsPerDay, provenance.Within("commands a day", e.CommandsPerDay, 0, mostPerDay, "", still)),
		optional(e.HoursPerDay, provenance.Above("hours of driving a day", e.HoursPerDay, 24, "h", still)),
		optional(e.Share, provenance.Above("share of strength", e.Share, 1000, "", still)),
		optional(e.Pain, provenance.Within("pain", e.Pain, 0, 10, "", still)),
	)
	if err != nil {
		return err
	}
	switch e.Posture {
	case NeutralPosture, TurnedPosture, ExtremePosture, UnknownPosture:
		return nil
	}
	return provenance.Refuse("posture", extremeWanted, still)
}

// optional lets a value pass that is marked as not measured.
func optional(x float64, err error) error {
	if x != x { // not a number: provenance.NotMeasured
		return nil
	}
	return err
}
