package engine

import (
	"slices"
	"strconv"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// rose works out the figures of a drawing of one site.
type rose struct {
	unit string
	// force says that what is drawn is a force, in gf until it is shown.
	force bool
	site  *strength.Site
	setup *strength.Setup // nil without a chosen control
}

// RoseOf gives the figures of a drawing of force, travel or switch force at one
// site: the same means, spreads and reserves as in a result. What the chosen control
// asks is set beside them also at a site that it is not chosen for.
func RoseOf(q *model.RoseQuestion) (model.Rose, *validation.Error) {
	kinds := []string{model.ReadForce, model.ReadTravel, model.ReadSwitchForce}
	if !slices.Contains(kinds, q.What) {
		return model.Rose{}, validation.OneOf("what", q.What, kinds)
	}
	r := rose{unit: q.Unit, force: q.What != model.ReadTravel}
	if _, known := model.ToGF(1, q.Unit); r.force && !known || !r.force && q.Unit != "mm" {
		return model.Rose{}, validation.Unexpected(validation.CodeWrongUnit, "unit", "a unit of "+q.What, q.Unit)
	}
	readings, bad := roseReadings(q)
	if bad != nil {
		return model.Rose{}, bad
	}
	if q.Setup != nil {
		if bad := q.Setup.Check(); bad != nil {
			return model.Rose{}, bad.Within("setup")
		}
		r.setup = setupOf(q.Setup)
	}
	analysis := strength.Analyse(readings, nil)
	r.site = analysis.At(q.Site)
	out := model.Rose{Unit: q.Unit}
	if q.What == model.ReadSwitchForce {
		for at, id := range [...]string{strength.BothSwitches: "both", strength.PowerSwitch: "power", strength.ModeSwitch: "mode", strength.StopSwitch: "stop"} {
			out.Arms = append(out.Arms, r.switchArm(id, at))
		}
		return out, nil
	}
	for _, id := range model.ReadingDirections() {
		d, _ := strength.DirectionOf(id) // one of ReadingDirections
		if r.force {
			out.Arms = append(out.Arms, r.forceArm(id, d))
		} else {
			out.Arms = append(out.Arms, r.travelArm(id, d))
		}
	}
	return out, nil
}

func roseReadings(q *model.RoseQuestion) ([]strength.Reading, *validation.Error) {
	var list []strength.Reading
	for i := range q.Readings {
		one := &q.Readings[i]
		if bad := one.Check(); bad != nil {
			return nil, bad.Within("readings[" + strconv.Itoa(i) + "]")
		}
		if one.What == q.What && one.Site == q.Site && one.Supported == q.Supported {
			list = append(list, readingOf(one))
		}
	}
	return list, nil
}

func (r *rose) needs(d strength.Direction) bool {
	return r.setup != nil && slices.Contains(r.setup.Needed, d)
}

func (r *rose) forceArm(id string, d strength.Direction) model.RoseArm {
	pair := &r.site.Force[d]
	arm := r.arm(id, pair, r.needs(d))
	if !arm.Needed || r.setup.OperateGF == 0 {
		return arm
	}
	r.asks(&arm, r.setup.OperateGF)
	if pair.Measured() {
		var f quantity.Quantity
		strength.DirectionReserve(&f, r.site, d, r.setup.OperateGF)
		stands(&arm, f.Value, f.Say, strength.ReserveTight, strength.ReserveWorkable)
	}
	return arm
}

func (r *rose) travelArm(id string, d strength.Direction) model.RoseArm {
	pair := &r.site.Travel[d]
	arm := r.arm(id, pair, r.needs(d))
	if pair.Measured() {
		// Travel is not taken to shrink when somebody is tired.
		arm.Usable, arm.Assumed = r.given(pair.Least()), false
	}
	if !arm.Needed || r.setup.TravelMM == 0 {
		return arm
	}
	arm.Asked = r.asked(r.setup.TravelAsked(d))
	if pair.Measured() {
		var f quantity.Quantity
		strength.TravelReserve(&f, r.site, d, r.setup)
		stands(&arm, f.Value, f.Say, strength.TravelJust, strength.TravelEnough)
	}
	return arm
}

func (r *rose) switchArm(id string, at int) model.RoseArm {
	pair := &r.site.Switch[at][strength.Press]
	press := 0.0
	if r.setup != nil {
		press = r.setup.PressGF(at)
	}
	arm := r.arm(id, pair, press > 0)
	if press == 0 {
		return arm
	}
	r.asks(&arm, press)
	if pair.Measured() {
		var f quantity.Quantity
		strength.SwitchReserve(&f, r.site, at, strength.Press, press)
		stands(&arm, f.Value, f.Say, strength.ReserveTight, strength.ReserveWorkable)
	}
	return arm
}

func (r *rose) asks(arm *model.RoseArm, gf float64) {
	arm.Asked, arm.Plenty = r.asked(gf), r.asked(gf*strength.ReserveWorkable)
}

// stands says how a reserve stands to the least that may be used and the least that
// is workable.
func stands(arm *model.RoseArm, reserve decimal.Micro, say message.Message, least, workable float64) {
	arm.Short = reserve < exactly(least)
	arm.Tight = !arm.Short && reserve < exactly(workable)
	arm.Message = say
}

func (r *rose) arm(id string, pair *strength.Pair, needed bool) model.RoseArm {
	arm := model.RoseArm{ID: id, Needed: needed, Rested: r.series(&pair.Rested), Tired: r.series(&pair.Tired)}
	if pair.Measured() {
		var usable float64
		usable, arm.Assumed = pair.Usable()
		arm.Usable = r.given(usable)
	}
	return arm
}

func (r *rose) series(s *strength.Repeats) *model.RoseSeries {
	if s.N == 0 {
		return nil
	}
	return &model.RoseSeries{Count: s.N, Value: *r.given(s.Mean), Low: r.shown(s.Min), High: r.shown(s.Max), Apart: r.force && s.Apart()}
}

// shown is a reading in the unit of the drawing, as it was typed.
func (r *rose) shown(x float64) decimal.Micro {
	if r.force {
		converted, _ := strength.Convert(x, "gf", r.unit) // a known unit, and a force that was checked
		return converted
	}
	return exactly(x)
}

func (r *rose) given(x float64) *decimal.Micro {
	shown := r.shown(x)
	down := shown.Down(strength.DrawnPlaces(r.unit, shown.Float()))
	return &down
}

func (r *rose) asked(x float64) *decimal.Micro {
	shown := r.shown(x)
	up := shown.Up(strength.DrawnPlaces(r.unit, shown.Float()))
	return &up
}
