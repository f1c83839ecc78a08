package passage

import "doorsill/internal/engine/basis"

// Thresholds lists the numbers that results of this package are compared
// with, in the order of use.
func Thresholds() []basis.Threshold {
	const ours = "own proposal"
	list := []basis.Threshold{
		{ID: "passage-clearance", Value: DefaultClearanceMM, Unit: "mm on each side", Source: ours, Status: basis.Proposal},
		{ID: "ramp-gentle", Value: GentleOneIn, Unit: unitOneIn, Source: "own proposal after 2010 ADA Standards 405.2", Status: basis.Proposal},
		{ID: "ramp-steep", Value: SteepOneIn, Unit: unitOneIn, Source: "own proposal after 2010 ADA Standards 405.2", Status: basis.Proposal},
		{ID: "ramp-very-steep", Value: VerySteepOneIn, Unit: unitOneIn, Source: "own proposal after 2010 ADA Standards 405.2", Status: basis.Proposal},
		{ID: "sill-low", Value: LowSill, Unit: unitMM, Source: "own proposal after 2010 ADA Standards 404.2.5", Status: basis.Proposal},
		{ID: "sill-bump", Value: BumpSill, Unit: unitMM, Source: ours, Status: basis.Proposal},
		{ID: "sill-wedge", Value: WedgeSill, Unit: unitMM, Source: ours, Status: basis.Proposal},
	}
	for _, r := range References() {
		list = append(list, basis.Threshold{ID: "ada-" + r.ID, Value: r.Value, Unit: r.Unit,
			Source: r.Standard + " " + r.Section + "; " + CheckLocalCode, Status: r.Status})
	}
	return list
}
