package engine

import (
	"strings"

	"doorsill/internal/engine/access"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// choices gives the verdict on every control at every site. Everything that is
// well is only said of the controls that are named first or wished for; of the
// others the reasons are the force and what stands against them.
func (b *builder) choices() {
	v := b.verdict
	b.out.Choices = make([]model.Choice, len(v.Choices))
	for i := range v.Choices {
		c := &v.Choices[i]
		one := model.Choice{Control: c.Control, Site: c.Site, Subject: b.subject(c.Control, c.Site), Indoors: c.Indoors.String(), Outdoors: c.Outdoors.String(), Rank: c.Rank, Role: c.Role, Messages: c.Say,
			Reasons: make([]model.Reason, 0, len(c.Reasons))}
		if c.HasReserve {
			reserve := c.Reserve.Down(2)
			one.Reserve = &reserve
		}
		whole := c.Role != "" || c.Wished
		for j := range c.Reasons {
			if r := &c.Reasons[j]; whole || r.Rule == access.ForceRule || r.Verdict != access.Feasible && !r.Unasked() {
				one.Reasons = append(one.Reasons, reasonOf(r))
			}
		}
		b.out.Choices[i] = one
	}
	if v.Left != nil {
		left := reasonOf(v.Left)
		b.out.Left = &left
	}
	for i := range v.Windows {
		w := &v.Windows[i]
		b.out.Windows = append(b.out.Windows, model.Window{State: w.State, Verdict: w.Verdict.String(), Message: w.Say})
	}
}

// subject names a control with its site: the chosen one, one of the kit by the
// team's own name, or a usual kind.
func (b *builder) subject(control, site string) message.Message {
	at := message.Word("site", site)
	if class, ok := strings.CutPrefix(control, access.Generic); ok {
		return message.New("subject.class", message.Word("class", class), at)
	}
	for i := range b.input.Kit {
		if k := &b.input.Kit[i]; k.ID == control {
			return message.New("subject.kit", message.Word("name", k.Name), at)
		}
	}
	return message.New("subject.chosen", at)
}
