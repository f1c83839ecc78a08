package endurance

import "doorsill/internal/engine/provenance"

const neckReview = "table of risk factors for neck and shoulder, J Sports Sci Med, suppl. 5, Table 1: force of a tenth of maximum or more, repeated neck movement, extreme neck posture"

func cardProvenance(formula, source, status string) provenance.Provenance {
	return provenance.Provenance{Formula: formula, Source: source, Status: status}
}

// cardRow fills a row; a value that is no number makes it a missing one.
func cardRow(name string, value float64, unit string, b provenance.Provenance) CardRow {
	row := CardRow{Name: name, Unit: unit, Provenance: b}
	if !provenance.Measured(value) {
		row.Say = "Not measured: " + name + "."
		return row
	}
	row.Value, row.Measured = value, true
	row.Say = provenance.Text(value, 2) + " " + unit + "."
	return row
}

func (e Exposure) commandsRow() CardRow {
	row := cardRow("commands a day", e.CommandsPerDay, "a day",
		cardProvenance("counted; raised from 1,000 a day", "own proposal; the trade speaks of thousands of small movements a day", provenance.Proposal))
	row.Raised = row.Measured && row.Value >= ManyCommands
	return row
}

func (e Exposure) rateRow() CardRow {
	row := cardRow("commands a minute", provenance.Round(e.CommandsPerDay/(e.HoursPerDay*60), 2), "a minute of driving",
		cardProvenance("commands a day / (hours a day · 60)", "definition of a rate", provenance.Published))
	if !row.Measured {
		row.Say = "Not measured: commands a minute needs commands a day and hours of driving."
	}
	return row
}

func (e Exposure) shareRow() CardRow {
	row := cardRow("share of strength", provenance.Round(e.Share, 4), "of the strength",
		cardProvenance("force to full command / usable force; raised from 0.10", neckReview, provenance.Published))
	if row.Measured {
		row.Raised = row.Value >= NeckShare
		row.Say = provenance.Percent(row.Value) + " of the strength."
	}
	return row
}

func (e Exposure) painRow() CardRow {
	row := cardRow("pain", e.Pain, "of 10",
		cardProvenance("asked, 0 to 10; raised from 4, refer from 7", "own proposal", provenance.Proposal))
	row.Raised = row.Measured && row.Value >= PainCaution
	if row.Measured && row.Value >= PainRefer {
		row.Say = provenance.Text(row.Value, 1) + " of 10: stop using this control and have it looked at."
	}
	return row
}

func (e Exposure) postureRow() CardRow {
	row := CardRow{Name: "posture", Say: "Not measured: posture of neck and jaw while driving.",
		Provenance: cardProvenance("seen: neutral, turned or extreme; raised when extreme", neckReview, provenance.Published)}
	if e.Posture != UnknownPosture {
		row.Measured, row.Raised = true, e.Posture == ExtremePosture
		row.Say = "Posture of neck and jaw while driving: " + string(e.Posture) + "."
	}
	return row
}

func (e Exposure) signsRow() CardRow {
	row := CardRow{Name: "signs of strain", Measured: true, Raised: e.Signs, Say: "No signs of strain in the past four weeks.",
		Provenance: cardProvenance("asked and seen", "own proposal", provenance.Proposal)}
	if e.Signs {
		row.Say = "Signs of strain in the past four weeks."
	}
	return row
}
