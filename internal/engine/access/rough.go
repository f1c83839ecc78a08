package access

import (
	"doorsill/internal/checklist"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// rough is rules 7 and 8: rough ground with a control carried by the head, and
// with a light one at a finger or thumb. Bumps act on the force that starts the
// control. It reports whether one applies.
func rough(c *candidate) (Reason, bool) {
	if c.setup.OperateGF == 0 {
		return Reason{}, false // not worked by force, or force says that it is missing
	}
	r := Reason{OutdoorsOnly: true, From: checklist.FromRough}
	switch strength.PartOf(c.setup.Site) {
	case strength.Head:
		r.Rule = "rough-head"
		found := r.roughHead(c)
		r.Say = c.started(message.New("access.rough-head", message.Number("start", c.setup.StartGF), message.Inner("found", found)),
			message.New("access.rough-head-unknown", message.Number("operate", c.setup.OperateGF), message.Inner("found", found)))
		return r, true
	case strength.Digit:
		if light, known := c.startsLightly(); light || !known {
			r.Rule = "rough-finger"
			found := r.roughTrial(c, known)
			r.Say = c.started(message.New("access.rough-finger", message.Number("start", c.setup.StartGF), message.Inner("found", found)),
				message.New("access.rough-finger-unknown", message.Number("operate", c.setup.OperateGF), message.Inner("found", found)))
			return r, true
		}
	}
	return Reason{}, false
}

// started returns the sentence about a control of which it is known what starts
// it, or else the other.
func (c *candidate) started(known, unknown message.Message) message.Message {
	if c.setup.StartGF == 0 {
		return unknown
	}
	return known
}

// startsLightly reports whether a light force starts the control, and whether
// that is known: what starts it is never more than what full command asks.
func (c *candidate) startsLightly() (light, known bool) {
	if c.setup.StartGF > 0 {
		return micro(c.setup.StartGF) <= micro(strength.LightControl), true
	}
	light = micro(c.setup.OperateGF) <= micro(strength.LightControl)
	return light, light
}

// roughHead sets verdict and change for a control that the head carries, and
// returns what was found.
func (r *Reason) roughHead(c *candidate) message.Message {
	light, known := c.startsLightly()
	switch {
	case light && answered(c.in.Needs.RoughGround, false):
		return message.New("access.rough-unneeded")
	case light:
		r.Verdict = NotFeasible
		r.Change = message.New("access.rough-heavier")
		return message.New("access.rough-too-light")
	case known && micro(c.setup.StartGF) > micro(strength.RoughHeavy):
		return message.New("access.rough-heavy", message.Number("heavy", strength.RoughHeavy))
	}
	return r.roughTrial(c, known)
}

// roughTrial does the same by what was driven on rough ground, once it is known
// what starts the control.
func (r *Reason) roughTrial(c *candidate, known bool) message.Message {
	f := c.found().Rough
	switch {
	case answered(c.in.Needs.RoughGround, false) && !f.Has():
		return message.New("access.rough-unneeded")
	case !known && !(f.Has() && f.Value > micro(strength.RoughUnmeantTop)):
		r.Verdict = Unknown
		r.Change = message.New("access.noise-measure-start")
		return message.New("access.rough-start-unknown")
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
