package engine

import (
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/fields"
)

// choices writes the verdict on every control at every site. Everything that is
// well is only said of the controls that are named first or wished for; of the
// others the lines give the force and what stands against them.
func (e *encoder) choices() {
	v := e.verdict
	for i := range v.Choices {
		c := &v.Choices[i]
		rank := "-"
		if c.Rank > 0 {
			rank = provenance.Whole(c.Rank)
		}
		e.statements(c.Say, "verdict", c.Control, c.Site, c.Indoors.String(), c.Outdoors.String(), rank, fields.OrDash(c.Role))
		whole := c.Role != "" || c.Wished
		for j := range c.Reasons {
			if r := &c.Reasons[j]; whole || r.Rule == access.ForceRule || r.Verdict != access.Feasible && !r.Unasked() {
				e.why(c.Control, c.Site, r)
			}
		}
	}
	if v.Left != nil {
		e.why("-", "-", v.Left)
	}
	for i := range v.Windows {
		w := &v.Windows[i]
		e.statement(&w.Say, "window", w.State, w.Verdict.String())
	}
}

func (e *encoder) why(control, site string, r *access.Reason) {
	where := "both"
	if r.OutdoorsOnly {
		where = "outdoors"
	}
	e.line("why", control, site, r.Rule, where, r.Verdict.String(), e.say(&r.Say), fields.OrDash(e.say(&r.Change)))
}
