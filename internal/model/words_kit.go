package model

// PlaceKinds returns the kinds of passage that can be measured at home.
func PlaceKinds() []string {
	return []string{
		"door",              // a door taken straight
		"door-off-corridor", // a door that is turned into from a corridor
		"corner",            // from one corridor into another
		"turn-on-spot",      // a full turn in a room
		"half-turn",         // from facing one way to facing back
		"three-point",       // turning with reversing
		"corridor",          // driving straight along
		"ramp",
		"threshold",
		"load", // a lift, floor or hoist with a rating
	}
}

// MountKinds returns how a control can be held.
func MountKinds() []string {
	return []string{"fixed", "swing-away", "gooseneck", "tray", "midline", "behind-head", "glove"}
}

// FixedTo returns what a mount can be fixed to.
func FixedTo() []string { return []string{"seat", "back", "armrest", "tray"} }

// SettingKeys returns the neutral keys of a chair's settings; makers have words
// of their own for them.
func SettingKeys() []string {
	return []string{
		"fwd_speed_max", "rev_speed_max", "turn_speed",
		"accel", "decel", "turn_accel", "turn_decel", "min_speed", "power",
		"tremor_damping", "dead_zone",
		"throw_forward", "throw_reverse", "throw_left", "throw_right",
		"axis_rotation", "active_directions", "latched_drive",
		"standby_time", "sleep_on_tilt", "attendant_speed", "tracking",
	}
}

// Retests returns the setting keys after whose change stopping must be shown
// again: the items of RetestItems are due. They are all that change how the chair
// answers to its driver; of damping, dead zone, braking and speed it is common
// practice.
func Retests() []string {
	return []string{
		"tremor_damping", "dead_zone", "decel", "turn_decel",
		"fwd_speed_max", "rev_speed_max", "turn_speed",
		"accel", "turn_accel", "min_speed", "power",
		"throw_forward", "throw_reverse", "throw_left", "throw_right",
		"axis_rotation", "active_directions", "latched_drive", "tracking",
	}
}

// Items that a change of one of Retests makes due again.
const (
	ItemRelease  = "ctl-release"  // computed from timed releases
	ItemStopCall = "saf-stopcall" // answered
)

// RetestItems returns the items that a change of one of Retests makes due
// again.
func RetestItems() []string { return []string{ItemRelease, ItemStopCall} }

// Problems returns what can be observed in a trial that a setting may mend.
func Problems() []string {
	return []string{
		"overshoots-turns", "contacts", "stalls-on-sill", "head-thrown-back", "trunk-falls-on-stop",
		"long-stop", "jerky-turns", "wobble-on-straight", "lurch", "stuck-on-carpet",
		"tremor-path", "late-stop", "creeps", "unintended-starts", "short-travel",
		"weak-direction", "arm-lies-turned", "weak-reverse", "drifts-on-camber", "helper-dragged",
	}
}

// SwitchPurposes returns what a driver's switch can be for.
func SwitchPurposes() []string { return []string{"power", "mode", "stop"} }

// Outcomes returns how it can go with a changed setting.
func Outcomes() []string { return []string{"better", "same", "worse"} }

// Drives returns where a chair's drive wheels can be.
func Drives() []string { return []string{"front", "mid", "rear"} }

// Bases returns how steady a person's base and mount can be.
func Bases() []string { return []string{"stable", "adjustable", "moves"} }

// Moistures returns how wet a site can be.
func Moistures() []string { return []string{"dry", "damp", "wet"} }
