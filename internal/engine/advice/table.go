package advice

// row is an observed problem and what is usually tried for it.
type row struct {
	problem string
	changes []Change
}

// Steps. That of the turning speed is trade custom, the others are a proposal.
const (
	turnStep    = "3 to 5 % at a time"
	smallStep   = "5 % at a time"
	zoneStep    = "2 % of the travel at a time"
	throwStep   = "10 % at a time"
	wholeChange = "in one go"
)

const short = "The way to full command is shorter. It does not make the spring lighter; too short is twitchy."

// table follows the order in which a driver meets the problems: moving,
// stopping, reaching. It is read only.
var table = [...]row{
	{"overshoots-turns", []Change{
		{"turn_speed", Down, turnStep, "A slower turn is easier to end in time; too slow and a turn on carpet is not finished."},
		{"turn_decel", Up, smallStep, "The turn ends sooner after the release; too sharp an end is jerky."},
	}},
	{"contacts", []Change{
		{"fwd_speed_max", Down, smallStep, "More time to see and to stop; too slow and the chair does not cross a threshold."},
		{"rev_speed_max", Down, smallStep, "For contacts behind: keep it below half of the forward speed."},
	}},
	{"stalls-on-sill", []Change{
		{"power", Up, smallStep, "More push at low speed; too much jerks at the sill."},
		{"fwd_speed_max", Up, smallStep, "Only when more push does not do it; watch for contacts beyond the sill."},
	}},
	{"head-thrown-back", []Change{
		{"accel", Down, smallStep, "A gentler start spares head and trunk and sets off less stiffening; too gentle and the person pushes harder."},
	}},
	{"jerky-turns", []Change{
		{"turn_accel", Down, smallStep, "The turn begins more gently; too gentle and it slides past."},
		{"turn_decel", Down, smallStep, "The turn ends more gently; watch that it does not slide past."},
	}},
	{"wobble-on-straight", []Change{
		{"turn_accel", Down, smallStep, "Small corrections swing less far."},
		{"turn_decel", Down, smallStep, "When a gentler start of the turn is not enough."},
	}},
	{"lurch", []Change{
		{"min_speed", Down, smallStep, "The first command is slower; too slow and the chair does not start on carpet."},
	}},
	{"stuck-on-carpet", []Change{
		{"power", Up, smallStep, "More push at low speed; too much jerks at sills."},
		{"min_speed", Up, smallStep, "The first command is stronger; watch for a lurch on smooth floor."},
		{"turn_speed", Up, turnStep, "When only turns stick; watch that they do not swing past."},
	}},
	{"drifts-on-camber", []Change{
		{"tracking", Set, wholeChange, "Switch the straight-line aid on, where the chair has one."},
	}},
	{"helper-dragged", []Change{
		{"attendant_speed", Down, smallStep, "The helper must walk at ease, also downhill."},
	}},
	{"trunk-falls-on-stop", []Change{
		{"decel", Down, smallStep, "A gentler stop; measure that it is not longer than the home allows. Look at the support of the trunk first."},
	}},
	{"long-stop", []Change{
		{"decel", Up, smallStep, "A shorter stop; watch that trunk and head do not fall forward on to the control."},
		{"fwd_speed_max", Down, smallStep, "Where a sharper stop throws the trunk: less speed stops sooner too."},
	}},
	{"late-stop", []Change{
		{"tremor_damping", Down, smallStep, "Damping answers late, also to the release."},
		{"decel", Up, smallStep, "When the answer is prompt but the way is long; watch the trunk."},
	}},
	{"creeps", []Change{
		{"dead_zone", Up, zoneStep, "Breath and tremor about the middle count for nothing; more travel is needed then."},
	}},
	{"unintended-starts", []Change{
		{"dead_zone", Up, zoneStep, "Small movements count for nothing; more travel is needed then. Look for what pushes the control first."},
	}},
	{"tremor-path", []Change{
		{"tremor_damping", Up, smallStep, "The path is smoother, and every answer comes later, including the stop: time the letting go again before driving on."},
	}},
	{"short-travel", []Change{
		{"dead_zone", Down, zoneStep, "Less of the travel is lost about the middle; watch for creeping."},
		{"throw_forward", Down, throwStep, short},
		{"throw_reverse", Down, throwStep, short},
		{"throw_left", Down, throwStep, short},
		{"throw_right", Down, throwStep, short},
	}},
	{"weak-direction", []Change{
		{"throw_forward", Down, throwStep, "When forward is the weak one. " + short},
		{"throw_reverse", Down, throwStep, "When reverse is the weak one. " + short},
		{"throw_left", Down, throwStep, "When left is the weak one. " + short},
		{"throw_right", Down, throwStep, "When right is the weak one. " + short},
		{"axis_rotation", Set, wholeChange, "Give forward to the strongest movement."},
	}},
	{"arm-lies-turned", []Change{
		{"axis_rotation", Set, wholeChange, "Turn the axes by the angle at which the arm lies, so that forward is where the person pushes."},
	}},
	{"weak-reverse", []Change{
		{"active_directions", Set, wholeChange, "Three directions, and a key that turns forward into reverse; show that the key works before relying on it."},
	}},
}
