package model

import "slices"

// InUse names the control and site that something was found with: the class and
// the team's name for the control, as in the set-up. An empty class says that
// nobody knows which control it was.
type InUse struct{ Class, Control, Site string }

// InUse is the control and site of the set-up.
func (s *SetupChosen) InUse() InUse { return InUse{s.Class, s.Control, s.Site} }

// InUse is the control and site that the run was driven with.
func (r *RunTimed) InUse() InUse { return InUse{r.Class, r.Control, r.Site} }

// InUse is the control that was worked, and the site of the reading.
func (r *ReadingTaken) InUse() InUse { return InUse{r.Class, r.Control, r.Site} }

// InUse is the control and site that the answer was given about.
func (a *AnswerGiven) InUse() InUse { return InUse{a.Class, a.Control, a.Site} }

// Same reports whether two may be the same control at the same site. What nobody
// said keeps nothing apart: a control without a name is any of its class, and
// one without a class is any.
func (u InUse) Same(other InUse) bool {
	return alike(u.Site, other.Site) && alike(u.Class, other.Class) && alike(u.Control, other.Control)
}

func alike(a, b string) bool { return a == b || a == "" || b == "" }

// OfControl reports whether a reading says something of the control that was
// worked, and not of the person alone.
func (r *ReadingTaken) OfControl() bool {
	switch r.What {
	case ReadHold, ReadRelease, ReadUnintended, ReadCommand, ReadStopCommand, ReadUnasked, ReadSteps, ReadBreath:
		return true
	}
	return false
}

// ControlItems returns the items of the standard checklist whose answers are
// about the control and site in use.
func ControlItems() []string { return []string{"ctl-pain", "ctl-strain", "ctl-grade"} }

// OfControl reports whether an answer is about the control and site in use.
func (a *AnswerGiven) OfControl() bool { return slices.Contains(ControlItems(), a.Item) }

// Assume takes a control for the one that a run was driven with, unless the run
// names one.
func (r *RunTimed) Assume(u InUse) {
	if r.InUse() == (InUse{}) {
		r.Class, r.Control, r.Site = u.Class, u.Control, u.Site
	}
}

// Assume does the same for a reading at the site of the control.
func (r *ReadingTaken) Assume(u InUse) {
	if r.OfControl() && r.Class == "" && r.Site == u.Site {
		r.Class, r.Control = u.Class, u.Control
	}
}

// Assume does the same for an answer about a control.
func (a *AnswerGiven) Assume(u InUse) {
	if a.OfControl() && a.InUse() == (InUse{}) {
		a.Class, a.Control, a.Site = u.Class, u.Control, u.Site
	}
}
