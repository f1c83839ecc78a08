package engine_test

import (
	"slices"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
)

// best is a visit in the making in which nothing holds the level down: every
// item has its best answer, every direction is strong, rested and tired, and the
// trial was driven far enough without a fault.
type best struct {
	list    *checklist.Definition
	answers map[string]model.AnswerGiven
	setup   model.SetupChosen
	// force is in gf by state, for each direction alike unless forward has its own.
	rested, tired, forward []float64
	travel, hold           float64
	releases               []model.ReadingTaken
	unmeant, press, stop   float64
	runs                   []model.RunTimed
	without                []string // kinds of reading that are left out
}

const bestSite = "index-right"

func newBest() *best {
	b := &best{list: authoring.Standard(), answers: map[string]model.AnswerGiven{},
		setup: model.SetupChosen{Class: "small", Site: bestSite, StartGF: 20, OperateGF: 50, TravelMM: 12,
			Needed: model.Directions(), SwitchPressGF: 30, StopPressGF: 30},
		rested: []float64{400, 400, 400}, tired: []float64{400, 400, 400}, travel: 20, hold: 120, unmeant: 2, press: 100, stop: 100,
		runs: []model.RunTimed{
			{Place: "indoors", State: "rested", Seconds: 600, Metres: 60},
			{Place: "indoors", State: "tired", Seconds: 600, Metres: 40},
			{Place: "rough", State: "rested", Seconds: 60, Metres: 40},
		}}
	for range 5 {
		b.releases = append(b.releases, model.ReadingTaken{Value: 0.8})
	}
	for s := range b.list.Sections {
		for i := range b.list.Sections[s].Items {
			if item := &b.list.Sections[s].Items[i]; item.From == "" {
				b.answers[item.ID] = bestAnswer(item)
			}
		}
	}
	b.facts("mnt-swforce", model.StateNotTested, false)
	return b
}

// bestAnswer is the best answer to an item, with its side questions answered no.
func bestAnswer(item *checklist.Item) model.AnswerGiven {
	if levels := checklist.Levels(item.Type); levels != nil {
		return levelled(item, levels[0])
	}
	return inBand(item, 1)
}

func levelled(item *checklist.Item, level string) model.AnswerGiven {
	return model.AnswerGiven{Item: item.ID, State: model.StateAnswered, Level: level, Facts: asked(item, false)}
}

// asked answers every side question of an item alike.
func asked(item *checklist.Item, yes bool) map[string]bool {
	var facts map[string]bool
	for _, ask := range item.Asks {
		if facts == nil {
			facts = map[string]bool{}
		}
		facts[ask.Fact] = yes
	}
	return facts
}

// inBand is a number in the middle of what a band takes: its bound, and in the
// last band one step beyond the last bound.
func inBand(item *checklist.Item, band int) model.AnswerGiven {
	value := 0.0
	if bound := item.Bands[band-1].Bound; bound != nil {
		value = *bound
	} else if value = *item.Bands[band-2].Bound + 1; item.Better == "high" {
		value -= 2
	}
	a := model.AnswerGiven{Item: item.ID, State: model.StateAnswered, Facts: asked(item, false)}
	if item.Sides {
		left := float64(int(value+1) / 2)
		right := value - left
		a.Left, a.Right = &left, &right
	} else {
		a.Number = &value
	}
	return a
}

// facts answers the side questions of an item that is not typed.
func (b *best) facts(id, state string, yes bool) {
	b.answers[id] = model.AnswerGiven{Item: id, State: state, Facts: asked(b.list.Item(id), yes)}
}

// visit is the visit as it was made.
func (b *best) visit() model.Visit {
	v := model.Visit{ID: "best", Client: "client-invented", Team: "team-invented", Unit: "gf",
		Checklist: model.ChecklistRef{ID: b.list.ID, Version: b.list.Version, Hash: b.list.Hash()},
		Setup:     &model.Setup{SetupChosen: b.setup},
		Needs:     &model.Needs{NeedsNoted: model.NeedsNoted{Base: "stable", Moisture: map[string]string{bestSite: "dry"}}},
	}
	for s := range b.list.Sections {
		for i := range b.list.Sections[s].Items {
			if a, ok := b.answers[b.list.Sections[s].Items[i].ID]; ok {
				v.Answers = append(v.Answers, model.Answer{Item: a.Item, Heads: []model.Given{{AnswerGiven: a}}})
			}
		}
	}
	for _, r := range b.readings() {
		if !slices.Contains(b.without, r.What) {
			v.Readings = append(v.Readings, model.Reading{ReadingTaken: r})
		}
	}
	for _, r := range b.runs {
		v.Runs = append(v.Runs, model.Run{RunTimed: r})
	}
	return v
}

func (b *best) readings() []model.ReadingTaken {
	var list []model.ReadingTaken
	add := func(what, direction, state, unit string, values ...float64) {
		for _, value := range values {
			list = append(list, model.ReadingTaken{What: what, Site: bestSite, Direction: direction, State: state, Supported: true, Value: value, Unit: unit})
		}
	}
	for _, direction := range model.Directions() {
		rested, tired := b.rested, b.tired
		if direction == "forward" && b.forward != nil {
			rested, tired = b.forward, b.forward
		}
		add(model.ReadForce, direction, "rested", "gf", rested...)
		add(model.ReadForce, direction, "tired", "gf", tired...)
		add(model.ReadTravel, direction, "rested", "mm", b.travel, b.travel, b.travel)
	}
	add(model.ReadHold, "forward", "rested", "s", b.hold)
	add(model.ReadUnintended, "", "rested", "gf", b.unmeant, b.unmeant, b.unmeant)
	for _, state := range []string{"rested", "tired"} {
		add(model.ReadSwitchForce, "press", state, "gf", b.press, b.press, b.press)
	}
	add(model.ReadSwitchForce, "press", "tired", "gf", b.stop, b.stop, b.stop)
	for i := len(list) - 3; i < len(list); i++ {
		list[i].Switch = "stop"
	}
	for _, r := range b.releases {
		r.What, r.Site, r.State, r.Supported, r.Unit = model.ReadRelease, bestSite, "rested", true, "s"
		list = append(list, r)
	}
	return list
}
