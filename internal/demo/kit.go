package demo

import (
	"time"

	"doorsill/internal/model"
)

// control is an invented control of a team's kit. Its figures are those of its
// class.
type control struct {
	name, class, sealing string
	powerJack, modeJack  bool
	attendant            bool
	lever, weight        float64
	mounts               []string
}

// kits are four invented controls for each team.
func kits() map[string][]control {
	return map[string][]control{
		"harbour": {
			{"Blue stick", "standard", "IP54", true, true, true, 45, 310, []string{"fixed", "swing-away"}},
			{"Short grey stick", "small", "IPX4", true, true, false, 22, 120, []string{"swing-away", "gooseneck", "midline"}},
			{"Amber thumb stick", "very-light", "", false, true, false, 12, 45, []string{"tray", "glove"}},
			{"Head pads, a pair", "switched", "IP65", false, true, false, 0, 420, []string{"behind-head"}},
		},
		"upland": {
			{"Long black stick", "standard", "IP65", true, false, true, 60, 380, []string{"fixed", "swing-away"}},
			{"White chin stick", "small", "IP54", true, true, false, 20, 110, []string{"swing-away", "midline"}},
			{"Green thumb stick", "very-light", "", false, true, false, 12, 50, []string{"tray", "fixed"}},
			{"Board of four switches", "switched", "IP54", false, false, false, 0, 650, []string{"tray"}},
		},
	}
}

// listKit has a team's lead list the kit.
func (d *seeder) listKit(team, lead string) {
	who := d.people[lead]
	at := d.before(130, 7)
	for i, c := range kits()[team] {
		f := figures[c.class]
		who.tab.write(at.Add(time.Duration(i)*time.Minute), model.KindControlListed, idFor("control "+c.name), model.ControlListed{
			Team: d.teams[team], Name: c.name, Class: c.class, StartGF: f.start, OperateGF: f.operate, TravelMM: f.travel,
			LeverMM: c.lever, Sealing: c.sealing, PowerJack: c.powerJack, ModeJack: c.modeJack, Connector: "invented plug",
			Attendant: c.attendant, WeightG: c.weight, Mounts: c.mounts,
			Measured: at.Format(time.DateOnly), MeasuredBy: who.Name,
		})
	}
}

// packed is a team's kit as it goes into a visit.
func packed(team string) []model.PackedControl {
	var list []model.PackedControl
	for _, c := range kits()[team] {
		f := figures[c.class]
		list = append(list, model.PackedControl{
			ID: idFor("control " + c.name), Name: c.name, Class: c.class, StartGF: f.start, OperateGF: f.operate, TravelMM: f.travel,
			LeverMM: c.lever, Sealing: c.sealing, PowerJack: c.powerJack, ModeJack: c.modeJack, Attendant: c.attendant,
		})
	}
	return list
}
