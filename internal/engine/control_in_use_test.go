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
