package passage

import "doorsill/internal/engine/provenance"

// EachThreshold hands over the numbers that results of this package are
// compared with, in the order of use.
func EachThreshold(yield func(*provenance.Threshold)) {
	for i := range thresholds {
		yield(&thresholds[i])
	}
	for i := range references {
		r := &references[i]
		yield(&provenance.Threshold{ID: "ada-" + r.ID, Value: r.Value, Unit: r.Unit,
			Source: r.Standard + " " + r.Section + "; " + CheckLocalCode, Status: r.Status})
	}
}

const (
	ours      = "own proposal"
	afterRamp = "own proposal after 2010 ADA Standards 405.2"
)

// thresholds is read only.
var thresholds = [...]provenance.Threshold{
	{ID: "passage-clearance", Value: DefaultClearanceMM, Unit: "mm on each side", Source: ours, Status: provenance.Proposal},
	{ID: "ramp-gentle", Value: GentleOneIn, Unit: unitOneIn, Source: afterRamp, Status: provenance.Proposal},
	{ID: "ramp-steep", Value: SteepOneIn, Unit: unitOneIn, Source: afterRamp, Status: provenance.Proposal},
	{ID: "ramp-very-steep", Value: VerySteepOneIn, Unit: unitOneIn, Source: afterRamp, Status: provenance.Proposal},
	{ID: "sill-low", Value: LowThreshold, Unit: unitMM, Source: "own proposal after 2010 ADA Standards 404.2.5", Status: provenance.Proposal},
	{ID: "sill-bump", Value: BumpThreshold, Unit: unitMM, Source: ours, Status: provenance.Proposal},
	{ID: "sill-wedge", Value: WedgeThreshold, Unit: unitMM, Source: ours, Status: provenance.Proposal},
}
