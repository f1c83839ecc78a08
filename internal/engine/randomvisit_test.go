package engine_test

import (
	"fmt"
	"math/rand/v2"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
)

// dice draws what a random visit holds. Equal seeds give equal visits on every
// machine.
type dice struct {
	*rand.Rand
	// kind says that most of what is drawn is well, so that higher levels are
	// reached.
	kind bool
	// best says that nearly all is well.
	best bool
}

func newDice(seed uint64) dice { return dice{rand.New(rand.NewPCG(seed, 7)), seed%2 == 1, seed%4 == 3} }

func (d dice) chance(percent int) bool { return d.IntN(100) < percent }

func (d dice) word(list []string) string { return list[d.IntN(len(list))] }

// between draws a number with so many decimals.
func (d dice) between(low, high float64, decimals int) float64 {
	scale := 1.0
	for range decimals {
		scale *= 10
	}
	return float64(int(low*scale)+d.IntN(int((high-low)*scale)+1)) / scale
}

func (d dice) optional(percent int, low, high float64, decimals int) *float64 {
	if !d.chance(percent) {
		return nil
	}
	x := d.between(low, high, decimals)
	return &x
}

func (d dice) maybe(percent int) *bool {
	if !d.chance(percent) {
		return nil
	}
	b := d.chance(50)
	return &b
}

// randomVisit draws a visit by the standard checklist, from nearly empty to
// full, from hopeless to without a fault.
func randomVisit(seed uint64) model.Visit {
	d := newDice(seed)
	list := authoring.Standard()
	v := model.Visit{
		ID: fmt.Sprintf("visit-%d", seed), Client: "client-invented", Team: "team-invented", Unit: "gf",
		Checklist: model.ChecklistRef{ID: list.ID, Version: list.Version, Hash: list.Hash()},
		Notes:     map[string]string{}, Answers: []model.Answer{}, Readings: []model.Reading{}, Runs: []model.Run{}, Amendments: []model.Amendment{},
	}
	sites := []string{d.word(model.Sites()), d.word(model.Sites())}
	if d.kind && d.chance(70) {
		sites[0] = d.word([]string{"index-right", "thumb-left", "hand-right", "forearm-left", "chin"})
	}
	d.setup(&v, sites)
	d.kit(&v)
	d.needs(&v, sites)
	d.home(&v)
	d.answers(&v, list)
	d.readings(&v, sites)
	d.runs(&v)
	d.override(&v)
	return v
}

// figuresOf draws what a control asks.
func (d dice) figuresOf(class string) (start, operate, travel float64) {
	for _, usual := range []struct {
		class           string
		operate, travel float64
	}{{"standard", 250, 28}, {"small", 50, 12}, {"very-light", 10, 3}, {"attendant", 250, 28}} {
		if usual.class == class && d.chance(80) {
			operate, travel = usual.operate, usual.travel
		}
	}
	switch d.IntN(4) {
	case 0:
		operate, travel = d.between(0, 400, 0), d.between(0, 40, 1)
	case 1:
		operate = d.between(5, 100, 1)
	}
	if operate > 0 && d.chance(70) {
		start = d.between(0, operate, 1)
	}
	return start, operate, travel
}

func (d dice) setup(v *model.Visit, sites []string) {
	if d.chance(10) {
		return
	}
	s := model.SetupChosen{Class: d.word(model.Classes()), Site: sites[0]}
	if d.chance(60) {
		s.Class = d.word([]string{"standard", "small", "very-light"})
	}
	s.StartGF, s.OperateGF, s.TravelMM = d.figuresOf(s.Class)
	if d.best || d.kind && d.chance(90) {
		s.Class, s.StartGF, s.OperateGF, s.TravelMM = "small", 20, 50, 12
	}
	if d.chance(30) && !d.best {
		s.Throw = map[string]float64{}
		for _, direction := range model.Directions() {
			if d.chance(50) {
				s.Throw[direction] = d.between(20, 100, 0)
			}
		}
	}
	for _, direction := range model.Directions() {
		if d.chance(85) {
			s.Needed = append(s.Needed, direction)
		}
	}
	if d.chance(60) {
		s.SwitchPressGF = d.between(10, 300, 0)
	}
	if d.chance(25) {
		s.PowerPressGF = d.between(0, 300, 0)
	}
	if d.chance(25) {
		s.ModePressGF = d.between(0, 300, 0)
	}
	v.Setup = &model.Setup{SetupChosen: s}
}

