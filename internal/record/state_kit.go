package record

// Control is the fold of one control's events: what the team knows of it.
type Control struct {
	ID string `json:"id"`
	Stamp
	ControlListed
}

// Needs is how and where the person will drive, with the stamp of the last
// statement.
type Needs struct {
	Stamp
	NeedsNoted
}

// Chair is the chair's outline with its stamp.
type Chair struct {
	Stamp
	ChairMeasured
}

// Place is a passage of the home with its stamp.
type Place struct {
	Stamp
	PlaceMeasured
}

// Setting is one change of a setting with its stamp.
type Setting struct {
	Stamp
	SettingChanged
	// Tried is how it went, nil while nobody said.
	Tried *Tried `json:"tried,omitempty"`
}

// Tried is what a change of a setting did, with its stamp.
type Tried struct {
	Stamp
	SettingTried
}

// Mount is the mounting sheet with its stamp.
type Mount struct {
	Stamp
	MountNoted
}
