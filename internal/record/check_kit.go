package record

import "strconv"

// Most that a control can be listed with.
const (
	mostLever    = 500    // mm
	mostWeight   = 20_000 // g
	mostControls = 200    // in one kit
)

func (c *ControlListed) check() *Refusal {
	bad := first(
		idOf("team", c.Team),
		need("name", c.Name, LongestName, "the team's name for the control"),
		checkFigures(c.Class, c.StartGF, c.OperateGF, c.TravelMM, c.LeverMM),
		sealing(c.Sealing),
		short("connector", c.Connector, LongestName),
		between("weight_g", c.WeightG, 0, mostWeight, "g"),
		dateOrNone("measured", c.Measured),
		short("measured_by", c.MeasuredBy, LongestName),
	)
	for i := 0; bad == nil && i < len(c.Mounts); i++ {
		bad = among("mounts["+strconv.Itoa(i)+"]", c.Mounts[i], MountKinds()...)
	}
	return bad
}

// checkFigures checks what a control asks for. The force that moves the chair
// at all can not be above the force for full command, where that is known.
func checkFigures(class string, start, operate, travel, lever float64) *Refusal {
	bad := first(
		among("class", class, Classes()...),
		between("start_gf", start, 0, mostForce, "gf"),
		between("operate_gf", operate, 0, mostForce, "gf"),
		between("travel_mm", travel, 0, mostTravel, "mm"),
		between("lever_mm", lever, 0, mostLever, "mm"),
	)
	if bad == nil && operate > 0 && start > operate {
		return &Refusal{Code: CodeOutOfRange, Field: "start_gf",
			Want: "at most the force for full command, " + shown(operate) + " gf", Got: shown(start)}
	}
	return bad
}

// sealing refuses what is not a code of IEC 60529, such as IP54 or IPX4; empty
// is allowed.
func sealing(code string) *Refusal {
	if code == "" {
		return nil
	}
	ok := len(code) >= 4 && len(code) <= 6 && code[:2] == "IP" &&
		(code[2] == 'X' || code[2] >= '0' && code[2] <= '6') &&
		(code[3] == 'X' || code[3] >= '0' && code[3] <= '9')
	for i := 4; ok && i < len(code); i++ {
		ok = code[i] >= 'A' && code[i] <= 'Z'
	}
	if ok {
		return nil
	}
	return missingOr(CodeWrongType, "sealing", "a code of IEC 60529 such as IP54 or IPX4", code)
}

func (k *KitPacked) check() *Refusal {
	if n := len(k.Controls); n > mostControls {
		return &Refusal{Code: CodeOutOfRange, Field: "controls",
			Want: "at most " + strconv.Itoa(mostControls) + " controls", Got: strconv.Itoa(n)}
	}
	packed := make(map[string]bool, len(k.Controls))
	for i := range k.Controls {
		c := &k.Controls[i]
		bad := c.check()
		if bad == nil && packed[c.ID] {
			bad = &Refusal{Code: CodeOutOfRange, Field: "id", Want: "each control once", Got: quoted(c.ID) + " twice"}
		}
		if bad != nil {
			return bad.within("controls[" + strconv.Itoa(i) + "]")
		}
		packed[c.ID] = true
	}
	return nil
}

func (p *PackedControl) check() *Refusal {
	return first(
		idOf("id", p.ID),
		need("name", p.Name, LongestName, "the team's name for the control"),
		checkFigures(p.Class, p.StartGF, p.OperateGF, p.TravelMM, p.LeverMM),
		sealing(p.Sealing),
	)
}

// check asks only for the id of a passage that is taken out.
func (p *PlaceMeasured) check() *Refusal {
	if bad := idOf("place", p.Place); bad != nil || p.Gone {
		return bad
	}
	bad := first(
		among("kind", p.Kind, PlaceKinds()...),
		need("name", p.Name, LongestName, "the household's name for it"),
		p.checkWidth(),
		orZero("corridor_mm", p.CorridorMM, 600, 3_000, "mm"),
		orZero("corridor2_mm", p.Corridor2MM, 600, 3_000, "mm"),
		between("rise_mm", p.RiseMM, 0, 3_000, "mm"),
		between("run_mm", p.RunMM, 0, 60_000, "mm"),
		between("landing_mm", p.LandingMM, 0, 5_000, "mm"),
		between("height_mm", p.HeightMM, 0, 300, "mm"),
		between("limit_kg", p.LimitKG, 0, 1_000, "kg"),
	)
	if bad == nil && p.RiseMM > 0 && p.RunMM > 0 {
		bad = p.checkSlope()
	}
	return bad
}

// checkWidth: a door is at most 2 m wide; a room may be wider.
func (p *PlaceMeasured) checkWidth() *Refusal {
	switch p.Kind {
	case "turn-on-spot", "half-turn", "three-point", "ramp":
		return orZero("width_mm", p.WidthMM, 400, 10_000, "mm")
	}
	return orZero("width_mm", p.WidthMM, 400, 2_000, "mm")
}

// checkSlope refuses a ramp outside 1 in 2 to 1 in 50: rise or run is then a
// slip of the unit.
func (p *PlaceMeasured) checkSlope() *Refusal {
	const steep, flat = 2, 50
	if ratio := p.RunMM / p.RiseMM; ratio >= steep && ratio <= flat {
		return nil
	}
	return &Refusal{Code: CodeOutOfRange, Field: "run_mm",
		Want: shown(steep*p.RiseMM) + " to " + shown(flat*p.RiseMM) + " mm for this rise, 1 in 2 to 1 in 50", Got: shown(p.RunMM)}
}

// orZero is between for a figure that is 0 when it is not known.
func orZero(field string, value, low, high float64, unit string) *Refusal {
	if value == 0 {
		return nil
	}
	return between(field, value, low, high, unit)
}

func (c *ChairMeasured) check() *Refusal {
	return first(
		between("length_mm", c.LengthMM, 400, 2_000, "mm"),
		between("width_mm", c.WidthMM, 400, 900, "mm"),
		among("drive", c.Drive, Drives()...),
		between("ahead_mm", c.AheadMM, 0, c.LengthMM, "mm, within the length"),
		between("clearance_mm", c.ClearanceMM, 0, 200, "mm"),
		orZero("slope_deg", c.SlopeDeg, 3, 20, "degrees"),
		between("chair_kg", c.ChairKG, 0, 500, "kg"),
		orZero("person_kg", c.PersonKG, 3, 350, "kg"),
	)
}

func (m *MountNoted) check() *Refusal {
	const most = 1_200
	return first(
		among("kind", m.Kind, MountKinds()...),
		among("fixed_to", m.FixedTo, FixedTo()...),
		between("forward_mm", m.ForwardMM, 0, most, "mm"),
		between("up_mm", m.UpMM, 0, most, "mm"),
		between("side_mm", m.SideMM, -most, most, "mm"),
		between("pitch_deg", m.PitchDeg, -180, 180, "degrees"),
		between("roll_deg", m.RollDeg, -180, 180, "degrees"),
		between("yaw_deg", m.YawDeg, -180, 180, "degrees"),
		between("gap_mm", m.GapMM, 0, 300, "mm"),
		between("clear_s", m.ClearS, 0, 600, "s"),
		short("note", m.Note, LongestText),
	)
}
