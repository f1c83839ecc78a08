package access

import (
	"doorsill/internal/checklist/rules"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/say"
	"doorsill/internal/engine/strength"
)

// rule is a control rule that looks at one quantity. Feasible goes to the first
// bound and Marginal to the second; a value between two printed ranges falls in
// the worse.
type rule struct {
	id, words string
	// from is the source of the computed item that goes with the rule.
	from string
	// better is "high" or "low".
	better     string
	good, just float64
	// gentle rules never refuse a control by themselves.
	gentle bool
	// advisory rules do not count while the quantity is missing.
	advisory bool
	// measure, improve and mend say what would change the verdict: when the
	// quantity is missing, short of the first bound, and short of the second.
	measure, improve, mend string
}

// ForceRule is the id of the rule about force.
const ForceRule = "force"

// The rules that look at one quantity, read only. Force is rule 1 (usable force
// over the force asked, worst needed direction), travel rule 2 (the same of
// travel after throw), noise rule 3 (unintended force over the force that
// starts the control), release rule 4 (the slowest of five). Fading is rule 11
// (tired over rested): it asks for company or hours, and without a tired
// reading the assumed factor stands in. Hold is rule 12: below ten seconds the
// control carries practice and no more, which caps the level.
var (
	forceRule = rule{
		id: ForceRule, words: "force", from: rules.FromForceReserve, better: "high",
		good: strength.ReserveWorkable, just: strength.ReserveTight,
		measure: "Measure the force in every needed direction, three times rested and three times tired.",
	}
	travelRule = rule{
		id: "travel", words: "travel", from: rules.FromTravelReserve, better: "high",
		good: strength.TravelEnough, just: strength.TravelJust,
		measure: "Measure the travel in every needed direction with a ruler at the knob.",
	}
	noiseRule = rule{
		id: "noise", words: "unintended force", from: rules.FromNoise, better: "low",
		good: strength.NoiseQuiet, just: strength.NoiseNear,
		measure: "Watch the gauge for a minute at rest, a minute while talking and over ten bumps.",
		improve: "Support the limb, widen the dead zone, add damping and time the release again, or use a heavier class.",
	}
	releaseRule = rule{
		id: "release", words: "release", from: rules.FromRelease, better: "low",
		good: strength.ReleasePrompt, just: strength.ReleaseSlow,
		measure: "Time five releases from the word “stop”.",
		improve: "Another site or knob shape, a lower speed, or a separate stop switch; then time five releases again.",
	}
	fadingRule = rule{
		id: "fading", words: "fading", from: rules.FromTiredRatio, better: "high",
		good: strength.FadingLittle, just: strength.FadingMuch, gentle: true, advisory: true,
		measure: "Measure again after fifteen minutes of driving or at the person's worst hour.",
		improve: "Limit the hours of driving, or choose a lighter class.",
		mend:    "Accompany; a lighter class, and hours that are agreed in writing.",
	}
	holdRule = rule{
		id: "hold", words: "holding forward", from: rules.FromHold, better: "high",
		good: strength.HoldLong, just: strength.HoldBrief, gentle: true,
		measure: "Time how long forward can be held, up to 120 s.",
		improve: "Short spells and rest points, a lighter class, or a shorter throw.",
		mend:    "Practice only with this control: a lighter class, a shorter throw, or switches.",
	}
)

// judge looks at the quantity of a rule: Feasible when the quantity has no meaning
// for this control, Unknown when it is missing.
func (r *rule) judge(f *quantity.Quantity) Reason {
	reason := Reason{Rule: r.id, From: r.from, Say: f.Say}
	switch {
	case f.Has() && !f.Thin:
		reason.Verdict = grade(f.Value, r.better, r.good, r.just)
	case f.Origin != quantity.NotAsked:
		reason.Verdict = Unknown
	}
	reason.Advisory = r.advisory && reason.Verdict == Unknown
	switch {
	case reason.Verdict == Unknown:
		reason.Change = r.measure
	case reason.Verdict == NotFeasible && r.gentle:
		reason.Verdict, reason.Change = Marginal, r.mend
	case reason.Verdict != Feasible:
		reason.Change = r.improve
	}
	return reason
}

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

func force(in *Input) Reason {
	f := &in.Analysis.Reserve
	r := forceRule.judge(f)
	if r.Verdict == Marginal || r.Verdict == NotFeasible {
		third := float64(f.Value.Float()*in.Setup.OperateGF) / strength.ReserveWorkable
		r.Change = say.Line("A reserve of 3 asks for {1-} gf or less at the control: a lighter class, another site, better support of the limb, or turned axes.", nil, third)
	}
	return r
}

// travel names the throw that would do. A throw setting shortens the way and
// leaves the force as it is.
func travel(in *Input) Reason {
	f := &in.Analysis.Travel
	r := travelRule.judge(f)
	at, ok := strength.DirectionOf(f.Direction)
	switch {
	case r.Verdict == Unknown:
		if in.Setup.TravelMM == 0 {
			r.Advisory, r.Change = in.control.usual(), "Measure the way to full command on the actual control."
		}
	case r.Verdict != Feasible && ok:
		percent := float64(f.Value.Float()*in.Setup.Throw[at]) / strength.TravelEnough
		r.Change = shorter(percent, f.Direction)
	}
	return r
}