func (d dice) kit(v *model.Visit) {
	for i := range d.IntN(6) {
		c := model.PackedControl{ID: fmt.Sprintf("k%d", i), Name: fmt.Sprintf("Invented %d", i), Class: d.word(model.Classes()),
			LeverMM: d.between(0, 120, 0), Sealing: d.word([]string{"", "", "IP54", "IPX4", "IP20", "IPXX", "IP67"}),
			PowerJack: d.chance(50), ModeJack: d.chance(50), Attendant: d.chance(30)}
		c.StartGF, c.OperateGF, c.TravelMM = d.figuresOf(c.Class)
		if v.Setup != nil && i == 0 && d.chance(50) {
			c.Class, c.StartGF, c.OperateGF, c.TravelMM = v.Setup.Class, v.Setup.StartGF, v.Setup.OperateGF, v.Setup.TravelMM
		}
		v.Kit = append(v.Kit, c)
	}
}

func (d dice) needs(v *model.Visit, sites []string) {
	if d.chance(20) {
		return
	}
	asked := 0
	if d.kind {
		asked = 55
	}
	n := model.NeedsNoted{
		RoughGround: d.maybe(60), HelperDrives: d.maybe(50), ReverseKey: d.maybe(50), Blocked: d.maybe(50),
		HoursDriving: d.optional(70, 0, 24, 1), CommandsPerMin: d.optional(70, 0, 40, 1), SecondsPerCommand: d.optional(70, 0, 10, 1),
		WristDeg: d.optional(60, -90, 90, 0), TaskShare: d.optional(30+asked, 1, 100, 0), TaskPerMin: d.optional(30+asked, 0, 60, 0),
		TaskSeconds: d.optional(30+asked, 0, 10, 1), TaskWristDeg: d.optional(30+asked, -90, 90, 0), TaskHours: d.optional(20, 0, 24, 1),
		WaitWeeks: d.optional(50, 0, 100, 0),
	}
	if d.chance(80) {
		n.Base = d.word([]string{"stable", "stable", "stable", "adjustable", "moves"})
	}
	if d.best {
		n.Base = "stable"
	}
	if d.chance(80) {
		n.Course = d.word(model.Courses())
	}
	if d.chance(40) {
		n.WishSite = d.word(append(sites, d.word(model.Sites())))
	}
	if d.chance(40) {
		n.WishControl = "class:" + d.word(model.Classes())
		if len(v.Kit) > 0 && d.chance(60) {
			n.WishControl = v.Kit[d.IntN(len(v.Kit))].ID
		}
	}
	for _, site := range append(sites, d.word(model.Sites())) {
		if d.chance(40) {
			if n.Moisture == nil {
				n.Moisture = map[string]string{}
			}
			n.Moisture[site] = d.word(model.Moistures())
		}
		if d.chance(12) && !d.best {
			if n.Rejected == nil {
				n.Rejected = map[string]string{}
			}
			n.Rejected[site] = d.word([]string{"tires within a minute.", "the client does not want it", "wet, and\nthe cover slips", "Ödem . "})
		}
	}
	v.Needs = &model.Needs{NeedsNoted: n}
}

func (d dice) home(v *model.Visit) {
	if d.chance(70) {
		c := model.ChairMeasured{LengthMM: d.between(700, 1500, 0), WidthMM: d.between(500, 800, 0), Drive: d.word(model.Drives()),
			ClearanceMM: d.between(0, 100, 0), ChairKG: d.between(0, 200, 0)}
		if d.chance(70) {
			c.AheadMM = d.between(0, c.LengthMM, 0)
		}
		if d.chance(50) {
			c.SlopeDeg = d.between(3, 20, 0)
		}
		if d.chance(60) {
			c.PersonKG = d.between(3, 200, 0)
		}
		v.Chair = &model.Chair{ChairMeasured: c}
	}
	or0 := func(percent int, low, high float64) float64 {
		if !d.chance(percent) {
			return 0
		}
		return d.between(low, high, 0)
	}
	for i := range d.IntN(7) {
		p := model.PlaceMeasured{Place: fmt.Sprintf("p%d", i), Kind: d.word(model.PlaceKinds()), Name: "invented",
			WidthMM: or0(85, 500, 2000), CorridorMM: or0(85, 600, 2000), Corridor2MM: or0(85, 600, 2000), RiseMM: or0(85, 10, 400), RunMM: or0(85, 100, 6000),
			LandingMM: or0(70, 500, 2000), HeightMM: or0(85, 0, 120), LimitKG: or0(85, 100, 500)}
		if p.RiseMM > 0 && p.RunMM > 0 {
			p.RunMM = float64(int(p.RiseMM * d.between(2.2, 40, 1)))
		}
		v.Places = append(v.Places, model.Place{PlaceMeasured: p})
	}
}

