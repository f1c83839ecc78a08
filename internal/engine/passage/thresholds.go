package passage

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
	for i := range references {
		r := &references[i]
		yield(&provenance.Threshold{ID: "ada-" + r.ID, Value: r.Value, Unit: r.Unit,
			Source: message.New("source.reference", message.Word("standard", r.Standard), message.Word("section", r.Section)), Status: r.Status})
	}
}

const (
	ours      = "source.own"
	afterRamp = "source.own-after-ramp-slope"
)

// thresholds is read only.
var thresholds = [...]provenance.Threshold{
	{ID: "passage-clearance", Value: DefaultClearanceMM, Unit: "mm-each-side", Source: message.New(ours), Status: provenance.Proposal},
	{ID: "ramp-gentle", Value: GentleOneIn, Unit: unitOneIn, Source: message.New(afterRamp), Status: provenance.Proposal},
	{ID: "ramp-steep", Value: SteepOneIn, Unit: unitOneIn, Source: message.New(afterRamp), Status: provenance.Proposal},
	{ID: "ramp-very-steep", Value: VerySteepOneIn, Unit: unitOneIn, Source: message.New(afterRamp), Status: provenance.Proposal},
	{ID: "sill-low", Value: LowThreshold, Unit: unitMM, Source: message.New("source.own-after-threshold"), Status: provenance.Proposal},
	{ID: "sill-bump", Value: BumpThreshold, Unit: unitMM, Source: message.New(ours), Status: provenance.Proposal},
	{ID: "sill-wedge", Value: WedgeThreshold, Unit: unitMM, Source: message.New(ours), Status: provenance.Proposal},
}
