package record

import "strconv"

func (v *VisitStarted) check() *Refusal {
	return first(
		idOf("client", v.Client),
		idOf("team", v.Team),
		need("checklist.id", v.Checklist.ID, LongestWord, "the checklist's id"),
		need("checklist.version", v.Checklist.Version, LongestWord, "the checklist's version"),
		hexSum("checklist.hash", v.Checklist.Hash),
		among("unit", v.Unit, ForceUnits()...),
		idOrNone("second_of", v.SecondOf),
	)
}

func (v *VisitNoted) check() *Refusal {
	if len(v.Fields) == 0 {
		return &Refusal{Code: CodeRequired, Field: "fields", Want: "at least one text"}
	}
	for _, key := range sortedKeys(v.Fields) {
		if bad := first(
			among("fields."+key, key, NoteFields()...),
			short("fields."+key, v.Fields[key], LongestText),
		); bad != nil {
			return bad
		}
	}
	return nil
}

func (p *PlanAgreed) check() *Refusal {
	return first(dateOrNone("recheck", p.Recheck), short("note", p.Note, LongestText))
}

func (o *OverrideMade) check() *Refusal {
	bad := first(
		among("level", o.Level, Levels()...),
		among("reason", o.Reason, OverrideReasons()...),
		need("text", o.Text, LongestText, "the reason in words"),
		short("mitigation", o.Mitigation, LongestText),
		short("agreed", o.Agreed, LongestText),
		date("from", o.From),
		dateOrNone("until", o.Until),
	)
	if bad == nil && o.Until != "" && o.Until < o.From {
		return &Refusal{Code: CodeOverride, Field: "until", Want: "a date not before " + o.From, Got: o.Until}
	}
	return bad
}

func (v *VisitSigned) check() *Refusal {
	return first(
		among("level", v.Level, Levels()...),
		hexSum("result", v.Result),
		need("name", v.Name, LongestName, "the signer's name"),
	)
}

func (a *AmendmentMade) check() *Refusal {
	bad := need("reason", a.Reason, LongestText, "why the visit is changed after signing")
	if bad != nil {
		return bad
	}
	if !amendable(a.Kind) {
		return missingOr(CodeWrongType, "kind", "a kind that may change a signed visit", a.Kind)
	}
	if len(a.Change) == 0 {
		return &Refusal{Code: CodeRequired, Field: "change", Want: "an object"}
	}
	if _, bad := readKind(a.Kind, a.Change); bad != nil {
		return bad.within("change")
	}
	return nil
}

func (r *RunTimed) check() *Refusal {
	return first(
		short("route", r.Route, LongestName),
		among("place", r.Place, "indoors", "outdoors", "rough"),
		among("state", r.State, "rested", "tired"),
		between("seconds", r.Seconds, 0, 14_400, "s"),
		between("metres", r.Metres, 0, 20_000, "m"),
		tallied("things", r.Things), tallied("people", r.People),
		tallied("prompts", r.Prompts), tallied("rescues", r.Rescues),
		tallied("unmeant", r.Unmeant), tallied("presses", r.Presses),
		short("note", r.Note, LongestText),
	)
}

func tallied(field string, n int) *Refusal {
	const most = 9_999
	if n >= 0 && n <= most {
		return nil
	}
	return &Refusal{Code: CodeOutOfRange, Field: field, Want: "0 to " + strconv.Itoa(most), Got: strconv.Itoa(n)}
}

func (c *SetupChosen) check() *Refusal {
	bad := first(
		among("class", c.Class, Classes()...),
		short("control", c.Control, LongestName),
		siteOf(c.Site),
		between("start_gf", c.StartGF, 0, mostForce, "gf"),
		between("operate_gf", c.OperateGF, 0, mostForce, "gf"),
		between("travel_mm", c.TravelMM, 0, mostTravel, "mm"),
		between("switch_press_gf", c.SwitchPressGF, 0, mostSwitchPress, "gf"),
		between("power_press_gf", c.PowerPressGF, 0, mostSwitchPress, "gf"),
		between("mode_press_gf", c.ModePressGF, 0, mostSwitchPress, "gf"),
		short("place", c.Place, LongestName),
		short("window", c.Window, LongestName),
	)
	if bad == nil {
		bad = c.checkDirections()
	}
	return bad
}

func (c *SetupChosen) checkDirections() *Refusal {
	for _, direction := range sortedKeys(c.Throw) {
		if bad := first(
			among("throw."+direction, direction, Directions()...),
			between("throw."+direction, c.Throw[direction], 20, 100, "%"),
		); bad != nil {
			return bad
		}
	}
	for i, direction := range c.Needed {
		if bad := among("needed["+strconv.Itoa(i)+"]", direction, Directions()...); bad != nil {
			return bad
		}
	}
	return nil
}
