package endurance

import "doorsill/internal/engine/provenance"

// EachThreshold hands over the numbers that results of this package are
// compared with, in the order of use.
func EachThreshold(yield func(*provenance.Threshold)) {
	for i := range thresholds {
		yield(&thresholds[i])
	}
}

const ours = "own proposal"

// thresholds is read only.
var thresholds = [...]provenance.Threshold{
	{ID: "hold-least-share", Value: LeastShare, Source: holdSource, Status: provenance.Published},
	{ID: "hold-band", Value: 100 * BandWide, Unit: "%", Source: holdSource, Status: provenance.Published},
	{ID: "hour-on-and-off", Value: HourIntermittent, Source: hourSource, Status: provenance.Published},
	{ID: "hour-unbroken", Value: HourSustained, Source: hourSource, Status: provenance.Published},
	{ID: "strain-limit", Value: StrainLimit, Source: strainSource, Status: provenance.FromMemory},
	{ID: "neck-share", Value: NeckShare, Source: neckReview, Status: provenance.Published},
	{ID: "many-commands", Value: ManyCommands, Unit: "a day", Source: ours, Status: provenance.Proposal},
	{ID: "pain-caution", Value: PainCaution, Unit: "of 10", Source: ours, Status: provenance.Proposal},
	{ID: "pain-refer", Value: PainRefer, Unit: "of 10", Source: ours, Status: provenance.Proposal},
	{ID: "recheck-stable", Value: WeeksStable, Unit: "weeks", Source: ours, Status: provenance.Proposal},
	{ID: "recheck-slow", Value: WeeksSlow, Unit: "weeks", Source: ours, Status: provenance.Proposal},
	{ID: "recheck-short", Value: WeeksShort, Unit: "weeks", Source: ours, Status: provenance.Proposal},
	{ID: "recheck-early", Value: WeeksEarly, Unit: "weeks", Source: ours, Status: provenance.Proposal},
	{ID: "recheck-soonest", Value: WeeksSoonest, Unit: "weeks", Source: ours, Status: provenance.Proposal},
}
