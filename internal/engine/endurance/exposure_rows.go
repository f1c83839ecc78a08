package endurance

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

const neckReview = "source.neck-review"

// cardRow fills a row; a value that is no number makes it a missing one. Say
// and missing are the codes of what is said of a value and of none.
func cardRow(id string, value float64, unit, say, missing string, b provenance.Provenance) CardRow {
	row := CardRow{ID: id, Unit: unit, Provenance: b}
	if !provenance.Measured(value) {
		row.Say = message.New(missing)
		return row
	}
	row.Value, row.Measured = value, true
	row.Say = message.New(say, message.Number("value", provenance.Round(value, 2)))
	return row
}

func (e Exposure) commandsRow() CardRow {
	row := cardRow("commands-a-day", e.CommandsPerDay, "per-day", "endurance.commands-a-day", "endurance.no-commands-a-day",
		provenance.Of("formula.commands-a-day", "source.own-commands-a-day", provenance.Proposal))
	row.Raised = row.Value >= ManyCommands
	return row
}

func (e Exposure) rateRow() CardRow {
	return cardRow("commands-a-minute", provenance.Round(e.CommandsPerDay/(e.HoursPerDay*60), 2), "per-minute-of-driving",
		"endurance.commands-a-minute", "endurance.no-commands-a-minute",
		provenance.Of("formula.commands-a-minute", "source.rate", provenance.Published))
}

func (e Exposure) shareRow() CardRow {
	row := cardRow("share-of-strength", provenance.Round(e.Share, 4), "of-strength", "endurance.share-of-strength", "endurance.no-share-of-strength",
		provenance.Of("formula.share-at-neck", neckReview, provenance.Published))
	if row.Measured {
		row.Raised = row.Value >= NeckShare
		row.Say = message.New("endurance.share-of-strength", message.Number("value", percent(row.Value)))
	}
	return row
}

func (e Exposure) painRow() CardRow {
	row := cardRow("pain", e.Pain, "of-ten", "endurance.pain", "endurance.no-pain",
		provenance.Of("formula.pain", "source.own", provenance.Proposal))
	row.Raised = row.Value >= PainCaution
	if row.Value >= PainRefer {
		row.Say = message.New("endurance.pain-refer", message.Number("value", provenance.Round(row.Value, 1)))
	}
	return row
}

func (e Exposure) postureRow() CardRow {
	row := CardRow{ID: "posture", Say: message.New("endurance.posture-unseen"),
		Provenance: provenance.Of("formula.posture", neckReview, provenance.Published)}
	if e.Posture != UnknownPosture {
		row.Measured, row.Raised = true, e.Posture == ExtremePosture
		row.Say = message.New("endurance.posture", message.Word("posture", string(e.Posture)))
	}
	return row
}

func (e Exposure) signsRow() CardRow {
	row := CardRow{ID: "signs-of-strain", Measured: e.Signs != UnknownSigns, Raised: e.Signs == SignsOfStrain, Say: message.New("endurance.signs-unasked"),
		Provenance: provenance.Of("formula.signs-of-strain", "source.own", provenance.Proposal)}
	switch e.Signs {
	case NoSigns:
		row.Say = message.New("endurance.no-signs")
	case TiredFeeling:
		row.Say = message.New("endurance.tired-feeling")
	case SignsOfStrain:
		row.Say = message.New("endurance.signs")
	}
	return row
}
