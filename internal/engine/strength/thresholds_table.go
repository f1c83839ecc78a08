package strength

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// EachThreshold hands over every number that results depend on, with where it
// comes from.
func EachThreshold(yield func(*provenance.Threshold)) {
	for i := range thresholds {
		yield(&thresholds[i])
	}
	for _, c := range classes {
		yield(&provenance.Threshold{ID: "class-" + c.ID + "-force", Value: c.OperateGF, Unit: "gf", Source: message.New(trade), Status: provenance.Practice})
		if c.TravelMM != 0 {
			yield(&provenance.Threshold{ID: "class-" + c.ID + "-travel", Value: c.TravelMM, Unit: "mm", Source: message.New(trade), Status: provenance.Practice})
		}
	}
	for _, g := range gates {
		yield(&provenance.Threshold{ID: "gate-" + g.Level + "-" + g.Section, Value: float64(g.Least), Unit: "of-hundred", Source: message.New(ours), Status: provenance.Proposal})
	}
}

const (
	ours  = "source.own-from-habit"
	trade = "source.trade-habit"
	si    = "source.standard-gravity"
	pound = "source.pound"
	grip  = "source.grip-tries"
	t95   = "source.student-t"
	// shares is what the reserve bands lean on.
	shares = "source.own-reserve"
	metres = "source.own-release"
	partOf = "source.own-rate"
)

// thresholds is read only.
var thresholds = [...]provenance.Threshold{
	{ID: "gram-force", Value: model.NewtonPerGF, Unit: "N", Source: message.New(si), Status: provenance.Published},
	{ID: "pound-force", Value: model.GFPerLBF, Unit: "gf", Source: message.New(pound), Status: provenance.Published},
	{ID: "ounce-force", Value: model.GFPerOZF, Unit: "gf", Source: message.New(pound), Status: provenance.Published},
	{ID: "repeats-wanted", Value: RepeatsWanted, Unit: "readings", Source: message.New(grip), Status: provenance.Published},
	{ID: "repeats-apart", Value: RepeatsApart, Unit: "readings", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "tired-wanted", Value: TiredWanted, Unit: "readings", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "spread-least", Value: SpreadLeast, Unit: "%", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "confidence", Value: 95, Unit: "%", Source: message.New(t95), Status: provenance.Published},
	{ID: "spread-steady", Value: SpreadSteady, Unit: "%", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "spread-steady-weak", Value: SpreadSteadyLow, Unit: "%", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "weak-mean", Value: WeakMean, Unit: "gf", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "odd-reading", Value: OddTrial, Unit: "times-middle-reading", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "tired-factor", Value: TiredFactor, Source: message.New("source.own-tired-factor"), Status: provenance.Proposal},
	{ID: "releases-wanted", Value: ReleasesWanted, Unit: "releases", Source: message.New(trade), Status: provenance.Practice},
	{ID: "hold-counted", Value: HoldCounted, Unit: "s", Source: message.New(trade), Status: provenance.Practice},
	{ID: "reserve-over-light", Value: ReserveOverLight, Source: message.New(shares), Status: provenance.Proposal},
	{ID: "reserve-roomy", Value: ReserveRoomy, Source: message.New(shares), Status: provenance.Proposal},
	{ID: "reserve-workable", Value: ReserveWorkable, Source: message.New(shares), Status: provenance.Proposal},
	{ID: "reserve-tight", Value: ReserveTight, Source: message.New("source.own-tight-reserve"), Status: provenance.Proposal},
	{ID: "travel-enough", Value: TravelEnough, Source: message.New(ours), Status: provenance.Proposal},
	{ID: "travel-just", Value: TravelJust, Source: message.New(ours), Status: provenance.Proposal},
	{ID: "noise-quiet", Value: NoiseQuiet, Source: message.New(ours), Status: provenance.Proposal},
	{ID: "noise-near", Value: NoiseNear, Source: message.New(ours), Status: provenance.Proposal},
	{ID: "release-prompt", Value: ReleasePrompt, Unit: "s", Source: message.New(metres), Status: provenance.Proposal},
	{ID: "release-slow", Value: ReleaseSlow, Unit: "s", Source: message.New(metres), Status: provenance.Proposal},
	{ID: "pain-mild", Value: PainMild, Unit: "of-ten", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "pain-bothers", Value: PainBothers, Unit: "of-ten", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "rough-heavy", Value: RoughHeavy, Unit: "gf", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "light-control", Value: LightControl, Unit: "gf", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "rough-unmeant-few", Value: RoughUnmeantFew, Unit: "per-20-m", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "rough-unmeant-most", Value: RoughUnmeantTop, Unit: "per-20-m", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "fading-little", Value: FadingLittle, Source: message.New(ours), Status: provenance.Proposal},
	{ID: "fading-much", Value: FadingMuch, Source: message.New(ours), Status: provenance.Proposal},
	{ID: "hold-long", Value: HoldLong, Unit: "s", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "hold-brief", Value: HoldBrief, Unit: "s", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "seal-splash", Value: SealSplash, Unit: "as-second-digit", Source: message.New("source.splashing-water"), Status: provenance.Published},
	{ID: "helper-hand", Value: HelperHand, Unit: "gf", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "balance-even", Value: BalanceEven, Source: message.New(ours), Status: provenance.Proposal},
	{ID: "switch-proven", Value: SwitchProven, Source: message.New(ours), Status: provenance.Proposal},
	{ID: "throw-least", Value: ThrowLeast, Unit: "%", Source: message.New(trade), Status: provenance.Practice},
	{ID: "after-delivery", Value: AfterDelivery, Unit: "weeks", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "commands-wanted", Value: CommandsWanted, Unit: "commands", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "commands-sure", Value: CommandsSure, Unit: "%", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "commands-most", Value: CommandsMost, Unit: "%", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "unasked-few", Value: UnaskedFew, Unit: "per-10-min", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "unasked-most", Value: UnaskedMost, Unit: "per-10-min", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "steps-few", Value: StepsFew, Unit: "steps", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "steps-most", Value: StepsMost, Unit: "steps", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "command-slow", Value: CommandSlow, Unit: "s", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "contacts-per", Value: ContactsPer, Unit: "m", Source: message.New(trade), Status: provenance.Practice},
	{ID: "prompts-per", Value: RatesPer / 60, Unit: "min", Source: message.New(trade), Status: provenance.Practice},
	{ID: "rough-per", Value: RoughPer, Unit: "m", Source: message.New(trade), Status: provenance.Practice},
	{ID: "sides-unequal", Value: SidesUnequal, Unit: "things", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "coverage-score", Value: CoverageScore, Unit: "%", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "coverage-gate", Value: CoverageGate, Unit: "%", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "teach-back-least", Value: TeachLeast, Unit: "of-five", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "outdoor-least", Value: OutdoorLeast, Unit: "items", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "runs-wanted", Value: RunsWanted, Unit: "runs-one-tired", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "override-text", Value: OverrideText, Unit: "characters", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "override-days", Value: OverrideDays, Unit: "days", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "override-steps", Value: OverrideSteps, Unit: "level-up", Source: message.New(ours), Status: provenance.Proposal},
}
