package engine_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// scoredAfter scores the visit in which every item is answered well after a
// change.
func scoredAfter(t *testing.T, change func(*model.Visit)) model.Result {
	t.Helper()
	v := readVector(t, filepath.Join(vectorDir, "full-ninety.json"))
	change(&v.Visit)
	result, err := engine.New(v.list(t)).Score(&v.Visit)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

func quantityIn(r *model.Result, name string) *model.Quantity {
	at := slices.IndexFunc(r.Quantities, func(q model.Quantity) bool { return q.Name == name })
	if at < 0 {
		return &model.Quantity{}
	}
	return &r.Quantities[at]
}

func hasCode(r *model.Result, code string) bool {
	for i := range r.Notes {
		if r.Notes[i].Code == code {
			return true
		}
	}
	return false
}

// TestOnlyWhatWasFoundWithTheChosenControlCounts: what was driven, held, let go
// of, pushed or felt with another control is not evidence for the chosen one.
func TestOnlyWhatWasFoundWithTheChosenControlCounts(t *testing.T) {
	other := model.InUse{Class: "small", Control: "Another", Site: "index-right"}
	for name, c := range map[string]struct {
		change         func(*model.Visit)
		missing, noted string
	}{
		"runs": {func(v *model.Visit) {
			for i := range v.Runs {
				v.Runs[i].Assume(other)
			}
		}, "contacts", "trial.other-control"},
		"holds":    {readingsWith("hold", other), "hold", "strength.other-control"},
		"releases": {readingsWith("release", other), "release", "strength.other-control"},
		"noise":    {readingsWith("unintended", other), "noise", "strength.other-control"},
	} {
		before := scoredAfter(t, func(*model.Visit) {})
		after := scoredAfter(t, c.change)
		if q := quantityIn(&before, c.missing); q.Value == nil || q.Origin != model.OriginMeasured || hasCode(&before, c.noted) {
			t.Errorf("%s without a name: %+v", name, q)
		}
		if q := quantityIn(&after, c.missing); q.Origin == model.OriginMeasured || !hasCode(&after, c.noted) || after.Level == before.Level {
			t.Errorf("%s with another control: %+v, level %s", name, q, after.Level)
		}
	}
}

func readingsWith(what string, use model.InUse) func(*model.Visit) {
	return func(v *model.Visit) {
		for i := range v.Readings {
			if r := &v.Readings[i]; r.What == what {
				r.Assume(use)
			}
		}
	}
}

// TestAnAnswerAboutAnotherControl does not count, is asked anew, and counts again
// when its control is chosen again.
func TestAnAnswerAboutAnotherControl(t *testing.T) {
	pain := func(v *model.Visit, number float64, use model.InUse, also ...model.Given) {
		for i := range v.Answers {
			if a := &v.Answers[i]; a.Item == "ctl-pain" {
				a.Heads = slices.Clone(a.Heads[:1])
				a.Heads[0].Number = &number
				a.Heads[0].Class, a.Heads[0].Control, a.Heads[0].Site = use.Class, use.Control, use.Site
				a.Others = also
			}
		}
	}
	other := model.InUse{Class: "standard", Control: "Another", Site: "hand-left"}
	strong := scoredAfter(t, func(v *model.Visit) { pain(v, 8, v.Setup.InUse()) })
	if strong.Level != "pause" {
		t.Errorf("pain of 8 with the chosen control: %s", strong.Level)
	}
	apart := scoredAfter(t, func(v *model.Visit) { pain(v, 8, other) })
	asked := slices.ContainsFunc(apart.Missing, func(m model.Missing) bool {
		return m.Item == "ctl-pain" && m.Message.Code == "readiness.lack-chosen"
	})
	if apart.Level != "practise" && apart.Level != "pause" || !asked {
		t.Errorf("pain with another control: %s, asked %v", apart.Level, asked)
	}
	again := scoredAfter(t, func(v *model.Visit) {
		was := model.Given{AnswerGiven: model.AnswerGiven{Item: "ctl-pain", State: model.StateAnswered, Number: new(8.0)}}
		was.Assume(v.Setup.InUse())
		pain(v, 0, other, was)
	})
	if again.Level != "pause" {
		t.Errorf("pain of 8 with the control that is chosen again: %s", again.Level)
	}
}

// TestASetUpThatCannotBeIsRefused names the field.
func TestASetUpThatCannotBeIsRefused(t *testing.T) {
	v := readVector(t, filepath.Join(vectorDir, "full-ninety.json"))
	v.Visit.Setup.StartGF = v.Visit.Setup.OperateGF + 0.1
	if _, err := engine.New(v.list(t)).Score(&v.Visit); err == nil || !strings.Contains(err.Error(), "setup.start_gf") {
		t.Errorf("error %v", err)
	}
	v.Visit.Setup.StartGF = v.Visit.Setup.OperateGF
	if _, err := engine.New(v.list(t)).Score(&v.Visit); err != nil {
		t.Errorf("a control that starts at full command: %v", err)
	}
}

// inUse is a control of the kit of another name at the chosen site.
func inUse(v *model.Visit, name string) model.InUse {
	return model.InUse{Class: "small", Control: name, Site: v.Setup.Site}
}

// answered puts an answer in the place of what was said of an item.
func answered(v *model.Visit, item string, given ...model.AnswerGiven) {
	for i := range v.Answers {
		a := &v.Answers[i]
		if a.Item != item {
			continue
		}
		first := a.Heads[0]
		a.Heads = nil
		for _, one := range given {
			first.AnswerGiven = one
			first.Item, first.State = item, model.StateAnswered
			a.Heads = append(a.Heads, first)
		}
	}
}

// alsoOf adds an answer about another control of the kit.
func alsoOf(v *model.Visit, name, item string, answer model.AnswerGiven) {
	for i := range v.Answers {
		if a := &v.Answers[i]; a.Item == item {
			answer.Item, answer.State = item, model.StateAnswered
			answer.Assume(inUse(v, name))
			a.Others = append(a.Others, model.Given{AnswerGiven: answer})
		}
	}
}

// TestWhatWasFoundWithAnotherControlIsSaidOfIt: pain, grading, numbness and unmeant
// commands on rough ground, of the control of the kit that was in use and of no other.
// Of one that is refused a result leaves out what is well.
func TestWhatWasFoundWithAnotherControlIsSaidOfIt(t *testing.T) {
	const blue, red = "Blue stick", "Red stick"
	rough := func(v *model.Visit, name string, unmeant int) {
		run := model.Run{RunTimed: model.RunTimed{Place: "rough", State: "rested", Seconds: 60, Metres: 40, Unmeant: unmeant}}
		run.Assume(inUse(v, name))
		v.Runs = append(v.Runs, run)
	}
	for name, c := range map[string]struct {
		change                func(*model.Visit)
		pain, grading, ground string
	}{
		"nothing":         {func(*model.Visit) {}, "feasible", "feasible", "unknown"},
		"pain of 8":       {func(v *model.Visit) { alsoOf(v, blue, "ctl-pain", model.AnswerGiven{Number: new(8.0)}) }, "not-feasible", "", "unknown"},
		"pain of another": {func(v *model.Visit) { alsoOf(v, red, "ctl-pain", model.AnswerGiven{Number: new(8.0)}) }, "feasible", "feasible", "unknown"},
		"numbness":        {func(v *model.Visit) { alsoOf(v, blue, "ctl-strain", model.AnswerGiven{Level: "0"}) }, "not-feasible", "", "unknown"},
		"not graded yet":  {func(v *model.Visit) { alsoOf(v, blue, "ctl-grade", model.AnswerGiven{Level: "0"}) }, "", "not-feasible", "unknown"},
		"pain and grading, after another's": {func(v *model.Visit) {
			alsoOf(v, red, "ctl-pain", model.AnswerGiven{Number: new(8.0)})
			alsoOf(v, blue, "ctl-pain", model.AnswerGiven{Number: new(5.0)})
			alsoOf(v, blue, "ctl-grade", model.AnswerGiven{Level: "2"})
		}, "marginal", "marginal", "unknown"},
		"rough ground":                      {func(v *model.Visit) { rough(v, blue, 10) }, "feasible", "feasible", "not-feasible"},
		"rough ground without a fault":      {func(v *model.Visit) { rough(v, blue, 0) }, "feasible", "feasible", "feasible"},
		"rough ground with another, before": {func(v *model.Visit) { rough(v, red, 10); rough(v, blue, 0) }, "feasible", "feasible", "feasible"},
		"rough ground with another alone":   {func(v *model.Visit) { rough(v, red, 0) }, "feasible", "feasible", "unknown"},
		"rough ground, and pain with another one": {func(v *model.Visit) {
			rough(v, blue, 0)
			alsoOf(v, red, "ctl-pain", model.AnswerGiven{Number: new(8.0)})
		}, "feasible", "feasible", "feasible"},
	} {
		result := scoredAfter(t, func(v *model.Visit) {
			v.Kit = append(v.Kit, model.PackedControl{ID: "kit-blue", Name: blue, Class: "small", StartGF: v.Setup.StartGF, OperateGF: v.Setup.OperateGF, TravelMM: v.Setup.TravelMM})
			c.change(v)
		})
		at := slices.IndexFunc(result.Choices, func(one model.Choice) bool { return one.Control == "kit-blue" })
		if at < 0 {
			t.Fatalf("%s: the control of the kit is not judged", name)
		}
		verdicts := map[string]string{}
		for _, r := range result.Choices[at].Reasons {
			verdicts[r.Rule] = r.Verdict
		}
		for rule, want := range map[string]string{"pain": c.pain, "grading": c.grading, "rough-finger": c.ground} {
			if verdicts[rule] != want {
				t.Errorf("%s: %s is %q, want %s", name, rule, verdicts[rule], want)
			}
		}
	}
}

// TestOfSeveralAnswersTheMoreCautiousCountsForTheControl: the greatest pain, the gravest
// sign and the most help with grading, in whichever order they came.
func TestOfSeveralAnswersTheMoreCautiousCountsForTheControl(t *testing.T) {
	level := func(levels ...string) (list []model.AnswerGiven) {
		for _, one := range levels {
			list = append(list, model.AnswerGiven{Level: one})
		}
		return list
	}
	for _, c := range []struct {
		item, rule string
		given      []model.AnswerGiven
		want       string
		lighter    bool // because it aches into the next day
	}{
		{"ctl-pain", "pain", []model.AnswerGiven{{Number: new(2.0)}, {Number: new(5.0)}}, "marginal", false},
		{"ctl-pain", "pain", []model.AnswerGiven{{Number: new(2.0)}, {Number: new(3.0)}}, "feasible", false},
		{"ctl-grade", "grading", level("4", "2"), "marginal", false},
		{"ctl-grade", "grading", level("0", "3"), "not-feasible", false},
		{"ctl-strain", "pain", level("3", "0"), "not-feasible", false},
		{"ctl-strain", "pain", level("3", "1"), "feasible", true},
		{"ctl-strain", "pain", level("3", "2"), "feasible", false},
	} {
		for range 2 {
			result := scoredAfter(t, func(v *model.Visit) {
				v.Kit = append(v.Kit, model.PackedControl{ID: "kit-own", Name: "Own stick", Class: v.Setup.Class, StartGF: v.Setup.StartGF, OperateGF: v.Setup.OperateGF, TravelMM: v.Setup.TravelMM},
					model.PackedControl{ID: "kit-heavy", Name: "Heavy stick", Class: "small", StartGF: 10, OperateGF: 16, TravelMM: v.Setup.TravelMM})
				for i := range v.Readings {
					if r := &v.Readings[i]; r.What == model.ReadForce {
						r.Value *= 3 // that the heavy stick has force enough
					}
				}
				answered(v, c.item, c.given...)
			})
			at := slices.IndexFunc(result.Reasons, func(r model.Reason) bool { return r.Rule == c.rule })
			if at < 0 || result.Reasons[at].Verdict != c.want {
				t.Errorf("%s %+v: %+v, want %s", c.item, c.given, result.Reasons, c.want)
			}
			lighter := false
			for _, one := range result.Choices {
				for i := range one.Messages {
					lighter = lighter || strings.Contains(one.Messages[i].String(), "access.lighter-for-strain")
				}
			}
			if lighter != c.lighter {
				t.Errorf("%s %+v: a lighter kind is asked for strain %v", c.item, c.given, lighter)
			}
			slices.Reverse(c.given)
		}
	}
}
