package endurance

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// NoIndex is the code of what is said on every exposure card.
const NoIndex = "endurance.no-index"

// Marks of the exposure card.
const (
	NeckShare    = 0.10 // share of strength listed as a risk factor for neck and shoulder
	ManyCommands = 1000 // commands a day
	PainCaution  = 4    // of 10
	PainRefer    = 7    // of 10
)

// Posture of neck and jaw while driving.
type Posture string

const (
	NeutralPosture Posture = "neutral"
	TurnedPosture  Posture = "turned"  // held away from the middle
	ExtremePosture Posture = "extreme" // near the end of the movement
	UnknownPosture Posture = ""        // nobody looked
)

// Signs of strain at the driving site in the past four weeks.
type Signs string

const (
	UnknownSigns  Signs = ""      // nobody asked
	NoSigns       Signs = "none"  // asked, and there were none
	TiredFeeling  Signs = "tired" // a tired feeling, gone by the next morning
	SignsOfStrain Signs = "signs" // an ache into the next day, or worse
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
	// Signs of strain in the past four weeks.
	Signs Signs
}

// CardRow is one line of the exposure card.
type CardRow struct {
	// ID names what is counted or asked, such as "commands-a-day".
	ID string
	// Value has a meaning when Measured and there is a Unit.
	Value float64
	// Unit is the unit's id, such as "per-day"; empty where there is no number.
	Unit     string
	Measured bool
	// Raised is true where the line is a reason to look again early.
	Raised bool
	// Say tells the value, or that nobody measured it.
	Say message.Message
	provenance.Provenance
}

// Card is the exposure of a driver by chin or head.
type Card struct {
	Site string
	// NoIndex says that there is no score.
	NoIndex message.Message
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
	card := Card{Site: e.Site, NoIndex: message.New(NoIndex), Rows: []CardRow{
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
		return refuseSite("endurance.not-head-borne", e.Site)
	}
	still := message.New("endurance.still-other-lines")
	err := provenance.First(
		optional(e.CommandsPerDay, provenance.Between("commands-a-day", e.CommandsPerDay, 0, mostPerDay, "", still)),
		optional(e.HoursPerDay, provenance.AboveZero("hours-of-driving", e.HoursPerDay, 24, "h", still)),
		optional(e.Share, provenance.AboveZero("share-of-strength", e.Share, 1000, "", still)),
		optional(e.Pain, provenance.Between("pain", e.Pain, 0, 10, "", still)),
	)
	if err != nil {
		return err
	}
	switch e.Posture {
	case NeutralPosture, TurnedPosture, ExtremePosture, UnknownPosture:
		return nil
	}
	return provenance.NewRefusal(message.New("endurance.no-posture", message.Word("field", "posture"), message.Inner("still", still)))
}

// optional lets a value pass that is marked as not measured.
func optional(x float64, err error) error {
	if x != x { // not a number: provenance.NotMeasured
		return nil
	}
	return err
}
