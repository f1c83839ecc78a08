package readiness_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/engine/readiness"
)

// TestCeilingsOfEachAnswer: every answer once, with a fact where that makes a difference,
// and a fact that decides alone at the end.
func TestCeilingsOfEachAnswer(t *testing.T) {
	when := func(effect string, conditions ...checklist.Condition) checklist.Effect {
		return checklist.Effect{Effect: effect, When: conditions}
	}
	facts := func(level string, facts ...string) checklist.Condition {
		c := checklist.Condition{Facts: facts}
		if level != "" {
			c.Levels = []string{level}
		}
		return c
	}
	for _, c := range []struct {
		name    string
		na      bool
		asks    []string
		effects []checklist.Effect
		want    []string
	}{
		{"nothing", false, nil, nil, []string{"yes", "no", "not-tested"}},
		{"that may not apply", true, nil, nil, []string{"yes", "no", "not-tested", "not-applicable", "not-applicable (nowhere)"}},
		{"an answer with a fact", false, []string{"loose"}, []checklist.Effect{when(checklist.LimitPractise, facts("no", "loose")), when(checklist.LimitHomeGround, facts("no"))},
			[]string{"yes", "no: home-ground", "no with loose: practise", "not-tested"}},
		{"a fact that changes nothing", false, []string{"loose"}, []checklist.Effect{when(checklist.LimitPractise, facts("no"), facts("no", "loose"))},
			[]string{"yes", "no: practise", "not-tested"}},
		{"a fact in two conditions", false, []string{"loose"}, []checklist.Effect{when(checklist.LimitPractise, facts("no", "loose")), when(checklist.LimitAccompanied, facts("yes", "loose"))},
			[]string{"yes", "yes with loose: accompanied", "no", "no with loose: practise", "not-tested"}},
		{"a fact that decides alone", false, []string{"seen"}, []checklist.Effect{when(checklist.LimitPractise, facts("", "seen"))},
			[]string{"yes", "no", "not-tested", "answered with seen: practise"}},
		{"a control that the head carries", false, nil, []checklist.Effect{when(checklist.LimitPractise, facts("no", checklist.FactHeadBorne))},
			[]string{"yes", "no", "no with " + checklist.FactHeadBorne + ": practise", "not-tested"}},
		{"a light control", false, nil, []checklist.Effect{when(checklist.LimitPractise, facts("no", checklist.FactLightControl))},
			[]string{"yes", "no", "no with " + checklist.FactLightControl + ": practise", "not-tested"}},
		{"an own stop that was not shown", false, nil, []checklist.Effect{when(checklist.LimitPractise, facts("no", checklist.FactOwnStopOpen))},
			[]string{"yes", "no", "no with " + checklist.FactOwnStopOpen + ": practise", "not-tested"}},
	} {
		item := checklist.Item{ID: "hom-one", Title: "One", Type: checklist.TypeYesNo, Weight: 1, NA: c.na, Effects: c.effects}
		if c.na {
			item.NAReasons = []string{"nowhere"}
		}
		for _, fact := range c.asks {
			item.Asks = append(item.Asks, checklist.Ask{Fact: fact})
		}
		other := checklist.Item{ID: "hom-two", Title: "Two", Type: checklist.TypeYesNo, Weight: 99}
		list := readiness.Compile(&checklist.Definition{Sections: []checklist.Section{{Code: "hom", Title: "Home", Items: []checklist.Item{item, other}}}})
		var got []string
		for _, one := range list.Ceilings(0) {
			text := one.State.String()
			if one.State == readiness.Answered && one.Level != "" {
				text = one.Level
			}
			if one.Reason != "" {
				text += " (" + one.Reason + ")"
			}
			if one.Fact != "" {
				text += " with " + one.Fact
			}
			if one.Highest != readiness.WiderGround {
				text += ": " + one.Highest.String()
			}
			got = append(got, text)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %s\nwant %s", c.name, strings.Join(got, "; "), strings.Join(c.want, "; "))
		}
	}
}

// TestACeilingIsSaid: what is free, what gives no level, what pauses, what holds, and with
// which fact.
func TestACeilingIsSaid(t *testing.T) {
	for want, one := range map[string]readiness.Ceiling{
		"ceiling.free":                    {Highest: readiness.WiderGround},
		"ceiling.none":                    {Highest: readiness.None},
		"ceiling.pause":                   {Highest: readiness.Pause},
		"ceiling.holds level=practise":    {Highest: readiness.Practise},
		"ceiling.holds level=home-ground": {Highest: readiness.HomeGround},
		"ceiling.with fact=[fact.asked fact=loose] ceiling=[ceiling.pause]": {Highest: readiness.Pause, Fact: "loose"},
	} {
		say := one.Say()
		if got := say.String(); got != want {
			t.Errorf("%v: %s, want %s", one.Highest, got, want)
		}
	}
}
