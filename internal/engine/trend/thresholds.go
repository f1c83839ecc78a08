package trend

import "doorsill/internal/engine/basis"

// Thresholds lists the numbers that results of this package are compared
// with, in the order of use.
func Thresholds() []basis.Threshold {
	const ours = "own proposal"
	list := []basis.Threshold{
		{ID: "noise-share", Value: 100 * NoiseShare, Unit: "%", Source: "own proposal; published grip work gives about 15 % with three tries"},
		{ID: "noise-force", Value: NoiseForceGF, Unit: "gf", Source: ours},
		{ID: "noise-travel", Value: NoiseTravelMM, Unit: "mm", Source: ours},
		{ID: "noise-time", Value: NoiseTimeS, Unit: "s", Source: ours},
		{ID: "noise-domain", Value: NoiseDomain, Unit: "points", Source: ours},
		{ID: "noise-coverage", Value: LeastCoverage, Unit: "%", Source: ours},
		{ID: "forecast-visits", Value: LeastVisits, Unit: "visits", Source: ours},
		{ID: "forecast-weeks", Value: LeastWeeks, Unit: "weeks", Source: ours},
		{ID: "forecast-band", Value: 100 * BandShare, Unit: "% of the slope", Source: ours},
		{ID: "forecast-tired", Value: TiredFactor, Source: ours},
		{ID: "forecast-slack", Value: DeliverySlack, Unit: "weeks", Source: ours},
		{ID: "forecast-farthest", Value: FarthestWeeks, Unit: "weeks", Source: ours},
		{ID: "agreement-pairs", Value: PairsForKappa, Unit: "pairs", Source: ours},
		{ID: "agreement-same", Value: SameTarget, Unit: "%", Source: ours},
		{ID: "agreement-within", Value: WithinTarget, Unit: "%", Source: ours},
		{ID: "agreement-kappa", Value: KappaTarget, Source: ours},
		{ID: "agreement-force", Value: 100 * ForceApart, Unit: "%", Source: ours},
	}
	for i := range list {
		list[i].Status = basis.Proposal
	}
	return list
}
