package strength

import "doorsill/internal/engine/provenance"

// EachThreshold hands over every number that results depend on, with where it
// comes from.
func EachThreshold(yield func(*provenance.Threshold)) {
	for i := range thresholds {
		yield(&thresholds[i])
	}
	for _, c := range classes {
		yield(&provenance.Threshold{ID: "class-" + c.ID + "-force", Value: c.OperateGF, Unit: "gf", Source: trade, Status: provenance.Practice})
		if c.TravelMM > 0 {
			yield(&provenance.Threshold{ID: "class-" + c.ID + "-travel", Value: c.TravelMM, Unit: "mm", Source: trade, Status: provenance.Practice})
		}
	}
	for _, g := range gates {
		yield(&provenance.Threshold{ID: "gate-" + g.Level + "-" + g.Section, Value: float64(g.Least), Unit: "of 100", Source: ours, Status: provenance.Proposal})
	}
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
var thresholds = [...]provenance.Threshold{
	{ID: "gram-force", Value: newtonPerGF, Unit: "N", Source: si, Status: provenance.Published},
	{ID: "pound-force", Value: gfPerLBF, Unit: "gf", Source: pound, Status: provenance.Published},
	{ID: "ounce-force", Value: gfPerOZF, Unit: "gf", Source: pound, Status: provenance.Published},
	{ID: "repeats-wanted", Value: RepeatsWanted, Unit: "readings", Source: grip, Status: provenance.Published},
	{ID: "repeats-most", Value: RepeatsMost, Unit: "readings", Source: trade, Status: provenance.Practice},
	{ID: "confidence", Value: 95, Unit: "%", Source: t95, Status: provenance.Published},
	{ID: "spread-steady", Value: SpreadSteady, Unit: "%", Source: ours, Status: provenance.Proposal},
	{ID: "spread-steady-weak", Value: SpreadSteadyLow, Unit: "%", Source: ours, Status: provenance.Proposal},
	{ID: "weak-mean", Value: WeakMean, Unit: "gf", Source: ours, Status: provenance.Proposal},
	{ID: "odd-reading", Value: OddTrial, Unit: "times the middle reading", Source: ours, Status: provenance.Proposal},
	{ID: "tired-factor", Value: TiredFactor, Source: "own proposal; stands in for a tired reading until there is one", Status: provenance.Proposal},
	{ID: "releases-wanted", Value: ReleasesWanted, Unit: "releases", Source: trade, Status: provenance.Practice},
	{ID: "hold-counted", Value: HoldCounted, Unit: "s", Source: trade, Status: provenance.Practice},
	{ID: "reserve-over-light", Value: ReserveOverLight, Source: shares, Status: provenance.Proposal},
	{ID: "reserve-roomy", Value: ReserveRoomy, Source: shares, Status: provenance.Proposal},
	{ID: "reserve-workable", Value: ReserveWorkable, Source: shares, Status: provenance.Proposal},
	{ID: "reserve-tight", Value: ReserveTight, Source: "own proposal; trade habit asks two to three times the operating force", Status: provenance.Proposal},
	{ID: "travel-enough", Value: TravelEnough, Source: ours, Status: provenance.Proposal},
	{ID: "travel-just", Value: TravelJust, Source: ours, Status: provenance.Proposal},
	{ID: "noise-quiet", Value: NoiseQuiet, Source: ours, Status: provenance.Proposal},
	{ID: "noise-near", Value: NoiseNear, Source: ours, Status: provenance.Proposal},
	{ID: "release-prompt", Value: ReleasePrompt, Unit: "s", Source: metres, Status: provenance.Proposal},
	{ID: "release-slow", Value: ReleaseSlow, Unit: "s", Source: metres, Status: provenance.Proposal},
	{ID: "pain-mild", Value: PainMild, Unit: "of 10", Source: ours, Status: provenance.Proposal},
	{ID: "pain-bothers", Value: PainBothers, Unit: "of 10", Source: ours, Status: provenance.Proposal},
	{ID: "rough-heavy", Value: RoughHeavy, Unit: "gf", Source: ours, Status: provenance.Proposal},
	{ID: "rough-light", Value: RoughLight, Unit: "gf", Source: ours, Status: provenance.Proposal},
	{ID: "light-control", Value: LightControl, Unit: "gf", Source: ours, Status: provenance.Proposal},
	{ID: "rough-unmeant-few", Value: RoughUnmeantFew, Unit: "per 20 m", Source: ours, Status: provenance.Proposal},
	{ID: "rough-unmeant-most", Value: RoughUnmeantTop, Unit: "per 20 m", Source: ours, Status: provenance.Proposal},
	{ID: "fading-little", Value: FadingLittle, Source: ours, Status: provenance.Proposal},
	{ID: "fading-much", Value: FadingMuch, Source: ours, Status: provenance.Proposal},
	{ID: "hold-long", Value: HoldLong, Unit: "s", Source: ours, Status: provenance.Proposal},
	{ID: "hold-brief", Value: HoldBrief, Unit: "s", Source: ours, Status: provenance.Proposal},
	{ID: "seal-splash", Value: SealSplash, Unit: "as second digit", Source: "IEC 60529: second characteristic numeral 4, splashing water", Status: provenance.Published},
	{ID: "helper-hand", Value: HelperHand, Unit: "gf", Source: ours, Status: provenance.Proposal},
	{ID: "balance-even", Value: BalanceEven, Source: ours, Status: provenance.Proposal},
	{ID: "switch-proven", Value: SwitchProven, Source: ours, Status: provenance.Proposal},
	{ID: "throw-least", Value: ThrowLeast, Unit: "%", Source: trade, Status: provenance.Practice},
	{ID: "after-delivery", Value: AfterDelivery, Unit: "weeks", Source: ours, Status: provenance.Proposal},
	{ID: "contacts-per", Value: ContactsPer, Unit: "m", Source: trade, Status: provenance.Practice},
	{ID: "prompts-per", Value: RatesPer, Unit: "s", Source: trade, Status: provenance.Practice},
	{ID: "rough-per", Value: RoughPer, Unit: "m", Source: trade, Status: provenance.Practice},
	{ID: "rate-least-part", Value: RateLeastPart, Unit: "of that distance or time", Source: partOf, Status: provenance.Proposal},
	{ID: "sides-unequal", Value: SidesUnequal, Unit: "things", Source: ours, Status: provenance.Proposal},
	{ID: "coverage-score", Value: CoverageScore, Unit: "%", Source: ours, Status: provenance.Proposal},
	{ID: "coverage-gate", Value: CoverageGate, Unit: "%", Source: ours, Status: provenance.Proposal},
	{ID: "teach-back-least", Value: TeachLeast, Unit: "of 5", Source: ours, Status: provenance.Proposal},
	{ID: "outdoor-least", Value: OutdoorLeast, Unit: "items", Source: ours, Status: provenance.Proposal},
	{ID: "runs-wanted", Value: RunsWanted, Unit: "runs, one of them tired", Source: ours, Status: provenance.Proposal},
	{ID: "override-text", Value: OverrideText, Unit: "characters", Source: ours, Status: provenance.Proposal},
	{ID: "override-days", Value: OverrideDays, Unit: "days", Source: ours, Status: provenance.Proposal},
	{ID: "override-steps", Value: OverrideSteps, Unit: "level up", Source: ours, Status: provenance.Proposal},
}
