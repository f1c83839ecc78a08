package advice

// row is an observed problem and what is usually tried for it.
type row struct {
	problem string
	changes []change
}

// change is one setting to try.
type change struct {
	// key is a neutral setting key, way one of Up, Down and Set.
	key, way string
	// step is the code of how much at a time, code that of why and what to watch.
	step, code string
	// direction is the argument of the message, where it has one.
	direction string
}

// Steps. That of the turning speed is trade custom, the others are a proposal.
const (
	turnStep    = "advice.step-turn"
	smallStep   = "advice.step-small"
	zoneStep    = "advice.step-zone"
	throwStep   = "advice.step-throw"
	wholeChange = "advice.step-whole"
)

// table follows the order in which a driver meets the problems: moving,
// stopping, reaching. It is read only.
var table = [...]row{
	{"overshoots-turns", []change{
		{key: "turn_speed", way: Down, step: turnStep, code: "advice.overshoots-turns.turn-speed"},
		{key: "turn_decel", way: Up, step: smallStep, code: "advice.overshoots-turns.turn-decel"},
	}},
	{"contacts", []change{
		{key: "fwd_speed_max", way: Down, step: smallStep, code: "advice.contacts.fwd-speed-max"},
		{key: "rev_speed_max", way: Down, step: smallStep, code: "advice.contacts.rev-speed-max"},
	}},
	{"stalls-on-sill", []change{
		{key: "power", way: Up, step: smallStep, code: "advice.stalls-on-sill.power"},
		{key: "fwd_speed_max", way: Up, step: smallStep, code: "advice.stalls-on-sill.fwd-speed-max"},
	}},
	{"head-thrown-back", []change{
		{key: "accel", way: Down, step: smallStep, code: "advice.head-thrown-back.accel"},
	}},
	{"jerky-turns", []change{
		{key: "turn_accel", way: Down, step: smallStep, code: "advice.jerky-turns.turn-accel"},
		{key: "turn_decel", way: Down, step: smallStep, code: "advice.jerky-turns.turn-decel"},
	}},
	{"wobble-on-straight", []change{
		{key: "turn_accel", way: Down, step: smallStep, code: "advice.wobble-on-straight.turn-accel"},
		{key: "turn_decel", way: Down, step: smallStep, code: "advice.wobble-on-straight.turn-decel"},
	}},
	{"lurch", []change{
		{key: "min_speed", way: Down, step: smallStep, code: "advice.lurch.min-speed"},
	}},
	{"stuck-on-carpet", []change{
		{key: "power", way: Up, step: smallStep, code: "advice.stuck-on-carpet.power"},
		{key: "min_speed", way: Up, step: smallStep, code: "advice.stuck-on-carpet.min-speed"},
		{key: "turn_speed", way: Up, step: turnStep, code: "advice.stuck-on-carpet.turn-speed"},
	}},
	{"drifts-on-camber", []change{
		{key: "tracking", way: Set, step: wholeChange, code: "advice.drifts-on-camber.tracking"},
	}},
	{"helper-dragged", []change{
		{key: "attendant_speed", way: Down, step: smallStep, code: "advice.helper-dragged.attendant-speed"},
	}},
	{"trunk-falls-on-stop", []change{
		{key: "decel", way: Down, step: smallStep, code: "advice.trunk-falls-on-stop.decel"},
	}},
	{"long-stop", []change{
		{key: "decel", way: Up, step: smallStep, code: "advice.long-stop.decel"},
		{key: "fwd_speed_max", way: Down, step: smallStep, code: "advice.long-stop.fwd-speed-max"},
	}},
	{"late-stop", []change{
		{key: "tremor_damping", way: Down, step: smallStep, code: "advice.late-stop.tremor-damping"},
		{key: "decel", way: Up, step: smallStep, code: "advice.late-stop.decel"},
	}},
	{"creeps", []change{
		{key: "dead_zone", way: Up, step: zoneStep, code: "advice.creeps.dead-zone"},
	}},
	{"unintended-starts", []change{
		{key: "dead_zone", way: Up, step: zoneStep, code: "advice.unintended-starts.dead-zone"},
	}},
	{"tremor-path", []change{
		{key: "tremor_damping", way: Up, step: smallStep, code: "advice.tremor-path.tremor-damping"},
	}},
	{"short-travel", []change{
		{key: "dead_zone", way: Down, step: zoneStep, code: "advice.short-travel.dead-zone"},
		{key: "throw_forward", way: Down, step: throwStep, code: "advice.short-travel.throw"},
		{key: "throw_reverse", way: Down, step: throwStep, code: "advice.short-travel.throw"},
		{key: "throw_left", way: Down, step: throwStep, code: "advice.short-travel.throw"},
		{key: "throw_right", way: Down, step: throwStep, code: "advice.short-travel.throw"},
	}},
	{"weak-direction", []change{
		{key: "throw_forward", way: Down, step: throwStep, code: "advice.weak-direction.throw", direction: "forward"},
		{key: "throw_reverse", way: Down, step: throwStep, code: "advice.weak-direction.throw", direction: "reverse"},
		{key: "throw_left", way: Down, step: throwStep, code: "advice.weak-direction.throw", direction: "left"},
		{key: "throw_right", way: Down, step: throwStep, code: "advice.weak-direction.throw", direction: "right"},
		{key: "axis_rotation", way: Set, step: wholeChange, code: "advice.weak-direction.axis-rotation"},
	}},
	{"arm-lies-turned", []change{
		{key: "axis_rotation", way: Set, step: wholeChange, code: "advice.arm-lies-turned.axis-rotation"},
	}},
	{"weak-reverse", []change{
		{key: "active_directions", way: Set, step: wholeChange, code: "advice.weak-reverse.active-directions"},
	}},
}
