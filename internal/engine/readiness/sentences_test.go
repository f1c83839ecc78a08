package readiness

import (
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/message"
	"doorsill/internal/phrase"
)

// english words a message; titles may be nil where it names no item.
func english(titles phrase.Titles, m message.Message) string {
	return phrase.NewWriter(phrase.English(), titles).Text(&m)
}

// Titles names what a definition holds that a test made and nobody read: it has
// no index of its items.
type Titles struct{ *checklist.Definition }

func (t Titles) ItemTitle(id string) (string, bool) {
	for _, section := range t.Sections {
		for _, item := range section.Items {
			if item.ID == id {
				return item.Title, true
			}
		}
	}
	return "", false
}

// wayOf returns the way to Accompanied by a checklist of one section.
func wayOf(items []checklist.Item, heads []Head) way {
	w, _ := newWay(&checklist.Definition{Sections: []checklist.Section{{Code: "pos", Title: "Sitting", Items: items}}}, heads)
	return w
}

func checkSteps(t *testing.T, w *way, want []string) {
	t.Helper()
	if len(w.steps) != len(want) {
		t.Fatalf("%d steps, want %d", len(w.steps), len(want))
	}
	for i, step := range w.steps {
		if got := english(Titles{w.definition}, step.Say); got != want[i] {
			t.Errorf("step %d: %q, want %q", i, got, want[i])
		}
	}
}

// TestStepsOfASectionInWords: what was answered, what was not, and what is
// computed are asked for each in its own way.
func TestStepsOfASectionInWords(t *testing.T) {
	w := wayOf([]checklist.Item{
		{ID: "pos-head", Title: "Holds the head", Type: checklist.TypeHelp, Weight: 1},
		{ID: "pos-belt", Title: "Belt", Type: checklist.TypeYesNo, Weight: 1},
		{ID: "pos-lean", Title: "Leans", Type: checklist.TypeNumber, Better: "high", Bands: bandsDownTo(5, 2.5), Unit: "cm", From: "unheard-of", Weight: 1},
	}, []Head{{Item: 0, State: Answered, Level: "2"}, {Item: 1}})
	w.section(gate{level: Accompanied, section: 0, code: "pos", least: 100})
	checkSteps(t, &w, []string{
		"Test “Belt”: needs “yes” for Sitting.",
		"Leans: This program cannot compute it. Needs 5 cm or more for Sitting.",
		"Holds the head: from level 2 to level 4 for Sitting.",
	})
}

func TestAControlForPracticeAsksForALongerHold(t *testing.T) {
	w := wayOf([]checklist.Item{{ID: "pos-hold", Title: "Holds forward", Type: checklist.TypeNumber, Bands: bandsDownTo(30, 10), From: checklist.FromHold, Weight: 1}}, nil)
	w.in.Access.PractiseOnly = true
	w.in.Analysis.Hold = quantity.Quantity{Say: message.New("Held for 4 s.")} // stands as it is
	w.accompanied()
	checkSteps(t, &w, []string{
		"Held for 4 s. At least 10 s are needed.",
		"This checklist does not count what a carer shows back (hnd-teach), so Accompanied cannot be reached with it.",
		"This checklist does not ask whether the limits of driving are written down (hnd-limits), so Accompanied cannot be reached with it.",
	})
}

func TestFactsInWords(t *testing.T) {
	for fact, want := range map[string]string{
		"":                          "",
		checklist.FactHeadBorne:     "a control that is worked with the head",
		checklist.FactLightControl:  "a control of 15 gf or less",
		checklist.FactReleaseMissed: "a release that did not come",
		checklist.FactPersonContact: "contact with a person",
		checklist.FactUnequalSides:  "left and right 2 or more apart",
		"only-stop":                 "“only-stop” answered yes",
	} {
		if got := english(nil, factMessage(fact)); got != want {
			t.Errorf("%q: %q, want %q", fact, got, want)
		}
	}
}

// TestTitlesComeFromTheChecklist: an id that the checklist does not have stands
// for itself.
func TestTitlesComeFromTheChecklist(t *testing.T) {
	w := wayOf([]checklist.Item{{ID: "pos-head", Title: "Holds the head", Type: checklist.TypeHelp, Weight: 1}}, nil)
	for id, want := range map[string]string{
		"pos-head":  "Holds the head: due again, because a setting was changed since. It counts as not tested until it is shown anew.",
		"pos-other": "pos-other: due again, because a setting was changed since. It counts as not tested until it is shown anew.",
	} {
		if got := english(Titles{w.definition}, Due(id)); got != want {
			t.Errorf("%s: %q, want %q", id, got, want)
		}
	}
}

// TestWhatHoldsALevelDownIsToBeCleared: an effect is named on the way to each
// level that it forbids, with what would clear it.
func TestWhatHoldsALevelDownIsToBeCleared(t *testing.T) {
	const from = "Holds the head: level 1; answer again with level 4 to lift "
	for effect, want := range map[string]struct {
		limit Level
		say   string
	}{
		checklist.Stop:             {Pause, from + "“No driving”."},
		checklist.StopControl:      {Pause, from + "“Not with this control”."},
		checklist.LimitPractise:    {Practise, from + "“Held at Practise”."},
		checklist.LimitAccompanied: {Accompanied, from + "“Held at Accompanied”."},
		checklist.LimitHomeGround:  {HomeGround, from + "“Held at Home ground”."},
		checklist.StopVehicle:      {WiderGround, ""},
	} {
		w := wayOf([]checklist.Item{{ID: "pos-head", Title: "Holds the head", Type: checklist.TypeHelp, Weight: 1, Effects: []checklist.Effect{
			{Effect: effect, When: []checklist.Condition{{Levels: []string{"0", "1", "2", "3"}}}}}},
		}, []Head{{State: Answered, Level: "1"}})
		w.judge.effects()
		for w.next = Practise; w.next < levels; w.next++ {
			w.steps, w.cleared, w.named[0] = nil, nil, false
			w.effects()
			w.sayCleared()
			if w.next > want.limit {
				checkSteps(t, &w, []string{want.say})
			} else {
				checkSteps(t, &w, nil)
			}
		}
	}
}
