package record

// ControlListed adds a drive control to a team's kit, or replaces what is known
// of it. Its subject is the control's id. Figures are measured on the control
// itself, at the contact point.
type ControlListed struct {
	Team string `json:"team"`
	// Name is the team's own; no make is asked for.
	Name string `json:"name"`
	// Class is one of Classes.
	Class string `json:"class"`
	// StartGF moves the chair at all, OperateGF gives full command (gf).
	StartGF   float64 `json:"start_gf"`
	OperateGF float64 `json:"operate_gf"`
	// TravelMM is the way to full command, LeverMM the length of the lever.
	TravelMM float64 `json:"travel_mm"`
	LeverMM  float64 `json:"lever_mm,omitempty"`
	// Sealing is the code of IEC 60529, such as "IP54"; empty is not sealed or
	// not known.
	Sealing string `json:"sealing,omitempty"`
	// PowerJack and ModeJack say whether switches can be plugged in.
	PowerJack bool   `json:"power_jack"`
	ModeJack  bool   `json:"mode_jack"`
	Connector string `json:"connector,omitempty"`
	// Attendant says that it is fit to be used by a helper.
	Attendant bool    `json:"attendant"`
	WeightG   float64 `json:"weight_g,omitempty"`
	// Mounts are some of MountKinds.
	Mounts []string `json:"mounts,omitempty"`
	// Measured is the date of the figures, 2006-01-02; MeasuredBy says who
	// measured.
	Measured   string `json:"measured,omitempty"`
	MeasuredBy string `json:"measured_by,omitempty"`
	// Gone says that the control is no longer in the kit.
	Gone bool `json:"gone,omitempty"`
}

// KitPacked takes the team's kit, as the tablet knows it, into the visit, so
// that verdicts do not change when the kit does. The last one counts.
type KitPacked struct {
	Controls []PackedControl `json:"controls"`
}

// PackedControl is a control of the kit as it was packed.
type PackedControl struct {
	ID        string  `json:"id"`
	Name      string  `json:"name"`
	Class     string  `json:"class"`
	StartGF   float64 `json:"start_gf"`
	OperateGF float64 `json:"operate_gf"`
	TravelMM  float64 `json:"travel_mm"`
	LeverMM   float64 `json:"lever_mm,omitempty"`
	Sealing   string  `json:"sealing,omitempty"`
	PowerJack bool    `json:"power_jack"`
	ModeJack  bool    `json:"mode_jack"`
	Attendant bool    `json:"attendant"`
}

// NeedsNoted replaces what it names of how and where the person will drive.
type NeedsNoted struct {
	// RoughGround: rough ground is on a needed route.
	RoughGround *bool `json:"rough_ground,omitempty"`
	// HelperDrives: a helper will drive with the same control.
	HelperDrives *bool `json:"helper_drives,omitempty"`
	// ReverseKey: a key that turns forward into reverse was shown to work.
	ReverseKey *bool `json:"reverse_key,omitempty"`
	// Blocked: hand and forearm are held so that only the driving part moves.
	Blocked *bool `json:"blocked,omitempty"`
	// HoursDriving is hours of driving a day (0 to 24), CommandsPerMin and
	// SecondsPerCommand what a usual minute of it asks (0 to 120; 0 to 60).
	HoursDriving      *float64 `json:"hours_driving,omitempty"`
	CommandsPerMin    *float64 `json:"commands_per_min,omitempty"`
	SecondsPerCommand *float64 `json:"seconds_per_command,omitempty"`
	// WristDeg is the wrist's angle, flexion positive, extension negative
	// (-90 to 90).
	WristDeg *float64 `json:"wrist_deg,omitempty"`
	// TaskShare is the share of strength in percent (1 to 100) that another task
	// of the driving hand asks, TaskPerMin and TaskSeconds its pressings a
	// minute and what one lasts (as of commands), TaskWristDeg the wrist's angle
	// there. TaskHours are its own hours a day (0 to 24); not given, it is done
	// while driving.
	TaskShare    *float64 `json:"task_share,omitempty"`
	TaskPerMin   *float64 `json:"task_per_min,omitempty"`
	TaskSeconds  *float64 `json:"task_seconds,omitempty"`
	TaskWristDeg *float64 `json:"task_wrist_deg,omitempty"`
	TaskHours    *float64 `json:"task_hours,omitempty"`
	// WaitWeeks is the expected wait until delivery (0 to 260).
	WaitWeeks *float64 `json:"wait_weeks,omitempty"`
	// Base is "stable", "adjustable" or "moves": the person's base and the
	// mount together.
	Base string `json:"base,omitempty"`
	// Course is the client's course as known at the visit.
	Course string `json:"course,omitempty"`
	// WishSite and WishControl are what the client would like best; the control
	// is the id of one in the kit, or "class:" and a class.
	WishSite    string `json:"wish_site,omitempty"`
	WishControl string `json:"wish_control,omitempty"`
	// Moisture is "dry", "damp" or "wet" by site.
	Moisture map[string]string `json:"moisture,omitempty"`
	// Rejected is the reason why a site was ruled out, by site; an empty reason
	// takes it back in.
	Rejected map[string]string `json:"rejected,omitempty"`
}

