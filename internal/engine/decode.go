package engine

import (
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/say"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
	"doorsill/internal/fields"
)

// visit is a visit text that was read.
type visit struct {
	setup    *strength.Setup
	heads    []readiness.Head
	readings []strength.Reading
	runs     []trial.Run
	override *readiness.Override
	kit      []access.Control
	needs    access.Needs
	moist    []access.Moist
	ruledOut []access.RuledOut
	home     home
	due      []string // items by id
}

const head = "doorsill-visit\t1"

// decode reads a visit text. A line that repeats the set-up or the override, an
// unknown kind of line and an empty text are refused.
func decode(list *readiness.Checklist, text string) (*visit, error) {
	v := &visit{heads: make([]readiness.Head, 0, list.Len()+4), readings: make([]strength.Reading, 0, 64)}
	d := decoder{list: list, visit: v}
	for line := 1; text != ""; line++ {
		var row string
		row, text, _ = fields.Cut(text, '\n')
		d.reader = reader{rest: row, line: line}
		d.row(row)
		if d.err != nil {
			return nil, d.err
		}
	}
	if d.line == 0 {
		return nil, &TextError{1, "head", "doorsill-visit, TAB, 1", "nothing"}
	}
	return v, nil
}

// decoder reads line by line.
type decoder struct {
	reader
	list  *readiness.Checklist
	visit *visit
}

func (d *decoder) row(row string) {
	if d.line == 1 {
		if row != head {
			d.fail("head", "doorsill-visit, TAB, 1", row)
		}
		return
	}
	switch kind := d.next("kind"); kind {
	case "setup":
		d.setup()
	case "switch":
		d.press()
	case "item":
		d.item()
	case "reading":
		d.reading()
	case "run":
		d.run()
	case "override":
		d.override()
	case "kit":
		d.kit()
	case "need":
		d.need()
	case "moist":
		d.moist()
	case "ruled-out":
		d.ruledOut()
	case "chair":
		d.chair()
	case "place":
		d.place()
	case "due":
		d.due()
	default:
		d.fail("kind", "setup, item, reading or another kind of line", kind)
	}
	d.end()
}

const (
	mostForce  = 10000 // gf
	mostTravel = 150   // mm
	mostPress  = 2000  // gf, what a switch asks
)

func (d *decoder) setup() {
	s := &strength.Setup{Class: d.class(), Site: d.site("site")}
	s.StartGF = d.number("start_gf", 0, mostForce)
	s.OperateGF = d.number("operate_gf", 0, mostForce)
	s.TravelMM = d.number("travel_mm", 0, mostTravel)
	for _, to := range [...]struct {
		field string
		at    strength.Direction
	}{{"throw_forward", strength.Forward}, {"throw_reverse", strength.Reverse}, {"throw_left", strength.Left}, {"throw_right", strength.Right}} {
		s.Throw[to.at] = d.number(to.field, 20, 100)
	}
	s.Throw[strength.Press], s.Throw[strength.NoDirection] = 100, 100
	s.Needed = d.needed(d.next("needed"))
	s.SwitchPressGF = d.number("switch_press_gf", 0, mostPress)
	if d.visit.setup != nil {
		d.fail("kind", "one set-up", "a second one")
	}
	d.visit.setup = s
}

// press reads what one switch asks; the set-up comes before.
func (d *decoder) press() {
	at, purpose := strength.PowerSwitch, d.next("purpose")
	switch purpose {
	case "power":
	case "mode":
		at = strength.ModeSwitch
	default:
		d.fail("purpose", "power or mode", purpose)
	}
	gf := d.number("press_gf", 0, mostPress)
	if d.visit.setup == nil {
		d.fail("kind", "a set-up before its switches", "none")
		return
	}
	d.visit.setup.OwnPressGF[at] = gf
}

// needed reads the needed directions; "-" stands for all four.
func (d *decoder) needed(text string) []strength.Direction {
	if text == "-" {
		return []strength.Direction{strength.Forward, strength.Reverse, strength.Left, strength.Right}
	}
	var list []strength.Direction
	for d.err == nil && text != "" {
		var one string
		one, text, _ = fields.Cut(text, ',')
		at, ok := strength.DirectionOf(one)
		if !ok || at == strength.NoDirection {
			d.fail("needed", "directions parted by a comma: forward, reverse, left, right", one)
		}
		list = append(list, at)
	}
	if d.err == nil && len(list) == 0 {
		d.fail("needed", "at least one direction, or -", "nothing")
	}
	return list
}

