package engine_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// TestTheSetUpAsItWasChosen: a stop of its own is one by what it asks too, nothing needed
// stands for every direction, and each switch has its own force.
func TestTheSetUpAsItWasChosen(t *testing.T) {
	latched := func(change func(*model.SetupChosen)) func(*model.Visit) {
		return func(v *model.Visit) {
			v.Setup.DriveMode = model.DriveLatched
			change(&v.Setup.SetupChosen)
		}
	}
	for name, c := range map[string]struct {
		change func(*model.Visit)
		want   string
	}{
		"no stop":                 {latched(func(*model.SetupChosen) {}), "not-feasible"},
		"a stop":                  {latched(func(s *model.SetupChosen) { s.SeparateStop = true }), "feasible"},
		"a stop that asks 60 gf":  {latched(func(s *model.SetupChosen) { s.StopPressGF = 60 }), "feasible"},
		"a stop that asks 0.5 gf": {latched(func(s *model.SetupChosen) { s.StopPressGF = 0.5 }), "feasible"},
	} {
		result := scoredAfter(t, c.change)
		at := slices.IndexFunc(result.Reasons, func(r model.Reason) bool { return r.Rule == "latched" })
		if at < 0 || result.Reasons[at].Verdict != c.want {
			t.Errorf("%s: %+v, want %s", name, result.Reasons, c.want)
		}
	}
	for _, c := range []struct {
		needed []string
		want   int
	}{{nil, 4}, {[]string{"forward"}, 1}, {[]string{"forward", "left"}, 2}} {
		result := scoredAfter(t, func(v *model.Visit) { v.Setup.Needed = c.needed })
		loads := 0
		for _, l := range result.Loads {
			if l.Control == "setup" {
				loads++
			}
		}
		if loads != c.want {
			t.Errorf("needed %v: %d directions are loaded", c.needed, loads)
		}
	}
	for name, change := range map[string]func(*model.SetupChosen){
		"access.no-power-jack": func(s *model.SetupChosen) { s.PowerPressGF = 60 },
		"access.no-mode-jack":  func(s *model.SetupChosen) { s.ModePressGF = 60 },
	} {
		result := scoredAfter(t, func(v *model.Visit) {
			v.Setup.SwitchPressGF = 0
			change(&v.Setup.SetupChosen)
			v.Kit = append(v.Kit, model.PackedControl{ID: "kit-one", Name: "One", Class: "small", StartGF: 4, OperateGF: 10, TravelMM: 3})
		})
		at := slices.IndexFunc(result.Choices, func(one model.Choice) bool { return one.Control == "kit-one" })
		var said []string
		for _, m := range result.Choices[at].Messages {
			if strings.Contains(m.Code, "jack") {
				said = append(said, m.Code)
			}
		}
		if !slices.Equal(said, []string{name}) {
			t.Errorf("%s: %v", name, said)
		}
	}
}

// TestADecisionWithoutItsEnd is told so; blanks are no text.
func TestADecisionWithoutItsEnd(t *testing.T) {
	for _, c := range []struct {
		change func(*model.OverrideMade)
		want   string
	}{
		{func(*model.OverrideMade) {}, ""},
		{func(o *model.OverrideMade) { o.Until = "" }, "readiness.refuse-until"},
		{func(o *model.OverrideMade) { o.Mitigation = " \n" }, "readiness.refuse-mitigation"},
		{func(o *model.OverrideMade) { o.Agreed = "\t" }, "readiness.refuse-agreed"},
		{func(o *model.OverrideMade) { o.Text = "  nineteen characters  " }, "readiness.refuse-text"},
	} {
		o := model.OverrideMade{Level: "home-ground", Reason: "other", Text: "twenty characters it is", Mitigation: "a person near", Agreed: "by all",
			From: "2026-03-02", Until: "2026-03-20"}
		c.change(&o)
		result := scoredAfter(t, func(v *model.Visit) {
			for i := range v.Answers { // marginal, and so accompanied
				if v.Answers[i].Item == "ctl-pain" {
					v.Answers[i].Heads[0].Number = new(5.0)
				}
			}
			v.Override = &model.Override{OverrideMade: o}
		})
		why := ""
		if result.Override == nil {
			t.Fatal("no ruling")
		}
		if arg := result.Override.Message.Arg("why"); arg != nil {
			why = arg.Messages[0].Code
		}
		if result.Level != "accompanied" || why != c.want || result.Override.Accepted != (c.want == "") {
			t.Errorf("%s: accepted %v, %q, want %q", result.Level, result.Override.Accepted, why, c.want)
		}
	}
}

