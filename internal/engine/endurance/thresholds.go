package endurance

import "doorsill/internal/engine/basis"

// Thresholds lists the numbers that results of this package are compared
// with, in the order of use.
func Thresholds() []basis.Threshold {
	hold, hour, strain := holdBasis().Source, hourBasis().Source, strainBasis().Source
	const ours = "own proposal"
	return []basis.Threshold{
		{ID: "hold-least-share", Value: LeastShare, Source: hold, Status: basis.Published},
		{ID: "hold-band", Value: 100 * BandWide, Unit: "%", Source: hold, Status: basis.Published},
		{ID: "hour-on-and-off", Value: HourIntermittent, Source: hour, Status: basis.Published},
		{ID: "hour-unbroken", Value: HourSustained, Source: hour, Status: basis.Published},
		{ID: "strain-limit", Value: StrainLimit, Source: strain, Status: basis.FromMemory},
		{ID: "neck-share", Value: NeckShare, Source: neckReview, Status: basis.Published},
		{ID: "many-commands", Value: ManyCommands, Unit: "a day", Source: ours, Status: basis.Proposal},
		{ID: "pain-caution", Value: PainCaution, Unit: "of 10", Source: ours, Status: basis.Proposal},
		{ID: "pain-refer", Value: PainRefer, Unit: "of 10", Source: ours, Status: basis.Proposal},
		{ID: "recheck-stable", Value: WeeksStable, Unit: "weeks", Source: ours, Status: basis.Proposal},
		{ID: "recheck-slow", Value: WeeksSlow, Unit: "weeks", Source: ours, Status: basis.Proposal},
		{ID: "recheck-short", Value: WeeksShort, Unit: "weeks", Source: ours, Status: basis.Proposal},
		{ID: "recheck-early", Value: WeeksEarly, Unit: "weeks", Source: ours, Status: basis.Proposal},
		{ID: "recheck-soonest", Value: WeeksSoonest, Unit: "weeks", Source: ours, Status: basis.Proposal},
	}
}
