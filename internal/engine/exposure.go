package engine

import (
	"doorsill/internal/engine/endurance"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// exposure gives the card of a driver by chin or head.
func (b *builder) exposure(d *day) {
	if !endurance.HeadBorne(d.site) {
		return
	}
	const minutes = 60
	card, err := endurance.ExposureCard(endurance.Exposure{Site: d.site, HoursPerDay: orNotMeasured(d.needs.HoursDriving),
		CommandsPerDay: provenance.Round(orNotMeasured(d.needs.HoursDriving)*minutes*orNotMeasured(d.needs.CommandsPerMin), 0),
		Share:          d.worst, Pain: d.pain, Signs: d.signs})
	say := []message.Message{message.New(endurance.NoIndex)}
	if err != nil {
		b.card(d, append(say, provenance.Sentence(err)))
		return
	}
	d.raised = d.raised || card.Raised > 0
	for i := range card.Rows {
		row := &card.Rows[i]
		if row.Measured && row.Unit != "" {
			b.limit(model.Quantity{Name: "exposure-" + row.ID, Site: d.site, Unit: row.Unit, Value: rounded(row.Value, 4),
				Origin: model.OriginMeasured, Message: raised(row)}, row.Provenance)
		} else {
			say = append(say, row.Say)
		}
	}
	b.card(d, say)
}

func (b *builder) card(d *day, card []message.Message) {
	b.out.Exposure = &model.Exposure{Site: d.site, Message: message.New("endurance.card", message.List("card", card))}
}

// raised is what a row says, and that it is a reason to look again early.
func raised(row *endurance.CardRow) message.Message {
	if row.Raised {
		return message.New("endurance.raised", message.Inner("row", row.Say))
	}
	return row.Say
}

// recheck gives when to look again, by this visit alone: Trend brings it
// forward where the forecast over visits says so.
func (b *builder) recheck(d *day) {
	forceOpen := len(b.analysis.Evidence(b.setup)) > 0 || b.analysis.Reserve.Origin == quantity.Missing
	r := endurance.RecheckIn(endurance.Watch{Course: d.needs.Course, Site: d.site, Pain: d.pain, Signs: d.signs, Raised: d.raised, ForceOpen: forceOpen})
	var reasons []message.Message
	for _, reason := range r.Reasons {
		if reason.Weeks == r.Weeks {
			reasons = append(reasons, reason.Say)
		}
	}
	b.out.Recheck = &model.Recheck{Weeks: r.Weeks, Message: message.New("endurance.recheck", message.List("reasons", reasons))}
	b.provenance("recheck-by", r.Provenance)
}