// TestPartsThatAreFilledInByOneOfTheirFields, and not by half of what they need.
func TestPartsThatAreFilledInByOneOfTheirFields(t *testing.T) {
	missing := func(v *model.Visit, what string) bool {
		result, err := engine.New(authoring.Standard()).Score(v)
		if err != nil {
			t.Fatal(err)
		}
		return slices.ContainsFunc(result.Missing, func(m model.Missing) bool { return m.Reading != nil && m.Reading.What == what })
	}
	if missing(&model.Visit{Unit: "gf", Plan: &model.Plan{PlanAgreed: model.PlanAgreed{Recheck: "2026-05-01"}}}, "plan") {
		t.Error("a plan with a day is missing")
	}
	door := []model.Place{{PlaceMeasured: model.PlaceMeasured{Place: "p1", Kind: "door", Name: "door", WidthMM: 800}}}
	if !missing(&model.Visit{Unit: "gf", Places: door}, "home") {
		t.Error("a home without the chair counts as measured")
	}
}

// TestAnAnswerAboutAnotherControlIsChecked, and one item is not taken for another.
func TestAnAnswerAboutAnotherControlIsChecked(t *testing.T) {
	v := readVector(t, vectorDir+"/full-ninety.json")
	at := slices.IndexFunc(v.Visit.Answers, func(a model.Answer) bool { return a.Item == "ctl-pain" })
	v.Visit.Answers[at].Others = []model.Given{{AnswerGiven: model.AnswerGiven{Item: "ctl-pain", State: model.StateAnswered, Number: new(11.0)}}}
	if _, err := engine.New(v.list(t)).Score(&v.Visit); err == nil || !strings.Contains(err.Error(), ".others[0].number") {
		t.Errorf("pain of 11 with another control: %v", err)
	}
	// Beside an answer about the chosen one, one about another leaves nothing to ask.
	result := scoredAfter(t, func(v *model.Visit) {
		alsoOf(v, "Blue stick", "ctl-pain", model.AnswerGiven{Number: new(8.0)})
	})
	for _, m := range result.Missing {
		if m.Item == "ctl-pain" || m.Message.Code == "readiness.lack-chosen" {
			t.Errorf("asked: %s", m.Message.String())
		}
	}
	blank := scoreOf(t, answeredAtHome(t, "hom-door", model.AnswerGiven{State: model.StateNotTested}))
	for _, m := range blank.Missing {
		if m.Message.Code == "readiness.lack-chosen" {
			t.Errorf("about no control: %s", m.Message.String())
		}
	}
}

// TestAReasonThatTheChecklistNames is printed as a condition, and lifts the limit of what
// does not apply otherwise (TRADE.md 5.2: road or kerb).
func TestAReasonThatTheChecklistNames(t *testing.T) {
	for _, c := range []struct {
		given model.AnswerGiven
		holds bool
		limit bool
	}{
		{model.AnswerGiven{State: model.StateNotApplicable, Reason: " none on the named routes\n"}, true, false},
		{model.AnswerGiven{State: model.StateNotApplicable, Reason: "nobody asked"}, false, true},
		{model.AnswerGiven{State: model.StateAnswered, Level: "4"}, false, false},
		{model.AnswerGiven{State: model.StateAnswered, Level: "3"}, false, true},
	} {
		result := scoreOf(t, answeredAtHome(t, "out-road", c.given))
		holds := noted(&result, "readiness.holds-while")
		if got := len(holds) == 1 && strings.Contains(holds[0], "item=out-road reason=\"none on the named routes\""); got != c.holds {
			t.Errorf("%+v: %v, want %v", c.given, holds, c.holds)
		}
		limit := slices.ContainsFunc(result.Effects, func(f model.RaisedEffect) bool { return f.Item == "out-road" && f.Effect == "limit:home-ground" })
		if limit != c.limit {
			t.Errorf("%+v: limits %v, want %v", c.given, limit, c.limit)
		}
	}
}
