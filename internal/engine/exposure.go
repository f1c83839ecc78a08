package engine

import (
	"doorsill/internal/engine/endurance"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// exposure writes the card of a driver by chin or head.
func (e *encoder) exposure(d *day) {
	if !endurance.HeadBorne(d.site) {
		return
	}
	const minutes = 60
	card, err := endurance.ExposureCard(endurance.Exposure{Site: d.site, HoursPerDay: orNotMeasured(d.needs.HoursDriving),
		CommandsPerDay: provenance.Round(orNotMeasured(d.needs.HoursDriving)*minutes*orNotMeasured(d.needs.CommandsPerMin), 0),
		Share:          d.worst, Pain: d.pain, Signs: d.signs})
	say := []message.Message{message.New(endurance.NoIndex)}
	if err != nil {
		e.exposureLine(d, append(say, provenance.Sentence(err)))
		return
	}
	d.raised = d.raised || card.Raised > 0
	for i := range card.Rows {
		row := &card.Rows[i]
		if row.Measured && row.Unit != "" {
			unit := message.New("endurance.unit", message.Word("unit", row.Unit))
			e.number(counted+row.ID, d.site, "", provenance.Text(row.Value, 4), e.text(&unit), raised(row), row.Provenance)
		} else {
			say = append(say, row.Say)
		}
	}
	e.exposureLine(d, say)
}

func (e *encoder) exposureLine(d *day, card []message.Message) {
	say := message.New("endurance.card", message.List("card", card))
	e.line("exposure", d.site, e.text(&say))
}

// raised is what a row says, and that it is a reason to look again early.
func raised(row *endurance.CardRow) message.Message {
	if row.Raised {
		return message.New("endurance.raised", message.Inner("row", row.Say))
	}
	return row.Say
}

// recheck writes when to look again, by this visit alone: Trend brings it
// forward where the forecast over visits says so.
func (e *encoder) recheck(d *day) {
	r := endurance.RecheckIn(endurance.Watch{Course: d.needs.Course, Site: d.site, Pain: d.pain, Signs: d.signs, Raised: d.raised})
	var reasons []message.Message
	for _, reason := range r.Reasons {
		if reason.Weeks == r.Weeks {
			reasons = append(reasons, reason.Say)
		}
	}
	say := message.New("endurance.recheck", message.List("reasons", reasons))
	e.line("recheck-by", provenance.Text(float64(r.Weeks), 0), e.text(&say))
	e.provenance("recheck-by", r.Provenance)
}
