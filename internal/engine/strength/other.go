package strength

// For works out what the same readings come to for another control, or at
// another site. It writes no notes.
func (a *Analysis) For(setup *Setup) Analysis {
	other := Analysis{Sites: a.Sites}
	other.against(setup)
	return other
}

// HasForce reports whether usable force was read at the site.
func (s *Site) HasForce() bool { return s.support[Force].any() }