// NeedsUnset says what is no longer known of the needs: each goes back to not
// asked.
type NeedsUnset struct {
	// Fields are some of NeedFields, or "moisture." and a site.
	Fields []string `json:"fields"`
}

// ChairMeasured is the chair's outline with control and hands, in millimetres.
type ChairMeasured struct {
	LengthMM float64 `json:"length_mm"`
	WidthMM  float64 `json:"width_mm"`
	// Drive is the place of the drive wheels: "front", "mid" or "rear".
	Drive string `json:"drive"`
	// AheadMM is from the drive axle to the foremost point (0 to the length);
	// what is behind is the rest of the length.
	AheadMM float64 `json:"ahead_mm"`
	// ClearanceMM is wanted on each side (0 to 200).
	ClearanceMM float64 `json:"clearance_mm"`
	// SlopeDeg is the chair's own slope limit (3 to 20), 0 when not known.
	SlopeDeg float64 `json:"slope_deg,omitempty"`
	// ChairKG (to 500) and PersonKG (3 to 350) are masses, 0 when not known.
	ChairKG  float64 `json:"chair_kg,omitempty"`
	PersonKG float64 `json:"person_kg,omitempty"`
}

// PlaceMeasured adds a passage of the home, or replaces the one with the same
// Place id. Which figures it needs depends on Kind; those not measured are 0.
type PlaceMeasured struct {
	// Place is an id made by the tablet.
	Place string `json:"place"`
	// Kind is one of PlaceKinds, Name the household's own.
	Kind string `json:"kind"`
	Name string `json:"name"`
	// WidthMM is the clear width of the door, the ramp or the room's shorter
	// side; CorridorMM and Corridor2MM are corridors driven in and out.
	WidthMM     float64 `json:"width_mm,omitempty"`
	CorridorMM  float64 `json:"corridor_mm,omitempty"`
	Corridor2MM float64 `json:"corridor2_mm,omitempty"`
	// RiseMM, RunMM and LandingMM describe a ramp; HeightMM a threshold.
	RiseMM    float64 `json:"rise_mm,omitempty"`
	RunMM     float64 `json:"run_mm,omitempty"`
	LandingMM float64 `json:"landing_mm,omitempty"`
	HeightMM  float64 `json:"height_mm,omitempty"`
	// LimitKG is the rating of a lift, floor or hoist.
	LimitKG float64 `json:"limit_kg,omitempty"`
	// Gone takes the passage out again.
	Gone bool `json:"gone,omitempty"`
}

// SettingChanged is one change of one setting. Changes add up.
type SettingChanged struct {
	// Key is one of SettingKeys; Profile is the profile's name.
	Key     string `json:"key"`
	Profile string `json:"profile,omitempty"`
	// Before and After are raw values with their unit, as text, because makers
	// count in percent, steps or words.
	Before string `json:"before"`
	After  string `json:"after"`
	Unit   string `json:"unit,omitempty"`
	// Problem is what was observed, one of Problems, or empty; Why says more.
	Problem string `json:"problem,omitempty"`
	Why     string `json:"why"`
	// Result is what changed, once tried.
	Result string `json:"result,omitempty"`
	// Firmware and Word are the maker's version and word for the key.
	Firmware string `json:"firmware,omitempty"`
	Word     string `json:"word,omitempty"`
}

// SettingTried says how it went with a changed setting, once it was driven with.
// The last one about a change counts.
type SettingTried struct {
	// Setting is the entry that changed it; Outcome is one of Outcomes.
	Setting Ref    `json:"setting"`
	Outcome string `json:"outcome"`
	Note    string `json:"note,omitempty"`
}

// MountNoted is the mounting sheet. The last one counts.
type MountNoted struct {
	// Kind is one of MountKinds; FixedTo is "seat", "back", "armrest" or
	// "tray".
	Kind    string `json:"kind"`
	FixedTo string `json:"fixed_to"`
	// Forward from the back post, Up from the seat, Side from the midline
	// (right positive), in millimetres (0 to 1200; Side -1200 to 1200).
	ForwardMM float64 `json:"forward_mm"`
	UpMM      float64 `json:"up_mm"`
	SideMM    float64 `json:"side_mm"`
	// Pitch, Roll and Yaw of the knob in degrees (-180 to 180).
	PitchDeg float64 `json:"pitch_deg"`
	RollDeg  float64 `json:"roll_deg"`
	YawDeg   float64 `json:"yaw_deg"`
	// GapMM is from knob to skin at rest, ClearS the time to clear the mount.
	GapMM  float64 `json:"gap_mm"`
	ClearS float64 `json:"clear_s,omitempty"`
	// Index: it comes back to a stop. The others are checks done today.
	Index     bool   `json:"index"`
	Tilt      bool   `json:"tilt"`
	Recline   bool   `json:"recline"`
	Transfer  bool   `json:"transfer"`
	Collision bool   `json:"collision"`
	Note      string `json:"note,omitempty"`
}
