package endurance

import (
	"doorsill/internal/engine/basis"
)

// Control is what a control asks for full command.
type Control struct {
	ID string
	// Needed is the force to full command, above 0, in the unit of the
	// strengths.
	Needed float64
}

// Strength is what a site can do in one direction.
type Strength struct {
	Site, Direction string
	// Usable is the usable force, above 0, in the unit of the controls;
	// basis.NotMeasured() where nobody measured it.
	Usable float64
}

// ShareRow is the share of strength that one control asks in one direction.
type ShareRow struct {
	Control, Site, Direction string
	// Share is needed / usable, 4 decimals. Above 1 the control asks more
	// than the person has. It has a meaning only when Err is nil.
	Share float64
	// Say is one sentence with the figure, or with what is missing.
	Say string
	// Err is a *basis.Refusal when there is no share.
	Err error
	basis.Basis
}

// ShareOf returns the share of strength that a force asks:
//
//	share = needed / usable
//
// Both forces are above 0 and in the same unit; the share has none and is
// rounded to 4 decimals. Above 1 the force is more than the person has. It
// refuses zero, negative and missing forces. By definition; no source needed.
func ShareOf(needed, usable float64) (float64, error) {
	err := basis.First(
		basis.Above("force that the control needs", needed, mostForce, "",
			"The person's own strength can still be shown."),
		basis.Above("usable force", usable, mostForce, "",
			"Measure this direction three times; what the control needs can still be shown."),
	)
	if err != nil {
		return 0, err
	}
	return basis.Round(needed/usable, 4), nil
}

func shareBasis() basis.Basis {
	return basis.Basis{
		Formula: "share = force to full command / usable force in that direction",
		Source:  "definition of relative force (percent of maximum), as used by every endurance study",
		Status:  basis.Published,
	}
}

// Shares returns a row for every control and every strength, in order, also
// for those that cannot be given: these say what is missing.
func Shares(controls []Control, strengths []Strength) []ShareRow {
	rows := make([]ShareRow, 0, len(controls)*len(strengths))
	for _, c := range controls {
		for _, s := range strengths {
			rows = append(rows, shareRow(c, s))
		}
	}
	return rows
}

func shareRow(c Control, s Strength) ShareRow {
	row := ShareRow{Control: c.ID, Site: s.Site, Direction: s.Direction, Basis: shareBasis()}
	row.Share, row.Err = ShareOf(c.Needed, s.Usable)
	switch {
	case row.Err != nil:
		row.Say = row.Err.Error()
	case row.Share > 1:
		row.Say = "Asks " + basis.Percent(row.Share) + " of the strength: more than there is."
	default:
		row.Say = "Asks " + basis.Percent(row.Share) + " of the strength."
	}
	return row
}

// Worst returns the row that asks the largest share of a control at a site.
// It reports false when no direction has a share.
func Worst(rows []ShareRow, control, site string) (ShareRow, bool) {
	var worst ShareRow
	found := false
	for _, r := range rows {
		if r.Control != control || r.Site != site || r.Err != nil {
			continue
		}
		if !found || r.Share > worst.Share {
			worst, found = r, true
		}
	}
	return worst, found
}
