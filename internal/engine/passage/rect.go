package passage

import "doorsill/internal/engine/provenance"

// rect is a chair as a rectangle, with the drive axle FrontMM behind the foremost
// and RearMM before the rearmost point.
type rect struct{ FrontMM, RearMM, WidthMM float64 }

// reaches are the distances from the axle to the front and rear corners.
func (r rect) reaches() (front, rear float64) {
	half := r.WidthMM / 2
	return Point{r.FrontMM, half}.length(), Point{r.RearMM, half}.length()
}

func pivotProvenance() provenance.Provenance {
	return provenance.Of("formula.turn-on-spot", "source.geometry-of-turn-on-spot", provenance.Derived)
}

func cornerProvenance() provenance.Provenance {
	return provenance.Of("formula.corner", "source.geometry-of-corner", provenance.Derived)
}

func doorwayProvenance() provenance.Provenance {
	return provenance.Of("formula.doorway", "source.geometry-of-doorway", provenance.Derived)
}