func (d *decoder) site(field string) string {
	site := d.next(field)
	if d.err == nil && strength.PartOf(site) == strength.UnknownPart {
		d.fail(field, "a body site such as chin or index-right", site)
	}
	return site
}

func (d *decoder) reading() {
	what := d.next("what")
	r := strength.Reading{What: strength.WhatOf(what), Site: d.site("site")}
	if d.err == nil && r.What == strength.UnknownWhat {
		d.fail("what", "force, travel, hold, release, unintended, switch-force, switch-power or switch-mode", what)
	}
	r.Direction = d.direction()
	r.Tired = d.tired()
	r.Supported = d.flag("supported")
	r.Value = d.value(&r)
	r.Missed = d.flag("missed")
	if r.Missed && r.What != strength.Release {
		d.fail("missed", "0, as only a release can be missed", "1")
	}
	d.visit.readings = append(d.visit.readings, r)
}

func (d *decoder) direction() strength.Direction {
	text := d.next("direction")
	if text == "-" {
		return strength.NoDirection
	}
	at, ok := strength.DirectionOf(text)
	if d.err == nil && (!ok || text == "") {
		d.fail("direction", "forward, reverse, left, right, press or -", text)
	}
	return at
}

func (d *decoder) tired() bool {
	text := d.next("state")
	if d.err == nil && text != "rested" && text != "tired" {
		d.fail("state", "rested or tired", text)
	}
	return text == "tired"
}

// value reads value and unit of a reading and returns it in gf, mm or s.
func (d *decoder) value(r *strength.Reading) float64 {
	value := d.number("value", 0, 1e6)
	unit := d.next("unit")
	if d.err != nil {
		return 0
	}
	most, want := mostOf(r.What)
	if want == "gf" {
		gf, err := strength.ToGF(value, unit)
		if err != nil {
			d.fail("unit", "gf, N, ozf or lbf", unit)
		} else if gf > most {
			d.fail("value", say.Line("at most {6} gf", nil, most), say.Line("{6} {}", say.Words{unit}, value))
		}
		return gf
	}
	if unit != want {
		d.fail("unit", want, unit)
	} else if value > most {
		d.fail("value", say.Line("at most {6} {}", say.Words{want}, most), say.Line("{6}", nil, value))
	}
	return value
}

// mostOf returns the most that a reading can be, and its unit.
func mostOf(what strength.What) (most float64, unit string) {
	switch what {
	case strength.Unintended:
		return 5000, "gf"
	case strength.Travel:
		return mostTravel, "mm"
	case strength.Hold:
		return 600, "s"
	case strength.Release:
		return 20, "s"
	}
	return mostForce, "gf"
}

func (d *decoder) run() {
	where := d.next("place")
	place, ok := trial.PlaceOf(where)
	if d.err == nil && !ok {
		d.fail("place", "indoors, outdoors or rough", where)
	}
	const most = 1_000_000
	d.visit.runs = append(d.visit.runs, trial.Run{
		Place: place, Tired: d.tired(),
		Seconds: d.number("seconds", 0, most), Metres: d.number("metres", 0, most),
		Things: d.whole("things", 0, most), People: d.whole("people", 0, most),
		Prompts: d.whole("prompts", 0, most), Rescues: d.whole("rescues", 0, most),
		Unmeant: d.whole("unmeant", 0, most), Presses: d.whole("presses", 0, most),
	})
}

func (d *decoder) override() {
	id := d.next("level")
	level, ok := readiness.LevelOf(id)
	if d.err == nil && !ok {
		d.fail("level", "pause, practise, accompanied, home-ground or wider-ground", id)
	}
	o := &readiness.Override{Level: level, Reason: d.next("reason")}
	if o.Reason == "-" {
		o.Reason = ""
	}
	o.TextLength = d.whole("text_length", 0, 1_000_000)
	o.Mitigation = d.flag("mitigation")
	o.Agreed = d.flag("agreed")
	o.From = d.whole("from_day", readiness.NoDay, 1_000_000)
	o.Until = d.whole("until_day", readiness.NoDay, 1_000_000)
	if d.visit.override != nil {
		d.fail("kind", "one override", "a second one")
	}
	d.visit.override = o
}
