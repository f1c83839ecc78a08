package engine

import (
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/fields"
)

const mostLever = 1000 // mm

// kit reads one control that was packed.
func (d *decoder) kit() {
	c := access.Control{ID: d.next("id"), Class: d.class()}
	c.StartGF = d.number("start_gf", 0, mostForce)
	c.OperateGF = d.number("operate_gf", 0, mostForce)
	c.TravelMM = d.number("travel_mm", 0, mostTravel)
	c.LeverMM = d.number("lever_mm", 0, mostLever)
	c.Seal = d.seal()
	c.PowerJack = d.flag("power_jack")
	c.ModeJack = d.flag("mode_jack")
	c.Attendant = d.flag("attendant")
	if d.err == nil && (c.ID == "" || begins(c.ID, access.Generic)) {
		d.fail("id", "the id of a control", c.ID)
	}
	for i := range d.visit.kit {
		if d.visit.kit[i].ID == c.ID {
			d.fail("id", "each control once", c.ID)
		}
	}
	d.visit.kit = append(d.visit.kit, c)
}

func (d *decoder) class() string {
	class := d.next("class")
	if d.err == nil && !strength.KnownClass(class) {
		d.fail("class", "a kind of control such as standard, small or very-light", class)
	}
	return class
}

// seal reads the second digit of a sealing code, or - when none is known.
func (d *decoder) seal() int {
	text := d.next("seal")
	if text == "-" || d.err != nil {
		return access.NoSeal
	}
	if len(text) != 1 || text[0] < '0' || text[0] > '9' {
		d.fail("seal", "a digit from 0 to 9, or -", text)
		return access.NoSeal
	}
	return int(text[0] - '0')
}

// need reads one thing about how and where the person will drive.
func (d *decoder) need() {
	n, name := &d.visit.needs, d.next("name")
	switch name {
	case "rough-ground":
		n.RoughGround = d.asked()
	case "helper-drives":
		n.HelperDrives = d.asked()
	case "reverse-key":
		n.ReverseKey = d.asked()
	case "blocked":
		n.Blocked = d.asked()
	case "hours-driving":
		n.HoursDriving = d.amountOf(0, 24)
	case "commands-per-min":
		n.CommandsPerMin = d.amountOf(0, 120)
	case "seconds-per-command":
		n.SecondsPerCommand = d.amountOf(0, 60)
	case "wrist-deg":
		n.WristDeg = d.amountOf(-90, 90)
	case "task-share":
		n.Task.Share = d.amountOf(1, 100)
	case "task-per-min":
		n.Task.PerMinute = d.amountOf(0, 120)
	case "task-seconds":
		n.Task.Seconds = d.amountOf(0, 60)
	case "task-wrist-deg":
		n.Task.WristDeg = d.amountOf(-90, 90)
	case "task-hours":
		n.Task.Hours = d.amountOf(0, 24)
	case "wait-weeks":
		n.WaitWeeks = d.amountOf(0, 260)
	case "base":
		n.Base = d.word("value", "stable adjustable moves")
	case "course":
		n.Course = d.word("value", "stable slow fast fluctuating improving")
	case "wish-site":
		n.WishSite = d.site("value")
	case "wish-control":
		n.WishControl = d.next("value")
	default:
		d.fail("name", "a need such as rough-ground, base or wish-site", name)
	}
}

func (d *decoder) asked() access.Answer {
	if d.flag("value") {
		return access.Yes
	}
	return access.No
}

func (d *decoder) amountOf(low, high float64) access.Amount {
	value := d.number("value", low, high)
	return access.Amount{Value: value, Given: d.err == nil}
}

// word reads one of the words of a list that are parted by spaces.
func (d *decoder) word(field, list string) string {
	text := d.next(field)
	for rest := list; rest != ""; {
		var one string
		one, rest, _ = fields.Cut(rest, ' ')
		if one == text {
			return text
		}
	}
	d.fail(field, "one of "+list, text)
	return ""
}

// moist reads how damp a site is.
func (d *decoder) moist() {
	m := access.Moist{Site: d.site("site"), How: d.word("how", "dry damp wet")}
	for _, other := range d.visit.moist {
		if other.Site == m.Site {
			d.fail("site", "each site once", m.Site)
		}
	}
	d.visit.moist = append(d.visit.moist, m)
}

// ruledOut reads a site that was tried or thought of and ruled out, with why.
func (d *decoder) ruledOut() {
	r := access.RuledOut{Site: d.site("site"), Why: d.next("why")}
	for _, other := range d.visit.ruledOut {
		if other.Site == r.Site {
			d.fail("site", "each site once", r.Site)
		}
	}
	d.visit.ruledOut = append(d.visit.ruledOut, r)
}
