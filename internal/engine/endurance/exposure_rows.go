package endurance

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

const neckReview = "table of risk factors for neck and shoulder, J Sports Sci Med, suppl. 5, Table 1: force of a tenth of maximum or more, repeated neck movement, extreme neck posture"

func cardProvenance(formula, source, status string) provenance.Provenance {
	return provenance.Provenance{Formula: formula, Source: source, Status: status}
}

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
		cardProvenance("counted; raised from 1,000 a day", "own proposal; the trade speaks of thousands of small movements a day", provenance.Proposal))
	row.Raised = row.Measured && row.Value >= ManyCommands
	return row
}

func (e Exposure) rateRow() CardRow {
	return cardRow("commands-a-minute", provenance.Round(e.CommandsPerDay/(e.HoursPerDay*60), 2), "per-minute-of-driving",
		"endurance.commands-a-minute", "endurance.no-commands-a-minute",
		cardProvenance("commands a day / (hours a day · 60)", "definition of a rate", provenance.Published))
}

func (e Exposure) shareRow() CardRow {
	row := cardRow("share-of-strength", provenance.Round(e.Share, 4), "of-strength", "endurance.share-of-strength", "endurance.no-share-of-strength",
		cardProvenance("force to full command / usable force; raised from 0.10", neckReview, provenance.Published))
	if row.Measured {
		row.Raised = row.Value >= NeckShare
		row.Say = message.New("endurance.share-of-strength", message.Number("value", percent(row.Value)))
	}
	return row
}

func (e Exposure) painRow() CardRow {
	row := cardRow("pain", e.Pain, "of-ten", "endurance.pain", "endurance.no-pain",
		cardProvenance("asked, 0 to 10; raised from 4, refer from 7", "own proposal", provenance.Proposal))
	row.Raised = row.Measured && row.Value >= PainCaution
	if row.Measured && row.Value >= PainRefer {
		row.Say = message.New("endurance.pain-refer", message.Number("value", provenance.Round(row.Value, 1)))
	}
	return row
}

func (e Exposure) postureRow() CardRow {
	row := CardRow{ID: "posture", Say: message.New("endurance.posture-unseen"),
		Provenance: cardProvenance("seen: neutral, turned or extreme; raised when extreme", neckReview, provenance.Published)}
	if e.Posture != UnknownPosture {
		row.Measured, row.Raised = true, e.Posture == ExtremePosture
		row.Say = message.New("endurance.posture", message.Word("posture", string(e.Posture)))
	}
	return row
}

func (e Exposure) signsRow() CardRow {
	row := CardRow{ID: "signs-of-strain", Measured: true, Raised: e.Signs, Say: message.New("endurance.no-signs"),
		Provenance: cardProvenance("asked and seen", "own proposal", provenance.Proposal)}
	if e.Signs {
		row.Say = message.New("endurance.signs")
	}
	return row
}
