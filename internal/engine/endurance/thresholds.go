package endurance

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
	{ID: "hold-least-share", Value: LeastShare, Source: message.New(holdSource), Status: provenance.Published},
	{ID: "hold-band", Value: 100 * BandWide, Unit: "%", Source: message.New(holdSource), Status: provenance.Published},
	{ID: "hour-on-and-off", Value: HourIntermittent, Source: message.New(hourSource), Status: provenance.Published},
	{ID: "hour-unbroken", Value: HourSustained, Source: message.New(hourSource), Status: provenance.Published},
	{ID: "strain-limit", Value: StrainLimit, Source: message.New(strainSource), Status: provenance.FromMemory},
	{ID: "neck-share", Value: NeckShare, Source: message.New(neckReview), Status: provenance.Published},
	{ID: "many-commands", Value: ManyCommands, Unit: "per-day", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "pain-caution", Value: PainCaution, Unit: "of-ten", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "pain-refer", Value: PainRefer, Unit: "of-ten", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "recheck-stable", Value: WeeksStable, Unit: "weeks", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "recheck-slow", Value: WeeksSlow, Unit: "weeks", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "recheck-short", Value: WeeksShort, Unit: "weeks", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "recheck-early", Value: WeeksEarly, Unit: "weeks", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "recheck-soonest", Value: WeeksSoonest, Unit: "weeks", Source: message.New(ours), Status: provenance.Proposal},
}
