package access

import (
	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// rule is a control rule that looks at one quantity. Feasible goes to the first
// bound and Marginal to the second; a value between two printed ranges falls in
// the worse.
type rule struct {
	id string
	// from is the source of the computed item that goes with the rule, item the
	// id of one that is answered; one of them is empty.
	from, item string
	// better is "high" or "low".
	better     string
	good, just float64
	// gentle rules never refuse a control by themselves.
	gentle bool
	// caution rules never count: they warn.
	caution bool
	// measure, improve and mend are the codes of what would change the verdict:
	// when the quantity is missing, short of the first bound, and short of the
	// second.
	measure, improve, mend string
}

// ForceRule is the id of the rule about force.
const ForceRule = "force"

// The rules that look at one quantity, read only. Force is rule 1 (usable force
// over the force asked, worst needed direction), travel rule 2 (the same of
// travel after throw), noise rule 3 (unintended force over the force that
// starts the control), release rule 4 (the slowest of five). Fading is rule 11
// (tired over rested): force is judged by the tired reading already, so it
// warns and asks for hours, and without a tired reading the assumed factor
// stands in. Hold is rule 12: below ten seconds the control carries practice
// and no more, which caps the level.
var (
	forceRule = rule{
		id: ForceRule, from: checklist.FromForceReserve, better: "high",
		good: strength.ReserveWorkable, just: strength.ReserveTight,
		measure: "access.force-measure",
	}
	travelRule = rule{
		id: "travel", from: checklist.FromTravelReserve, better: "high",
		good: strength.TravelEnough, just: strength.TravelJust,
		measure: "access.travel-measure",
	}
	noiseRule = rule{
		id: "noise", from: checklist.FromNoise, better: "low",
		good: strength.NoiseQuiet, just: strength.NoiseNear,
		measure: "access.noise-measure",
		improve: "access.noise-improve",
	}
	releaseRule = rule{
		id: "release", from: checklist.FromRelease, better: "low",
		good: strength.ReleasePrompt, just: strength.ReleaseSlow,
		measure: "access.release-measure",
		improve: "access.release-improve",
	}
	fadingRule = rule{
		id: "fading", from: checklist.FromTiredRatio, better: "high",
		good: strength.FadingLittle, just: strength.FadingMuch, gentle: true, caution: true,
		measure: "access.fading-measure",
		improve: "access.fading-improve",
		mend:    "access.fading-mend",
	}
	holdRule = rule{
		id: "hold", from: checklist.FromHold, better: "high",
		good: strength.HoldLong, just: strength.HoldBrief, gentle: true,
		measure: "access.hold-measure",
		improve: "access.hold-improve",
		mend:    "access.hold-mend",
	}
	painRule = rule{
		id: "pain", item: "ctl-pain", better: "low",
		good: strength.PainMild, just: strength.PainBothers,
		measure: "access.pain-measure",
		improve: "access.pain-improve",
	}
)

// judge looks at the quantity of a rule: Feasible when the quantity has no meaning
// for this control, Unknown when it is missing.
func (r *rule) judge(f *quantity.Quantity) Reason {
	reason := Reason{Rule: r.id, From: r.from, Say: f.Say}
	switch {
	case f.Has() && !f.Thin:
		reason.Verdict = r.of(f.Value)
	case f.Origin != quantity.NotAsked:
		reason.Verdict = Unknown
	}
	reason.Advisory = r.caution && reason.Verdict != Feasible
	reason.Caution = reason.Advisory && reason.Verdict != Unknown
	switch {
	case reason.Verdict == Unknown:
		reason.Change = message.New(r.measure)
	case reason.Verdict == NotFeasible && r.gentle:
		reason.Verdict, reason.Change = Marginal, message.New(r.mend)
	case reason.Verdict != Feasible:
		reason.Change = message.New(r.improve)
	}
	return reason
}

// of is what the rule makes of a value alone.
func (r *rule) of(value decimal.Micro) Verdict { return grade(value, r.better, r.good, r.just) }

// grade compares a value with the bounds of a rule.
func grade(value decimal.Micro, better string, good, just float64) Verdict {
	first, second := micro(good), micro(just)
	if better == "high" {
		value, first, second = -value, -first, -second
	}
	switch {
	case value <= first:
		return Feasible
	case value <= second:
		return Marginal
	}
	return NotFeasible
}

// leastStick is the force in gf below which nobody looks for a stick: less is not
// told as what a control should ask.
const leastStick = 1

func force(c *candidate) Reason {
	f := &c.analysis.Reserve
	r := forceRule.judge(f)
	switch r.Verdict {
	case Marginal, NotFeasible:
		third := message.Number("operate", float64(f.Value.Float()*c.setup.OperateGF)/strength.ReserveWorkable)
		reserve := message.Number("reserve", strength.ReserveWorkable)
		switch {
		case third.Number < micro(leastStick):
			r.Change = message.New("access.force-improve-none")
		case c.lightest():
			r.Change = message.New("access.force-improve-lightest", reserve, third)
		default:
			r.Change = message.New("access.force-improve", reserve, third)
		}
	case Feasible:
		r.thin(c)
	}
	return r
}

// thin makes a force that is feasible by its mean marginal when the readings
// scatter so widely, or are so few, that the true force may be too little.
func (r *Reason) thin(c *candidate) {
	reserve, bound := &c.analysis.Reserve, &c.analysis.Bound
	if !reserve.Has() || bound.Has() && bound.Value >= micro(strength.ReserveTight) {
		return
	}
	r.Verdict = Marginal
	r.Say = message.New("access.force-thin", message.Inner("mean", reserve.Say), message.Inner("bound", bound.Say), message.Number("asked", strength.ReserveTight))
	direction := bound.Direction
	if direction == "" {
		direction = reserve.Direction
	}
	r.Change = message.New("access.force-thin-measure", message.Word("direction", direction), message.Word("site", c.setup.Site), message.Count("wanted", strength.RepeatsWanted))
}

// odd warns of readings that lie far from the others, wherever they were taken.
func odd(c *candidate) (Reason, bool) {
	directions := c.analysis.At(c.setup.Site).Odd(c.setup.Needed)
	if len(directions) == 0 {
		return Reason{}, false
	}
	ids := make([]string, len(directions))
	for i, d := range directions {
		ids[i] = d.String()
	}
	return Reason{Rule: "odd", Verdict: Marginal, Advisory: true, Caution: true,
		Say:    message.New("access.odd", message.Word("site", c.setup.Site), message.Words("directions", ids)),
		Change: message.New("access.odd-measure")}, true
}

// travel names the throw that would do. A throw setting shortens the way and
// leaves the force as it is.
func travel(c *candidate) Reason {
	r := travelRule.judge(&c.analysis.Travel)
	switch {
	case r.Verdict == Unknown:
		if c.setup.TravelMM == 0 {
			r.Advisory, r.Change = usual(c.control), message.New("access.travel-measure-control")
		}
	case r.Verdict != Feasible:
		r.Change = shorter(c)
	}
	return r
}

// shorter names every needed direction whose way is too long, for the verdict stays
// while one of them does, and the throw that does for all of them.
func shorter(c *candidate) message.Message {
	site := c.analysis.At(c.setup.Site)
	percent := 100.0
	var directions []string
	for _, d := range c.setup.Needed {
		usable := site.Travel[d].Least()
		ratio, ok := decimal.Ratio(usable, c.setup.TravelAsked(d))
		if ok && site.Travel[d].Measured() && grade(ratio, travelRule.better, travelRule.good, travelRule.just) != Feasible {
			percent = min(percent, usable/c.setup.TravelMM*100/strength.TravelEnough)
			directions = append(directions, d.String())
		}
	}
	if percent < strength.ThrowLeast {
		return message.New("access.travel-too-long", message.Number("shortest", strength.ThrowLeast))
	}
	direction := message.Words("direction", directions)
	if len(directions) == 1 {
		direction = message.Word("direction", directions[0])
	}
	return message.New("access.travel-shorter", direction, message.Number("throw", percent))
}

// noise of a usual kind, whose starting force is not known, only counts when it
// would drive it.
func noise(c *candidate) Reason {
	r := noiseRule.judge(&c.analysis.Noise)
	if r.Verdict == Unknown && c.setup.StartGF == 0 {
		r.Change = message.New("access.noise-measure-start")
	}
	if !usual(c.control) || r.Verdict == Feasible {
		return r
	}
	r.Advisory = true
	top := c.analysis.At(c.setup.Site).With(c.setup).Unintended
	if top.N > 0 && micro(top.Top) >= micro(c.setup.OperateGF) {
		r.Verdict, r.Advisory, r.Change = NotFeasible, false, message.New(noiseRule.improve)
		r.Say = message.New("access.noise-full-command", message.Number("unmeant", top.Top), message.Number("operate", c.setup.OperateGF))
	}
	return r
}

// release also refuses a control when one release did not come.
func release(c *candidate) Reason {
	f := &c.analysis.Release
	r := releaseRule.judge(f)
	if f.Has() && c.analysis.Missed > 0 {
		r.Verdict, r.Change = NotFeasible, message.New(releaseRule.improve)
	}
	if stops := strength.Switched(c.setup.Class) || c.setup.Mode == model.DriveLatched; stops && r.Verdict == Unknown {
		r.Change = message.New("access.stops-measure", message.Count("wanted", strength.CommandsWanted))
	} else if stops && r.Verdict != Feasible {
		r.Change = message.New("access.stops-improve", message.Count("wanted", strength.CommandsWanted))
	}
	return r
}

func fading(c *candidate) Reason { return fadingRule.judge(&c.analysis.Tired) }

func hold(c *candidate) Reason { return c.withoutLighter(holdRule.judge(&c.analysis.Hold)) }

// lightest reports whether no lighter class than this control exists.
func (c *candidate) lightest() bool {
	return c.setup.OperateGF > 0 && heft(c.setup.OperateGF) == 0
}

// withoutLighter does not ask for a lighter class than the lightest.
func (c *candidate) withoutLighter(r Reason) Reason {
	if !c.lightest() {
		return r
	}
	for _, code := range [...]struct{ any, lightest string }{
		{"access.hold-improve", "access.hold-improve-lightest"},
		{"access.hold-mend", "access.hold-mend-lightest"},
		{"access.pain-improve", "access.pain-improve-lightest"},
	} {
		if r.Change.Code == code.any {
			r.Change = message.New(code.lightest)
		}
	}
	return r
}

// pain is rule 5: pain after ten minutes, and signs that ask for a doctor.
func pain(c *candidate) Reason {
	f := c.found()
	switch {
	case c.elsewhere && !f.PainAsked && !f.Alarm:
		return Reason{Rule: "pain", Verdict: Unknown, Advisory: true,
			Say: message.New("access.pain-elsewhere"), Change: message.New("access.pain-measure-elsewhere")}
	case f.Alarm:
		return Reason{Rule: "pain", Item: "ctl-strain", Verdict: NotFeasible,
			Say: message.New("access.pain-alarm"), Change: message.New("access.pain-refer")}
	case !f.PainAsked:
		return Reason{Rule: painRule.id, Item: painRule.item, Verdict: Unknown,
			Say: message.New("access.pain-open"), Change: message.New(painRule.measure)}
	}
	r := Reason{Rule: painRule.id, Item: painRule.item, Verdict: painRule.of(f.Pain), Say: message.New("access.pain", message.Exact("pain", f.Pain))}
	if r.Verdict != Feasible {
		r.Change = message.New(painRule.improve)
	}
	return c.withoutLighter(r)
}
