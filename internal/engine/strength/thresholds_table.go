package strength

// Thresholds lists every number that results depend on, with where it comes
// from, in the order in which a result uses them.
func Thresholds() []Threshold {
	t := make(table, 0, 96)
	t.readings()
	t.control()
	t.trial()
	for _, g := range Gates() {
		t.proposal("gate-"+g.Level+"-"+g.Section, float64(g.Least), "of 100", ours)
	}
	t.override()
	return t
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

// table is the list in the making.
type table []Threshold

func (t *table) add(id string, value float64, unit, source, status string) {
	*t = append(*t, Threshold{ID: id, Value: value, Unit: unit, Source: source, Status: status})
}

func (t *table) proposal(id string, value float64, unit, source string) {
	t.add(id, value, unit, source, StatusProposal)
}

func (t *table) practice(id string, value float64, unit string) {
	t.add(id, value, unit, trade, StatusPractice)
}

func (t *table) readings() {
	t.add("gram-force", newtonPerGF, "N", si, StatusPublished)
	t.add("pound-force", gfPerLBF, "gf", pound, StatusPublished)
	t.add("ounce-force", gfPerOZF, "gf", pound, StatusPublished)
	t.add("repeats-wanted", RepeatsWanted, "readings", grip, StatusPublished)
	t.add("confidence", 95, "%", t95, StatusPublished)
	t.proposal("spread-steady", SpreadSteady, "%", ours)
	t.proposal("spread-steady-weak", SpreadSteadyLow, "%", ours)
	t.proposal("weak-mean", WeakMean, "gf", ours)
	t.proposal("odd-reading", OddTrial, "times the middle reading", ours)
	t.proposal("tired-factor", TiredFactor, "", "own proposal; stands in for a tired reading until there is one")
	t.practice("releases-wanted", ReleasesWanted, "releases")
	t.practice("hold-counted", HoldCounted, "s")
	t.proposal("reserve-over-light", ReserveOverLight, "", shares)
	t.proposal("reserve-roomy", ReserveRoomy, "", shares)
	t.proposal("reserve-workable", ReserveWorkable, "", shares)
	t.proposal("reserve-tight", ReserveTight, "", "own proposal; trade habit asks two to three times the operating force")
}

func (t *table) control() {
	t.proposal("travel-enough", TravelEnough, "", ours)
	t.proposal("travel-just", TravelJust, "", ours)
	t.proposal("noise-quiet", NoiseQuiet, "", ours)
	t.proposal("noise-near", NoiseNear, "", ours)
	t.proposal("release-prompt", ReleasePrompt, "s", metres)
	t.proposal("release-slow", ReleaseSlow, "s", metres)
	t.proposal("pain-mild", PainMild, "of 10", ours)
	t.proposal("pain-bothers", PainBothers, "of 10", ours)
	t.proposal("rough-heavy", RoughHeavy, "gf", ours)
	t.proposal("rough-light", RoughLight, "gf", ours)
	t.proposal("light-control", LightControl, "gf", ours)
	t.proposal("rough-unmeant-few", RoughUnmeantFew, "per 20 m", ours)
	t.proposal("rough-unmeant-most", RoughUnmeantTop, "per 20 m", ours)
	t.proposal("fading-little", FadingLittle, "", ours)
	t.proposal("fading-much", FadingMuch, "", ours)
	t.proposal("hold-long", HoldLong, "s", ours)
	t.proposal("hold-brief", HoldBrief, "s", ours)
	for _, c := range Classes() {
		t.practice("class-"+c.ID+"-force", c.OperateGF, "gf")
		if c.TravelMM > 0 {
			t.practice("class-"+c.ID+"-travel", c.TravelMM, "mm")
		}
	}
}

func (t *table) trial() {
	t.practice("contacts-per", ContactsPer, "m")
	t.practice("prompts-per", RatesPer, "s")
	t.practice("rough-per", RoughPer, "m")
	t.proposal("rate-least-part", RateLeastPart, "of that distance or time", partOf)
	t.proposal("sides-unequal", SidesUnequal, "things", ours)
	t.proposal("coverage-score", CoverageScore, "%", ours)
	t.proposal("coverage-gate", CoverageGate, "%", ours)
	t.proposal("teach-back-least", TeachLeast, "of 5", ours)
	t.proposal("outdoor-least", OutdoorLeast, "items", ours)
	t.proposal("runs-wanted", RunsWanted, "runs, one of them tired", ours)
}

func (t *table) override() {
	t.proposal("override-text", OverrideText, "characters", ours)
	t.proposal("override-days", OverrideDays, "days", ours)
	t.proposal("override-steps", OverrideSteps, "level up", ours)
}
