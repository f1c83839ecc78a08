package access

import (
	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// rough is rules 7 and 8: rough ground with a control carried by the head, and
// with a light one at a finger or thumb. It reports whether one applies.
func rough(c *candidate) (Reason, bool) {
	if c.setup.OperateGF == 0 {
		return Reason{}, false // not worked by force, or force says that it is missing
	}
	operate := micro(c.setup.OperateGF)
	r := Reason{OutdoorsOnly: true, From: checklist.FromRough}
	switch strength.PartOf(c.setup.Site) {
	case strength.Head:
		r.Rule = "rough-head"
		found := r.roughHead(c, operate)
		r.Say = message.New("access.rough-head", message.Exact("operate", operate), message.Inner("found", found))
		return r, true
	case strength.Digit:
		if operate <= micro(strength.LightControl) {
			r.Rule = "rough-finger"
			found := r.roughTrial(c)
			r.Say = message.New("access.rough-finger", message.Exact("operate", operate), message.Inner("found", found))
			return r, true
		}
	}
	return Reason{}, false
}

// roughHead sets verdict and change for a control that the head carries, and
// returns what was found.
func (r *Reason) roughHead(c *candidate, operate decimal.Micro) message.Message {
	switch {
	case operate < micro(strength.RoughLight):
		r.Verdict = NotFeasible
		r.Change = message.New("access.rough-heavier")
		return message.New("access.rough-too-light")
	case operate > micro(strength.RoughHeavy):
		return message.New("access.rough-heavy", message.Number("heavy", strength.RoughHeavy))
	}
	return r.roughTrial(c)
}

// roughTrial does the same by what was driven on rough ground.
func (r *Reason) roughTrial(c *candidate) message.Message {
	f := c.in.Rough
	if c.untried {
		f = quantity.Quantity{Say: message.New("access.rough-untried")}
	}
	switch {
	case answered(c.in.Needs.RoughGround, false) && !f.Has():
		return message.New("access.rough-unneeded")
	case !f.Has() || f.Thin && f.Value <= micro(strength.RoughUnmeantTop):
		r.Verdict = Unknown
		r.Change = message.New("access.rough-measure")
		return f.Say
	}
	found := f.Say
	r.Verdict = grade(f.Value, "low", strength.RoughUnmeantFew, strength.RoughUnmeantTop)
	if r.Verdict == Feasible && r.Rule == "rough-finger" && answered(c.in.Needs.Blocked, false) {
		r.Verdict = Marginal
		found = message.New("access.rough-unblocked", message.Inner("found", f.Say))
	}
	if r.Verdict != Feasible {
		r.Change = message.New("access.rough-improve")
	}
	return found
}
