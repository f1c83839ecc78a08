package strength

import "doorsill/internal/model"

// Series is a list of readings of which only the count and the ends matter.
type Series struct {
	N          int
	Least, Top float64
}

func (s *Series) add(value float64) { s.join(Series{N: 1, Least: value, Top: value}) }

func (s *Series) join(other Series) {
	switch {
	case other.N == 0:
	case s.N == 0:
		*s = other
	default:
		s.N += other.N
		s.Least, s.Top = min(s.Least, other.Least), max(s.Top, other.Top)
	}
}

// Handling is what was found while a control was worked at a site, rested and
// tired together.
type Handling struct {
	Holds, Releases, Unintended Series
	// Missed counts releases that did not come.
	Missed int
	// Borrowed: it was found with other controls.
	Borrowed bool
}

// handling is what was found with one control.
type handling struct {
	control model.InUse
	Handling
}

// handle keeps a reading for the control that it was taken with.
func (s *Site) handle(r *Reading) {
	if r.What != Hold && r.What != Release && r.What != Unintended {
		return
	}
	control, at := model.InUse{Class: r.Class, Control: r.Control}, 0
	for at < len(s.handled) && s.handled[at].control != control {
		at++
	}
	if at == len(s.handled) {
		s.handled = append(s.handled, handling{control: control})
	}
	h := &s.handled[at].Handling
	switch {
	case r.What == Hold:
		h.Holds.add(r.Value)
	case r.What == Unintended:
		h.Unintended.add(r.Value)
	case r.Missed:
		h.Missed++
	default:
		h.Releases.add(r.Value)
	}
}

// With returns what was found with the control of a set-up at the site; a
// reading that names no control counts for each.
func (s *Site) With(setup *Setup) Handling {
	control := model.InUse{Class: setup.Class, Control: setup.Control}
	own := s.handlings(func(other model.InUse) bool { return other.Same(control) })
	if setup.Borrow && own == (Handling{}) {
		own = s.handlings(func(model.InUse) bool { return true })
		own.Borrowed = own != (Handling{})
	}
	return own
}

// Others counts the readings at the site that were taken with another control.
func (s *Site) Others(setup *Setup) int {
	control := model.InUse{Class: setup.Class, Control: setup.Control}
	other := s.handlings(func(other model.InUse) bool { return !other.Same(control) })
	return other.Holds.N + other.Releases.N + other.Unintended.N + other.Missed
}

func (s *Site) handlings(count func(model.InUse) bool) Handling {
	var sum Handling
	for i := range s.handled {
		if h := &s.handled[i]; count(h.control) {
			sum.Holds.join(h.Holds)
			sum.Releases.join(h.Releases)
			sum.Unintended.join(h.Unintended)
			sum.Missed += h.Missed
		}
	}
	return sum
}
