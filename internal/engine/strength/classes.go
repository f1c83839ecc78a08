package strength

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/model"
)

// Class is a kind of control, without a make.
type Class struct {
	ID string
	// OperateGF and TravelMM are what the kind usually asks; TravelMM is 0
	// where the trade gives no figure.
	OperateGF, TravelMM float64
	// Forceless controls may ask no force at all: breath, no-touch.
	Forceless bool
	// Status says how well the figures are founded.
	Status provenance.Status
}

// Classes lists the kinds of control that a driver works by force and whose
// usual figures the trade passes on, the heaviest first. Real controls differ
// between makes and with the height of the knob: a force measured on the
// actual control goes before these.
func Classes() [3]Class { return classes }

// classes is read only.
var classes = [...]Class{
	{ID: "standard", OperateGF: 250, TravelMM: 28, Status: provenance.Practice},
	{ID: "small", OperateGF: 50, Status: provenance.Practice},
	{ID: "very-light", OperateGF: 10, TravelMM: 3, Status: provenance.Practice},
}

// Forceless reports whether a kind of control can work without any force: no
// force given then means that it asks none, and not that it was forgotten.
func Forceless(id string) bool {
	switch id {
	case "switched", "breath", "scanning", "non-contact":
		return true
	}
	return false
}

// Switched reports whether a kind of control gives commands of all or nothing:
// switches, head pads, breath, scanning. They are judged by whether commands come
// when they are meant, and only then.
func Switched(id string) bool { return id == "switched" || id == "breath" || id == "scanning" }

// IsHeld reports whether the chair drives for as long as the control is held, so
// that it matters for how long somebody can hold it. Of a stick that is so unless
// somebody says otherwise; of what is switched only when somebody says so.
func (s *Setup) IsHeld() bool {
	if s.Mode == "" {
		return !Switched(s.Class)
	}
	return s.Mode == model.DriveHeld
}

// Travelless reports whether a kind of control can work with hardly any
// travel.
func Travelless(id string) bool { return id == "force-sensing" || Forceless(id) }
