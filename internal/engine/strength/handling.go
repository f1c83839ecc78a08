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
	// Commands and Stops are the commands that came when they were asked, and the
	// stop commands among them apart; the others count those that did not.
	Commands, Stops             Series
	CommandsMissed, StopsMissed int
	// Unasked is commands that nobody asked in ten minutes, Steps the presses that
	// a command takes; Breath and BreathTired are pressures.
	Unasked, Steps, Breath, BreathTired Series
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
	switch r.What {
	case Hold, Release, Unintended, Command, StopCommand, Unasked, Steps, Breath:
	default:
		return
	}
	control, at := model.InUse{Class: r.Class, Control: r.Control}, 0
	for at < len(s.handled) && s.handled[at].control != control {
		at++
	}
	if at == len(s.handled) {
		s.handled = append(s.handled, handling{control: control})
	}
	s.handled[at].take(r)
}

func (h *Handling) take(r *Reading) {
	switch r.What {
	case Hold:
		h.Holds.add(r.Value)
	case Unintended:
		h.Unintended.add(r.Value)
	case Command:
		h.Commands.try(r, &h.CommandsMissed)
	case StopCommand:
		h.Stops.try(r, &h.StopsMissed)
	case Unasked:
		h.Unasked.add(r.Value)
	case Steps:
		h.Steps.add(r.Value)
	case Breath:
		if r.Tired {
			h.BreathTired.add(r.Value)
		} else {
			h.Breath.add(r.Value)
		}
	default:
		h.Releases.try(r, &h.Missed)
	}
}

// try counts something that was asked: one that came, or one that was missed.
func (s *Series) try(r *Reading, missed *int) {
	if r.Missed {
		*missed++
		return
	}
	s.add(r.Value)
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
	n := other.Missed + other.CommandsMissed + other.StopsMissed
	for _, s := range [...]*Series{&other.Holds, &other.Releases, &other.Unintended, &other.Commands, &other.Stops, &other.Unasked, &other.Steps, &other.Breath, &other.BreathTired} {
		n += s.N
	}
	return n
}

func (s *Site) handlings(count func(model.InUse) bool) Handling {
	var sum Handling
	for i := range s.handled {
		if h := &s.handled[i]; count(h.control) {
			sum.join(&h.Handling)
		}
	}
	return sum
}

func (h *Handling) join(other *Handling) {
	h.Holds.join(other.Holds)
	h.Releases.join(other.Releases)
	h.Unintended.join(other.Unintended)
	h.Commands.join(other.Commands)
	h.Stops.join(other.Stops)
	h.Unasked.join(other.Unasked)
	h.Steps.join(other.Steps)
	h.Breath.join(other.Breath)
	h.BreathTired.join(other.BreathTired)
	h.Missed += other.Missed
	h.CommandsMissed += other.CommandsMissed
	h.StopsMissed += other.StopsMissed
}
