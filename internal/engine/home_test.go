package engine_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// atHome is the visit at its best, with a chair and these places.
func atHome(t *testing.T, places ...model.PlaceMeasured) model.Visit {
	t.Helper()
	visit := newBest().visit()
	visit.Chair = &model.Chair{ChairMeasured: model.ChairMeasured{LengthMM: 1150, WidthMM: 650, Drive: "mid", AheadMM: 575,
		ClearanceMM: 30, SlopeDeg: 6, StepMM: 40, ChairKG: 160, PersonKG: 80}}
	visit.Places = nil
	for _, p := range places {
		if p.Place == "" {
			p.Place = "p"
		}
		if p.Name == "" {
			p.Name = "this place"
		}
		visit.Places = append(visit.Places, model.Place{PlaceMeasured: p})
	}
	return visit
}

func scoreOf(t *testing.T, visit model.Visit) model.Result {
	t.Helper()
	result, err := engine.New(authoring.StandardVersion(visit.Checklist.Hash)).Score(&visit)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

// TestANeededPlaceThatDoesNotFitLimitsTheLevel: each kind, with its level and
// whether nobody may drive there at all.
func TestANeededPlaceThatDoesNotFitLimitsTheLevel(t *testing.T) {
	best := scoreOf(t, atHome(t)).Level
	ramp := model.PlaceMeasured{Kind: "ramp", RiseMM: 200, RunMM: 2400, WidthMM: 900, LandingMM: 1500}
	with := func(p model.PlaceMeasured, change func(*model.PlaceMeasured)) model.PlaceMeasured {
		change(&p)
		return p
	}
	for name, c := range map[string]struct {
		place  model.PlaceMeasured
		level  string
		barred bool
	}{
		"door that fits":               {model.PlaceMeasured{Kind: "door", WidthMM: 800}, best, false},
		"door 60 mm too narrow":        {model.PlaceMeasured{Kind: "door", WidthMM: 590}, "accompanied", false},
		"door that nobody needs":       {model.PlaceMeasured{Kind: "door", WidthMM: 590, NotNeeded: true}, best, false},
		"ramp within the limit":        {ramp, best, false},
		"ramp over the limit":          {with(ramp, func(p *model.PlaceMeasured) { p.RunMM = 1600 }), "accompanied", true},
		"ramp narrower than the chair": {with(ramp, func(p *model.PlaceMeasured) { p.WidthMM = 640 }), "accompanied", false},
		"step over the limit":          {model.PlaceMeasured{Kind: "threshold", HeightMM: 41}, "accompanied", true},
		"step at the limit":            {model.PlaceMeasured{Kind: "threshold", HeightMM: 40}, best, false},
		"lift overloaded":              {model.PlaceMeasured{Kind: "load", LimitKG: 239}, "accompanied", true},
		"lift enough":                  {model.PlaceMeasured{Kind: "load", LimitKG: 240}, best, false},
		"room without room to turn":    {model.PlaceMeasured{Kind: "turn-on-spot", WidthMM: 1200}, "accompanied", false},
	} {
		visit := atHome(t, c.place)
		result := scoreOf(t, visit)
		if result.Level != c.level || result.Passages[0].Barred != c.barred {
			t.Errorf("%s: level %s, barred %v; want %s, %v", name, result.Level, result.Passages[0].Barred, c.level, c.barred)
		}
		raised := slices.IndexFunc(result.Effects, func(f model.RaisedEffect) bool { return f.Place == "p" && f.Effect == "limit:accompanied" })
		if limits := c.level == "accompanied"; (raised >= 0) != limits {
			t.Errorf("%s: effects %+v", name, result.Effects)
		}
	}
}

// TestALimitNamesThePlaceAndWhatLiesBehindIt.
func TestALimitNamesThePlaceAndWhatLiesBehindIt(t *testing.T) {
	result := scoreOf(t, atHome(t, model.PlaceMeasured{Kind: "door", Name: "bathroom door", LeadsTo: "the bath", WidthMM: 590}))
	words := phrase.NewWriter(phrase.English(), authoring.Standard())
	var said []string
	for i := range result.Effects {
		said = append(said, words.Text(&result.Effects[i].Message))
	}
	for i := range result.Up {
		said = append(said, words.Text(&result.Up[i].Message))
	}
	said = append(said, words.Text(&result.Message))
	all := strings.Join(said, "\n")
	for _, want := range []string{
		"Bathroom door (to: the bath): 60 mm are missing: chair and control are 650 mm at their widest. What is reached through it is driven only with somebody beside.",
		"Bathroom door (to: the bath): make it passable, find another way, or note that the person does not need it.",
		"Held at Accompanied: Tightest door: 60 mm too narrow; Bathroom door (to: the bath) does not fit",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("nobody says %q in\n%s", want, all)
		}
	}
}

