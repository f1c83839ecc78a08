package strength

// EachThreshold hands over every number that results depend on, with where it
// comes from.
func EachThreshold(yield func(*Threshold)) {
	for i := range thresholds {
		yield(&thresholds[i])
	}
	for _, c := range classes {
		yield(&Threshold{"class-" + c.ID + "-force", c.OperateGF, "gf", trade, StatusPractice})
		if c.TravelMM > 0 {
			yield(&Threshold{"class-" + c.ID + "-travel", c.TravelMM, "mm", trade, StatusPractice})
		}
	}
	for _, g := range gates {
		yield(&Threshold{"gate-" + g.Level + "-" + g.Section, float64(g.Least), "of 100", ours, StatusProposal})
	}
}

// Thresholds lists what EachThreshold hands over.
func Thresholds() []Threshold {
	var list []Threshold
	EachThreshold(func(t *Threshold) { list = append(list, *t) })
	return list
}

const (
	ours  = "own proposal, from trade habit"
	trade = "trade habit"
	si    = "BIPM SI Brochure, 9th ed. (2019), and NIST SP 811 (2008) App. B: standard gravity 9.80665 m/s², exact"
	pound = "NIST SP 811 (2008) App. B: avoirdupois pound 0.45359237 kg of 16 ounces, exact"
	grip  = "Am J Occup Ther 2024;78(5):7805205140: three grip tries by three raters, in healthy adults"
	t95   = "Student's t, two-sided for the interval and one-sided for the lower bound: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2"
	// shares is what the reserve bands lean on.
	shares = "own proposal; Scand J Work Environ Health 1977 measured one-hour limits of 14 % (on and off) and 7.9 % (unbroken) of strength, not with wheelchair controls"
	metres = "own proposal; at 6 km/h each second is 1.7 m"
	partOf = "own proposal: less does not make a rate, unless it is already the worst"
)

// thresholds is read only.
var thresholds = [...]Threshold{
	{"gram-force", newtonPerGF, "N", si, StatusPublished},
	{"pound-force", gfPerLBF, "gf", pound, StatusPublished},
	{"ounce-force", gfPerOZF, "gf", pound, StatusPublished},
	{"repeats-wanted", RepeatsWanted, "readings", grip, StatusPublished},
	{"repeats-most", RepeatsMost, "readings", trade, StatusPractice},
	{"confidence", 95, "%", t95, StatusPublished},
	{"spread-steady", SpreadSteady, "%", ours, StatusProposal},
	{"spread-steady-weak", SpreadSteadyLow, "%", ours, StatusProposal},
	{"weak-mean", WeakMean, "gf", ours, StatusProposal},
	{"odd-reading", OddTrial, "times the middle reading", ours, StatusProposal},
	{"tired-factor", TiredFactor, "", "own proposal; stands in for a tired reading until there is one", StatusProposal},
	{"releases-wanted", ReleasesWanted, "releases", trade, StatusPractice},
	{"hold-counted", HoldCounted, "s", trade, StatusPractice},
	{"reserve-over-light", ReserveOverLight, "", shares, StatusProposal},
	{"reserve-roomy", ReserveRoomy, "", shares, StatusProposal},
	{"reserve-workable", ReserveWorkable, "", shares, StatusProposal},
	{"reserve-tight", ReserveTight, "", "own proposal; trade habit asks two to three times the operating force", StatusProposal},
	{"travel-enough", TravelEnough, "", ours, StatusProposal},
	{"travel-just", TravelJust, "", ours, StatusProposal},
	{"noise-quiet", NoiseQuiet, "", ours, StatusProposal},
	{"noise-near", NoiseNear, "", ours, StatusProposal},
	{"release-prompt", ReleasePrompt, "s", metres, StatusProposal},
	{"release-slow", ReleaseSlow, "s", metres, StatusProposal},
	{"pain-mild", PainMild, "of 10", ours, StatusProposal},
	{"pain-bothers", PainBothers, "of 10", ours, StatusProposal},
	{"rough-heavy", RoughHeavy, "gf", ours, StatusProposal},
	{"rough-light", RoughLight, "gf", ours, StatusProposal},
	{"light-control", LightControl, "gf", ours, StatusProposal},
	{"rough-unmeant-few", RoughUnmeantFew, "per 20 m", ours, StatusProposal},
	{"rough-unmeant-most", RoughUnmeantTop, "per 20 m", ours, StatusProposal},
	{"fading-little", FadingLittle, "", ours, StatusProposal},
	{"fading-much", FadingMuch, "", ours, StatusProposal},
	{"hold-long", HoldLong, "s", ours, StatusProposal},
	{"hold-brief", HoldBrief, "s", ours, StatusProposal},
	{"contacts-per", ContactsPer, "m", trade, StatusPractice},
	{"prompts-per", RatesPer, "s", trade, StatusPractice},
	{"rough-per", RoughPer, "m", trade, StatusPractice},
	{"rate-least-part", RateLeastPart, "of that distance or time", partOf, StatusProposal},
	{"sides-unequal", SidesUnequal, "things", ours, StatusProposal},
	{"coverage-score", CoverageScore, "%", ours, StatusProposal},
	{"coverage-gate", CoverageGate, "%", ours, StatusProposal},
	{"teach-back-least", TeachLeast, "of 5", ours, StatusProposal},
	{"outdoor-least", OutdoorLeast, "items", ours, StatusProposal},
	{"runs-wanted", RunsWanted, "runs, one of them tired", ours, StatusProposal},
	{"override-text", OverrideText, "characters", ours, StatusProposal},
	{"override-days", OverrideDays, "days", ours, StatusProposal},
	{"override-steps", OverrideSteps, "level up", ours, StatusProposal},
}