// answers draws how much was answered and how well, then each answer.
func (d dice) answers(v *model.Visit, list *checklist.Definition) {
	coverage := []int{0, 15, 60, 90, 97, 100, 100, 100}[d.IntN(8)]
	good := []int{30, 60, 85, 95, 99, 100}[d.IntN(6)]
	if d.kind {
		coverage, good = []int{97, 99, 100, 100}[d.IntN(4)], []int{90, 97, 99, 100, 100}[d.IntN(5)]
	}
	if d.best {
		coverage, good = []int{99, 100, 100}[d.IntN(3)], []int{99, 100, 100}[d.IntN(3)]
	}
	for s := range list.Sections {
		for i := range list.Sections[s].Items {
			item := &list.Sections[s].Items[i]
			if !d.chance(coverage) && item.From == "" || item.From != "" && d.chance(50) {
				continue
			}
			answer := model.Answer{Item: item.ID}
			heads := 1
			if d.chance(3) && !d.kind || d.kind && d.chance(1) {
				heads = 2 + d.IntN(2)
			}
			for range heads {
				answer.Heads = append(answer.Heads, d.head(list, item, good))
			}
			v.Answers = append(v.Answers, answer)
		}
	}
}

func (d dice) head(list *checklist.Definition, item *checklist.Item, good int) model.Given {
	g := model.Given{AnswerGiven: model.AnswerGiven{Item: item.ID, State: model.StateAnswered}, Due: !d.kind && d.chance(1)}
	for _, ask := range item.Asks {
		if d.chance(80) {
			if g.Facts == nil {
				g.Facts = map[string]bool{}
			}
			g.Facts[ask.Fact] = !d.chance(good)
		}
	}
	switch {
	case !d.kind && d.chance(2):
		g.State = model.StateNotTested
	case item.NA && d.chance(6):
		g.State, g.Reason, g.Facts = model.StateNotApplicable, "invented", nil
	case item.From != "":
		// Worked out from readings: only side questions can be answered.
		if g.Facts == nil {
			g.State = model.StateNotTested
		}
	default:
		d.value(list, item, good, &g.AnswerGiven)
	}
	return g
}

func (d dice) value(list *checklist.Definition, item *checklist.Item, good int, g *model.AnswerGiven) {
	switch item.Type {
	case checklist.TypeNumber:
		x := d.between(*item.Min, *item.Max, 1)
		if d.chance(good) && item.Bands[0].Bound != nil {
			x = *item.Bands[0].Bound
		}
		g.Number = &x
	case checklist.TypeCount:
		most := item.Of
		if most == 0 {
			most = int(*item.Max)
		}
		draw := func(most int) *float64 {
			x := float64(d.IntN(most + 1))
			if d.chance(good) {
				x = 0
				if item.Better == "high" {
					x = float64(most)
				}
			}
			return &x
		}
		if item.Sides {
			g.Left, g.Right = draw(most/2), draw(most/2)
		} else {
			g.Number = draw(most)
		}
	default:
		levels := list.LevelsOf(item)
		at := d.IntN(len(levels))
		if d.chance(good) {
			at = 0
		}
		g.Level = levels[at].Level
	}
}

