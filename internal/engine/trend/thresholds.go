package trend

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// EachThreshold hands over the numbers that results of this package are
// compared with, in the order of use.
func EachThreshold(yield func(*provenance.Threshold)) {
	for i := range thresholds {
		yield(&thresholds[i])
	}
}

const ours = "source.own"

// thresholds is read only.
var thresholds = [...]provenance.Threshold{
	{ID: "noise-share", Value: 100 * NoiseShare, Unit: "%", Source: message.New("source.own-noise-share"), Status: provenance.Proposal},
	{ID: "noise-force", Value: NoiseForceGF, Unit: "gf", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "noise-travel", Value: NoiseTravelMM, Unit: "mm", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "noise-time", Value: NoiseTimeS, Unit: "s", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "noise-domain", Value: NoiseDomain, Unit: "points", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "noise-coverage", Value: LeastCoverage, Unit: "%", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "forecast-visits", Value: LeastVisits, Unit: "visits", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "forecast-weeks", Value: LeastWeeks, Unit: "weeks", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "forecast-confidence", Value: 100 * Confidence, Unit: "%", Source: message.New("source.line"), Status: provenance.Published},
	{ID: "forecast-few", Value: FewVisits, Unit: "visits", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "forecast-scatter", Value: 100 * NoiseFloor, Unit: "%", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "forecast-band", Value: 100 * BandShare, Unit: "percent-of-slope", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "forecast-tired", Value: TiredFactor, Source: message.New(ours), Status: provenance.Proposal},
	{ID: "forecast-slack", Value: DeliverySlack, Unit: "weeks", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "forecast-farthest", Value: FarthestWeeks, Unit: "weeks", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "look-runs-out", Value: LookRunsOut, Unit: "weeks", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "look-short", Value: LookShort, Unit: "weeks", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "agreement-pairs", Value: PairsForKappa, Unit: "pairs", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "agreement-trials", Value: LeastTrials, Unit: "trials", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "agreement-same", Value: SameTarget, Unit: "%", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "agreement-within", Value: WithinTarget, Unit: "%", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "agreement-kappa", Value: KappaTarget, Source: message.New(ours), Status: provenance.Proposal},
	{ID: "agreement-force", Value: 100 * ForceApart, Unit: "%", Source: message.New(ours), Status: provenance.Proposal},
}
