package visittext

import (
	"maps"
	"slices"
	"strings"

	"doorsill/internal/fields"
	"doorsill/internal/model"
	"doorsill/internal/record"
)

// home writes kit, needs, chair, passages and what is due again.
func (e *encoder) home(v *model.Visit) {
	for _, c := range v.Kit {
		e.line("kit", c.ID, c.Class, number(c.StartGF), number(c.OperateGF), number(c.TravelMM), number(c.LeverMM),
			seal(c.Sealing), fields.Flag(c.PowerJack), fields.Flag(c.ModeJack), fields.Flag(c.Attendant))
	}
	if v.Needs != nil {
		e.needs(&v.Needs.NeedsNoted)
	}
	if v.Chair != nil {
		c := v.Chair
		e.line("chair", number(c.LengthMM), number(c.WidthMM), c.Drive, number(c.AheadMM), number(c.ClearanceMM),
			number(c.SlopeDeg), number(c.ChairKG), number(c.PersonKG))
	}
	for _, p := range v.Places {
		e.line("place", p.Place, p.Kind, number(p.WidthMM), number(p.CorridorMM), number(p.Corridor2MM),
			number(p.RiseMM), number(p.RunMM), number(p.LandingMM), number(p.HeightMM), number(p.LimitKG))
	}
	for _, item := range record.DueAgain(v) {
		e.line("due", item)
	}
}

// seal is what the code of IEC 60529 says of water: its second digit.
func seal(code string) string {
	if len(code) > 3 && code[3] >= '0' && code[3] <= '9' {
		return code[3:4]
	}
	return "-"
}

// needs writes what is known, in a fixed order.
func (e *encoder) needs(n *model.NeedsNoted) {
	e.optionalBool("rough-ground", n.RoughGround)
	e.optionalBool("helper-drives", n.HelperDrives)
	e.optionalBool("reverse-key", n.ReverseKey)
	e.optionalBool("blocked", n.Blocked)
	e.optionalNumber("hours-driving", n.HoursDriving)
	e.optionalNumber("commands-per-min", n.CommandsPerMin)
	e.optionalNumber("seconds-per-command", n.SecondsPerCommand)
	e.optionalNumber("wrist-deg", n.WristDeg)
	e.optionalNumber("task-share", n.TaskShare)
	e.optionalNumber("task-per-min", n.TaskPerMin)
	e.optionalNumber("task-seconds", n.TaskSeconds)
	e.optionalNumber("task-wrist-deg", n.TaskWristDeg)
	e.optionalNumber("task-hours", n.TaskHours)
	e.optionalNumber("wait-weeks", n.WaitWeeks)
	e.word("base", n.Base)
	e.word("course", n.Course)
	e.word("wish-site", n.WishSite)
	e.word("wish-control", n.WishControl)
	for _, site := range slices.Sorted(maps.Keys(n.Moisture)) {
		e.line("moist", site, n.Moisture[site])
	}
	for _, site := range slices.Sorted(maps.Keys(n.Rejected)) {
		e.line("ruled-out", site, oneLine(n.Rejected[site]))
	}
}

// oneLine makes spaces of line ends and tabs: the only free text that goes into
// a visit text.
func oneLine(text string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' {
			return ' '
		}
		return r
	}, text)
}

func (e *encoder) optionalBool(name string, value *bool) {
	if value != nil {
		e.line("need", name, fields.Flag(*value))
	}
}

func (e *encoder) optionalNumber(name string, value *float64) {
	if value != nil {
		e.line("need", name, number(*value))
	}
}

func (e *encoder) word(name, text string) {
	if text != "" {
		e.line("need", name, text)
	}
}