func (d dice) readings(v *model.Visit, sites []string) {
	strong := []float64{4, 30, 120, 400, 1500}[d.IntN(5)]
	if d.best {
		strong = 400
	} else if d.kind {
		strong = []float64{110, 180, 220, 400, 500}[d.IntN(5)]
	}
	add := func(r model.ReadingTaken) {
		one := model.Reading{ReadingTaken: r, Due: !d.kind && d.chance(1)}
		if d.chance(2) {
			one.Slip = "slipped"
		}
		v.Readings = append(v.Readings, one)
	}
	force := func() (float64, string) {
		x := d.between(strong*0.5, strong*1.6, 1)
		if d.best {
			x = d.between(strong*0.9, strong*1.1, 1)
		}
		if d.chance(8) {
			return d.between(x/102, x/100, 2), "N"
		}
		if d.chance(2) && !d.kind {
			return 0, "gf"
		}
		return x, "gf"
	}
	for _, site := range sites {
		if d.chance(12) && !d.best {
			continue
		}
		supported := d.chance(80)
		for _, what := range []string{model.ReadForce, model.ReadTravel} {
			for _, direction := range append(model.Directions(), "press") {
				if d.chance(10) && !d.kind || direction == "press" && d.chance(90) {
					continue
				}
				for _, state := range []string{"rested", "tired"} {
					if state == "tired" && d.chance(35) && !d.best {
						continue
					}
					repeats := []int{1, 2, 3, 3, 3, 4, 6}[d.IntN(7)]
					if d.kind {
						repeats = 3
					}
					for range repeats {
						r := model.ReadingTaken{What: what, Site: site, Direction: direction, State: state, Supported: supported != d.chance(4), Unit: "mm"}
						if what == model.ReadForce {
							r.Value, r.Unit = force()
						} else {
							if r.Value = d.between(0, 40, 1); d.kind {
								r.Value = d.between(13, 40, 1)
							}
						}
						add(r)
					}
				}
			}
		}
		for _, what := range []string{model.ReadHold, model.ReadRelease, model.ReadUnintended, model.ReadSwitchForce} {
			if d.chance(20) && !d.kind {
				continue
			}
			times := 1 + d.IntN(6)
			if d.kind {
				times = 5
			}
			for range times {
				r := model.ReadingTaken{What: what, Site: site, State: d.word([]string{"rested", "rested", "tired"}), Supported: supported, Unit: "s"}
				switch what {
				case model.ReadHold:
					if r.Value = d.between(0, 150, 0); d.kind && d.chance(95) {
						r.Value = d.between(25, 120, 0)
					}
				case model.ReadRelease:
					switch r.Value = d.between(0.2, 3, 2); {
					case d.kind && d.chance(95):
						r.Value = d.between(0.2, 1.2, 2)
					case d.chance(4):
						r.Value, r.Missed = 0, true
					}
				case model.ReadUnintended:
					r.Value, r.Unit = d.between(0, strong, 1), "gf"
					if d.kind {
						r.Value = d.between(0, 9, 1)
					}
				case model.ReadSwitchForce:
					r.Direction, r.Value, r.Unit = d.word([]string{"", "press"}), d.between(0, strong*2, 1), "gf"
					r.Switch = d.word([]string{"", "", "power", "mode"})
				}
				add(r)
			}
		}
	}
}

func (d dice) runs(v *model.Visit) {
	few, most := []int{1, 1, 2, 8}[d.IntN(4)], 6
	if d.kind {
		few, most = []int{1, 1, 2}[d.IntN(3)], 12
	}
	for range d.IntN(most) {
		r := model.Run{RunTimed: model.RunTimed{Place: d.word([]string{"indoors", "outdoors", "rough"}), State: d.word([]string{"rested", "tired"}),
			Seconds: d.between(0, 1200, 0), Metres: d.between(0, 300, 0), Things: d.IntN(few), People: d.IntN(2) * d.IntN(few), Prompts: d.IntN(few),
			Rescues: d.IntN(few), Unmeant: d.IntN(few), Presses: d.IntN(few)}}
		if d.best && d.chance(90) {
			r.Things, r.People, r.Prompts, r.Rescues, r.Unmeant, r.Presses = 0, 0, 0, 0, 0, 0
		}
		if d.kind {
			r.Seconds, r.Metres = d.between(600, 1200, 0), d.between(100, 300, 0)
		}
		if d.chance(5) {
			r.Slip = "saved by mistake"
		}
		v.Runs = append(v.Runs, r)
	}
}

func (d dice) override(v *model.Visit) {
	if !d.chance(40) {
		return
	}
	o := model.OverrideMade{Level: d.word(model.Levels()), Reason: d.word(model.OverrideReasons()),
		Text: d.word([]string{"short", "too short", "a long safe record, seen by the whole team"}), Mitigation: d.word([]string{"", "walks beside", "walks beside"}),
		Agreed: d.word([]string{" ", "client", "client"}), From: "2026-03-02",
		Until: d.word([]string{"", "2026-03-20", "2026-03-30", "2026-04-20"})}
	v.Override = &model.Override{OverrideMade: o}
}
