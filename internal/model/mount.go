package model

// MountNoted is the mounting sheet. The last one counts.
type MountNoted struct {
	// Kind is one of MountKinds; FixedTo is "seat", "back", "armrest" or
	// "tray".
	Kind    string `json:"kind" check:"oneof=MountKinds"`
	FixedTo string `json:"fixed_to" check:"oneof=FixedTo"`
	// Forward from the back post, Up from the seat, Side from the midline
	// (right positive), in millimetres.
	ForwardMM float64 `json:"forward_mm" check:"0..1200" unit:"mm"`
	UpMM      float64 `json:"up_mm" check:"0..1200" unit:"mm"`
	SideMM    float64 `json:"side_mm" check:"-1200..1200" unit:"mm"`
	// Pitch, Roll and Yaw of the knob in degrees.
	PitchDeg float64 `json:"pitch_deg" check:"-180..180" unit:"degrees"`
	RollDeg  float64 `json:"roll_deg" check:"-180..180" unit:"degrees"`
	YawDeg   float64 `json:"yaw_deg" check:"-180..180" unit:"degrees"`
	// GapMM is from knob to skin at rest, ClearS the time to clear the mount.
	GapMM  float64 `json:"gap_mm" check:"0..300" unit:"mm"`
	ClearS float64 `json:"clear_s,omitempty" check:"0..600" unit:"s"`
	// Index: it comes back to a stop. The others are checks done today.
	Index     bool   `json:"index"`
	Tilt      bool   `json:"tilt"`
	Recline   bool   `json:"recline"`
	Transfer  bool   `json:"transfer"`
	Collision bool   `json:"collision"`
	Note      string `json:"note,omitempty" check:"max=LongestText"`
}

// Mount is the mounting sheet with its stamp.
type Mount struct {
	Stamp
	MountNoted
}
