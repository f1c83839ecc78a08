package access

import (
	"doorsill/internal/engine/decimal"
	"doorsill/internal/engine/figure"
	"doorsill/internal/engine/strength"
)

// band returns Feasible at or on the good side of the first bound, Marginal up
// to the second, NotFeasible beyond. A value between two printed ranges falls
// in the worse.
func atLeast(value decimal.Micro, good, least float64) Verdict {
	switch {
	case value >= micro(good):
		return Feasible
	case value >= micro(least):
		return Marginal
	}
	return NotFeasible
}

func atMost(value decimal.Micro, good, most float64) Verdict {
	switch {
	case value <= micro(good):
		return Feasible
	case value <= micro(most):
		return Marginal
	}
	return NotFeasible
}

// judge fills a reason from a figure: Feasible when the figure has no meaning
// for this control, Unknown when it is missing.
func judge(r Reason, f figure.Figure, verdict func(decimal.Micro) Verdict) Reason {
	r.Say = f.Say
	switch {
	case f.Has() && !f.Thin:
		r.Verdict = verdict(f.Value)
	case f.Basis == figure.NotAsked:
		r.Verdict = Feasible
	default:
		r.Verdict = Unknown
	}
	if r.Verdict == Feasible {
		r.Change = ""
	}
	return r
}

// force is rule 1: usable force over the force asked, worst needed direction.
func force(in Input) Reason {
	f := in.Analysis.Reserve
	r := judge(Reason{Rule: "force", From: fromForce}, f, func(v decimal.Micro) Verdict {
		return atLeast(v, strength.ReserveWorkable, strength.ReserveTight)
	})
	switch {
	case r.Verdict == Unknown:
		r.Change = "Measure the force in every needed direction, three times rested and three times tired."
	case r.Verdict != Feasible:
		r.Change = "A reserve of 3 asks for " + perThird(in, f) + " gf or less at the control: a lighter class, another site, better support of the limb, or turned axes."
	}
	return r
}

// perThird returns the operating force that would give a reserve of 3.
func perThird(in Input, f figure.Figure) string {
	m, _ := decimal.Of(float64(float64(f.Value)/float64(decimal.One)*in.Setup.OperateGF) / strength.ReserveWorkable)
	return m.Down(1).Short(1)
}

// travel is rule 2: usable travel over the travel asked after throw.
func travel(in Input) Reason {
	r := judge(Reason{Rule: "travel", From: fromTravel}, in.Analysis.Travel, func(v decimal.Micro) Verdict {
		return atLeast(v, strength.TravelEnough, strength.TravelJust)
	})
	switch {
	case r.Verdict == Unknown:
		r.Change = "Measure the travel in every needed direction with a ruler at the knob."
	case r.Verdict != Feasible:
		r.Change = "Shorten the throw on that axis, move the mount, or choose a control with a shorter travel."
	}
	return r
}

// noise is rule 3: unintended force over the force that starts the control.
func noise(in Input) Reason {
	r := judge(Reason{Rule: "noise", From: fromNoise}, in.Analysis.Noise, func(v decimal.Micro) Verdict {
		return atMost(v, strength.NoiseQuiet, strength.NoiseNear)
	})
	switch {
	case r.Verdict == Unknown:
		r.Change = "Watch the gauge for a minute at rest, a minute while talking and over ten bumps."
	case r.Verdict != Feasible:
		r.Change = "Support the limb, widen the dead zone, add damping and time the release again, or use a heavier class."
	}
	return r
}

// release is rule 4: the slowest of five, and none missed.
func release(in Input) Reason {
	f := in.Analysis.Release
	r := judge(Reason{Rule: "release", From: fromRelease}, f, func(v decimal.Micro) Verdict {
		return atMost(v, strength.ReleasePrompt, strength.ReleaseSlow)
	})
	if f.Has() && in.Analysis.Missed > 0 {
		r.Verdict = NotFeasible
	}
	switch {
	case r.Verdict == Unknown:
		r.Change = "Time five releases from the word “stop”."
	case r.Verdict != Feasible:
		r.Change = "Another site or knob shape, a lower speed, or a separate stop switch; then time five releases again."
	}
	return r
}