func shorter(percent float64, direction string) string {
	if percent < strength.ThrowLeast {
		return say.Line("Even the shortest throw, {0} %, does not bring it: move the mount, or choose a control with a shorter travel.", nil, strength.ThrowLeast)
	}
	return say.Line("A throw {} of {0-} % or less (that shortens the way and never the force), a moved mount, or a control with a shorter travel.",
		say.Words{direction}, percent)
}

// noise of a usual kind, whose starting force is not known, only counts when it
// would drive it.
func noise(in *Input) Reason {
	r := noiseRule.judge(&in.Analysis.Noise)
	if r.Verdict == Unknown && in.Setup.StartGF == 0 {
		r.Change = "Measure what starts the actual control, with the gauge at the contact point."
	}
	if !in.control.usual() || r.Verdict == Feasible {
		return r
	}
	r.Advisory = true
	top := in.Analysis.At(in.Setup.Site).Unintended
	if top.N > 0 && micro(top.Top) >= micro(in.Setup.OperateGF) {
		r.Verdict, r.Advisory, r.Change = NotFeasible, false, noiseRule.improve
		r.Say = say.Line("{1} gf not meant is as much as full command asks ({1} gf).", nil, top.Top, in.Setup.OperateGF)
	}
	return r
}

// release also refuses a control when one release did not come.
func release(in *Input) Reason {
	f := &in.Analysis.Release
	r := releaseRule.judge(f)
	if f.Has() && in.Analysis.Missed > 0 {
		r.Verdict, r.Change = NotFeasible, releaseRule.improve
	}
	return r
}

func fading(in *Input) Reason { return fadingRule.judge(&in.Analysis.Tired) }

func hold(in *Input) Reason { return holdRule.judge(&in.Analysis.Hold) }

// pain is rule 5: pain after ten minutes, and signs that ask for a doctor.
func pain(in *Input) Reason {
	if in.elsewhere {
		return Reason{Rule: "pain", Verdict: Unknown, Advisory: true, Say: "Pain was not asked about this site.", Change: "Ask for pain after ten minutes at this site, 0 to 10."}
	}
	r := Reason{Rule: "pain", Item: "ctl-pain", Verdict: Unknown,
		Say: "Pain at the driving site after ten minutes is not answered.", Change: "Ask for pain after ten minutes, 0 to 10."}
	if in.PainAsked {
		r.Verdict = grade(in.Pain, "low", strength.PainMild, strength.PainBothers)
		r.Say = say.Line("Pain at the driving site after ten minutes: {0+} of 10.", nil, in.Pain.Float())
		r.Change = ""
		if r.Verdict != Feasible {
			r.Change = "A lighter class or another site, shorter bouts; have strong pain looked at before driving on."
		}
	}
	if in.Alarm {
		r.Verdict, r.Item = NotFeasible, "ctl-strain"
		r.Say = "Numbness, new weakness, a locking jaw or pain at night at the driving site."
		r.Change = "Stop using this control and refer to a doctor."
	}
	return r
}

// rough is rules 7 and 8: rough ground with a control carried by the head, and
// with a light one at a finger or thumb. It reports whether one applies.
func rough(in *Input) (Reason, bool) {
	if in.Setup.OperateGF == 0 {
		return Reason{}, false // not worked by force, or force says that it is missing
	}
	operate := micro(in.Setup.OperateGF)
	switch strength.PartOf(in.Setup.Site) {
	case strength.Head:
		return roughHead(in, operate), true
	case strength.Digit:
		if operate <= micro(strength.LightControl) {
			return roughTrial(in, Reason{Rule: "rough-finger", OutdoorsOnly: true, From: rules.FromRough},
				say.Line("A control of {1} gf at a finger or thumb on rough ground: ", nil, in.Setup.OperateGF)), true
		}
	}
	return Reason{}, false
}

func roughHead(in *Input, operate decimal.Micro) Reason {
	r := Reason{Rule: "rough-head", OutdoorsOnly: true, From: rules.FromRough}
	control := say.Line("A control of {1} gf carried by the head on rough ground: ", nil, in.Setup.OperateGF)
	switch {
	case operate < micro(strength.RoughLight):
		r.Verdict = NotFeasible
		r.Say = control + "bumps push harder than the control asks, so it is not for outdoors; indoors is judged alone."
		r.Change = "A heavier class, or another site, outdoors."
		return r
	case operate > micro(strength.RoughHeavy):
		r.Say = control + "heavier than 80 gf, no bar."
		return r
	}
	return roughTrial(in, r, control)
}

func roughTrial(in *Input, r Reason, control string) Reason {
	f := in.Rough
	if in.untried {
		f = quantity.Quantity{Say: "not driven with this control at this site."}
	}
	r.Say = control + f.Say
	switch {
	case in.Needs.RoughGround == No && !f.Has():
		r.Say = control + "none on a needed route."
	case !f.Has() || f.Thin && f.Value <= micro(strength.RoughUnmeantTop):
		r.Verdict = Unknown
		r.Change = "Feasible outdoors only after 20 m of the roughest needed ground with at most one command that was not meant, hand and forearm blocked where they drive."
	default:
		r.Verdict = grade(f.Value, "low", strength.RoughUnmeantFew, strength.RoughUnmeantTop)
		if r.Verdict == Feasible && r.Rule == "rough-finger" && in.Needs.Blocked == No {
			r.Verdict = Marginal
			r.Say += " Hand and forearm are not blocked."
		}
		if r.Verdict != Feasible {
			r.Change = "Block hand and forearm or support the head, a heavier class outdoors, another site, a lower speed, or another route."
		}
	}
	return r
}
