package strength

// Thresholds lists every number that results depend on, with where it comes
// from, in the order in which a result uses them.
func Thresholds() []Threshold {
	list := append(readingThresholds(), controlThresholds()...)
	list = append(list, trialThresholds()...)
	for _, g := range Gates() {
		list = append(list, proposal("gate-"+g.Level+"-"+g.Section, float64(g.Least), "of 100", ours))
	}
	return append(list, overrideThresholds()...)
}

const (
	ours  = "own proposal, from trade habit"
	trade = "trade habit"
	// shares is what the reserve bands lean on: work of up to about 14 % of
	// strength for an hour on and off, 7.9 % without a break.
	shares = "own proposal; Scand J Work Environ Health 1977 measured one-hour limits of 14 % (on and off) and 7.9 % (unbroken) of strength, not with wheelchair controls"
)

func proposal(id string, value float64, unit, source string) Threshold {
	return Threshold{id, value, unit, source, StatusProposal}
}

func practice(id string, value float64, unit string) Threshold {
	return Threshold{id, value, unit, trade, StatusPractice}
}

func readingThresholds() []Threshold {
	return []Threshold{
		{"gram-force", newtonPerGF, "N", "BIPM SI Brochure, 9th ed. (2019), and NIST SP 811 (2008) App. B: standard gravity 9.80665 m/s², exact", StatusPublished},
		{"pound-force", gfPerLBF, "gf", "NIST SP 811 (2008) App. B: avoirdupois pound 0.45359237 kg, exact", StatusPublished},
		{"ounce-force", gfPerOZF, "gf", "NIST SP 811 (2008) App. B: a sixteenth of the pound, exact", StatusPublished},
		{"repeats-wanted", RepeatsWanted, "readings", "Am J Occup Ther 2024;78(5):7805205140: three grip tries by three raters, in healthy adults", StatusPublished},
		{"confidence", 95, "%", "Student's t, two-sided for the interval and one-sided for the lower bound: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2 and 1.3.6.7.2", StatusPublished},
		proposal("spread-steady", SpreadSteady, "%", ours),
		proposal("spread-steady-weak", SpreadSteadyLow, "%", ours),
		proposal("weak-mean", WeakMean, "gf", ours),
		proposal("odd-reading", OddTrial, "times the middle reading", ours),
		proposal("tired-factor", TiredFactor, "", "own proposal; stands in for a tired reading until there is one"),
		practice("releases-wanted", ReleasesWanted, "releases"),
		practice("hold-counted", HoldCounted, "s"),
		proposal("reserve-over-light", ReserveOverLight, "", shares),
		proposal("reserve-roomy", ReserveRoomy, "", shares),
		proposal("reserve-workable", ReserveWorkable, "", shares),
		proposal("reserve-tight", ReserveTight, "", "own proposal; trade habit asks two to three times the operating force"),
	}
}

func controlThresholds() []Threshold {
	list := []Threshold{
		proposal("travel-enough", TravelEnough, "", ours),
		proposal("travel-just", TravelJust, "", ours),
		proposal("noise-quiet", NoiseQuiet, "", ours),
		proposal("noise-near", NoiseNear, "", ours),
		proposal("release-prompt", ReleasePrompt, "s", "own proposal; at 6 km/h each second is 1.7 m"),
		proposal("release-slow", ReleaseSlow, "s", "own proposal; at 6 km/h each second is 1.7 m"),
		proposal("pain-mild", PainMild, "of 10", ours),
		proposal("pain-bothers", PainBothers, "of 10", ours),
		proposal("rough-heavy", RoughHeavy, "gf", ours),
		proposal("rough-light", RoughLight, "gf", ours),
		proposal("light-control", LightControl, "gf", ours),
		proposal("rough-unmeant-few", RoughUnmeantFew, "per 20 m", ours),
		proposal("rough-unmeant-most", RoughUnmeantTop, "per 20 m", ours),
		proposal("fading-little", FadingLittle, "", ours),
		proposal("fading-much", FadingMuch, "", ours),
		proposal("hold-long", HoldLong, "s", ours),
		proposal("hold-brief", HoldBrief, "s", ours),
	}
	for _, c := range Classes() {
		list = append(list, practice("class-"+c.ID+"-force", c.OperateGF, "gf"))
		if c.TravelMM > 0 {
			list = append(list, practice("class-"+c.ID+"-travel", c.TravelMM, "mm"))
		}
	}
	return list
}

func trialThresholds() []Threshold {
	return []Threshold{
		practice("contacts-per", ContactsPer, "m"),
		practice("prompts-per", RatesPer, "s"),
		practice("rough-per", RoughPer, "m"),
		proposal("rate-least-part", RateLeastPart, "of that distance or time", "own proposal: less does not make a rate, unless it is already the worst"),
		proposal("sides-unequal", SidesUnequal, "things", ours),
		proposal("coverage-score", CoverageScore, "%", ours),
		proposal("coverage-gate", CoverageGate, "%", ours),
		proposal("teach-back-least", TeachLeast, "of 5", ours),
		proposal("outdoor-least", OutdoorLeast, "items", ours),
		proposal("runs-wanted", RunsWanted, "runs, one of them tired", ours),
	}
}

func overrideThresholds() []Threshold {
	return []Threshold{
		proposal("override-text", OverrideText, "characters", ours),
		proposal("override-days", OverrideDays, "days", ours),
		proposal("override-steps", 1, "level up", ours),
	}
}