// pain is rule 5: pain after ten minutes, and signs that ask for a doctor.
func pain(in Input) Reason {
	r := Reason{Rule: "pain", Item: "ctl-pain", Verdict: Unknown,
		Say: "Pain at the driving site after ten minutes is not answered.", Change: "Ask for pain after ten minutes, 0 to 10."}
	if in.PainAsked {
		r.Verdict = atMost(in.Pain, strength.PainMild, strength.PainBothers)
		r.Say = "Pain at the driving site after ten minutes: " + in.Pain.Up(0).Short(0) + " of 10."
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

// fading is rule 11: tired over rested. It asks for company or hours, and never
// refuses a control by itself; without a tired reading the assumed factor
// stands in.
func fading(in Input) Reason {
	f := in.Analysis.Tired
	r := judge(Reason{Rule: "fading", From: fromFading, Advisory: true}, f, func(v decimal.Micro) Verdict {
		return min(atLeast(v, strength.FadingLittle, strength.FadingMuch), Marginal)
	})
	switch {
	case r.Verdict == Unknown:
		r.Change = "Measure again after fifteen minutes of driving or at the person's worst hour."
	case f.Has() && f.Value < micro(strength.FadingMuch):
		r.Change = "Accompany; a lighter class, and hours that are agreed in writing."
	case r.Verdict != Feasible:
		r.Change = "Limit the hours of driving, or choose a lighter class."
	}
	return r
}

// hold is rule 12: holding forward. Below ten seconds the control carries
// practice and no more; that caps the level and does not refuse the control.
func hold(in Input) Reason {
	f := in.Analysis.Hold
	r := judge(Reason{Rule: "hold", From: fromHold}, f, func(v decimal.Micro) Verdict {
		return min(atLeast(v, strength.HoldLong, strength.HoldBrief), Marginal)
	})
	switch {
	case r.Verdict == Unknown:
		r.Change = "Time how long forward can be held, up to 120 s."
	case f.Has() && f.Value < micro(strength.HoldBrief):
		r.Change = "Practice only with this control: a lighter class, a shorter throw, or switches."
	case r.Verdict != Feasible:
		r.Change = "Short spells and rest points, a lighter class, or a shorter throw."
	}
	return r
}

// rough is rules 7 and 8: rough ground with a control carried by the head, and
// with a light one at a finger or thumb. It reports whether one applies.
func rough(in Input) (Reason, bool) {
	operate := micro(in.Setup.OperateGF)
	switch strength.PartOf(in.Setup.Site) {
	case strength.Head:
		return roughHead(in, operate), true
	case strength.Digit:
		if operate <= micro(strength.LightControl) {
			return roughTrial(in, Reason{Rule: "rough-light", OutdoorsOnly: true, From: fromRough},
				"A control of "+operate.Short(1)+" gf at a finger or thumb on rough ground: "), true
		}
	}
	return Reason{}, false
}

func roughHead(in Input, operate decimal.Micro) Reason {
	r := Reason{Rule: "rough-head", OutdoorsOnly: true, From: fromRough}
	say := "A control of " + operate.Short(1) + " gf carried by the head on rough ground: "
	switch {
	case operate < micro(strength.RoughLight):
		r.Verdict = NotFeasible
		r.Say = say + "bumps push harder than the control asks, so it is not for outdoors; indoors is judged alone."
		r.Change = "A heavier class, or another site, outdoors."
		return r
	case operate > micro(strength.RoughHeavy):
		r.Say = say + "heavier than 80 gf, no bar."
		return r
	}
	return roughTrial(in, r, say)
}

func roughTrial(in Input, r Reason, say string) Reason {
	f := in.Rough
	r.Say = say + f.Say
	switch {
	case !f.Has() || f.Thin && f.Value <= micro(strength.RoughUnmeantTop):
		r.Verdict = Unknown
		r.Change = "Feasible outdoors only after 20 m of the roughest needed ground with at most one command that was not meant, hand and forearm blocked where they drive."
	default:
		r.Verdict = atMost(f.Value, strength.RoughUnmeantFew, strength.RoughUnmeantTop)
		if r.Verdict != Feasible {
			r.Change = "Block hand and forearm or support the head, a heavier class outdoors, another site, a lower speed, or another route."
		}
	}
	return r
}