// TestTheWorseOfAnswerAndPlaceCounts: what was answered against what was
// measured, what then stands for the item, and whether the contradiction is said.
func TestTheWorseOfAnswerAndPlaceCounts(t *testing.T) {
	number := func(x float64) model.AnswerGiven { return model.AnswerGiven{State: model.StateAnswered, Number: &x} }
	level := func(l string) model.AnswerGiven { return model.AnswerGiven{State: model.StateAnswered, Level: l} }
	none := model.AnswerGiven{State: model.StateNotApplicable, Reason: "none"}
	ramp := model.PlaceMeasured{Kind: "ramp", RiseMM: 200, RunMM: 2000, WidthMM: 900, LandingMM: 1500}
	for name, c := range map[string]struct {
		item  string
		given model.AnswerGiven
		place model.PlaceMeasured
		stand string // band or level
		said  string
	}{
		"door measured narrower": {"hom-door", number(120), model.PlaceMeasured{Kind: "door", WidthMM: 690}, "3", "answered “120 mm”, but this place was measured and says “40 mm”"},
		"another door, narrower": {"hom-door", number(20), model.PlaceMeasured{Kind: "door", WidthMM: 690}, "4", ""},
		"door alike":             {"hom-door", number(40), model.PlaceMeasured{Kind: "door", WidthMM: 690}, "3", ""},
		"door not needed":        {"hom-door", number(120), model.PlaceMeasured{Kind: "door", WidthMM: 690, NotNeeded: true}, "1", ""},
		"sill measured higher":   {"hom-sill", number(10), model.PlaceMeasured{Kind: "threshold", HeightMM: 30}, "3", "says “30 mm”"},
		"ramp measured steeper":  {"hom-ramp", number(12), ramp, "2", "says “1 in 10.0”"},
		"ramp said to be none":   {"hom-ramp", none, ramp, "2", "answered “does not apply”"},
		"turn":                   {"hom-turn", level("3"), model.PlaceMeasured{Kind: "turn-on-spot", WidthMM: 1200}, "0", "says “level 0”"},
		"load":                   {"hom-load", level("yes"), model.PlaceMeasured{Kind: "load", LimitKG: 200}, "no", "answered “yes”, but this place was measured and says “no”"},
		"load without a rating":  {"hom-load", level("yes"), model.PlaceMeasured{Kind: "load"}, "no", "says “no”"},
		"load enough":            {"hom-load", level("yes"), model.PlaceMeasured{Kind: "load", LimitKG: 300}, "yes", ""},
	} {
		visit := atHome(t, c.place)
		visit.Answers = slices.DeleteFunc(visit.Answers, func(a model.Answer) bool { return a.Item == c.item })
		c.given.Item = c.item
		visit.Answers = append(visit.Answers, model.Answer{Item: c.item, Heads: []model.Given{{AnswerGiven: c.given}}})
		result := scoreOf(t, visit)
		at := slices.IndexFunc(result.Items, func(i model.ItemResult) bool { return i.ID == c.item })
		stands := result.Items[at].Level
		if stands == "" {
			stands = string(rune('0' + result.Items[at].Band))
		}
		words := phrase.NewWriter(phrase.English(), authoring.Standard())
		said := ""
		for i := range result.Notes {
			if text := words.Text(&result.Notes[i]); strings.Contains(text, "The worse counts") {
				said += text
			}
		}
		if stands != c.stand || (said == "") != (c.said == "") || !strings.Contains(said, c.said) {
			t.Errorf("%s: %s counts, %q; want %s, %q", name, stands, said, c.stand, c.said)
		}
	}
}

// TestARampOverTheLimitContradictsItsQuestion.
func TestARampOverTheLimitContradictsItsQuestion(t *testing.T) {
	visit := atHome(t, model.PlaceMeasured{Kind: "ramp", RiseMM: 200, RunMM: 1700, WidthMM: 900, LandingMM: 1500})
	visit.Answers = slices.DeleteFunc(visit.Answers, func(a model.Answer) bool { return a.Item == "hom-ramp" })
	x := 8.5
	visit.Answers = append(visit.Answers, model.Answer{Item: "hom-ramp", Heads: []model.Given{{AnswerGiven: model.AnswerGiven{Item: "hom-ramp",
		State: model.StateAnswered, Number: &x, Facts: map[string]bool{"ramp-over-limit": false}}}}})
	text := resultText(t, authoring.StandardVersion(visit.Checklist.Hash), &visit)
	for _, want := range []string{"answered that no ramp is steeper than the chair allows, but this place was measured and is",
		"“Is it steeper than this chair allows by its manual?” answered yes"} {
		if !strings.Contains(text, want) {
			t.Errorf("nobody says %q", want)
		}
	}
	if strings.Contains(text, "(ramp-over-limit)") {
		t.Error("a code stands in a sentence")
	}
}
