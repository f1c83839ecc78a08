package engine_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// TestToldCeilingsAreThoseOfTheTable: what the app says of each answer is what the
// reviewed table holds, row by row.
func TestToldCeilingsAreThoseOfTheTable(t *testing.T) {
	list := authoring.Standard()
	told := engine.New(list).Ceilings()
	for _, row := range readCeilings(t) {
		item := list.Item(row.item)
		at := slices.IndexFunc(told.Items, func(i model.CeilingsOfItem) bool { return i.Item == row.item })
		if item == nil || at < 0 {
			t.Errorf("%s: nothing is told of it", row.item)
			continue
		}
		want, fact := rowOf(t, item, row.answer)
		got := ""
		for _, one := range told.Items[at].Answers {
			same := one.State == want.State && one.Reason == want.Reason
			exact := same && one.Level == want.Level && one.Band == want.Band
			// A row about a fact alone is about every answer.
			if exact && (one.Fact == "" || one.Fact == fact) || fact != "" && same && one.Fact == fact && one.Level == "" && one.Band == 0 {
				got = one.Ceiling
			}
		}
		// In the table's visit a stick is driven with a finger, so both apply after all.
		if got == "wider-ground" && row.answer == "does not apply" && (row.item == "pos-limb" || row.item == "ctl-grade") {
			continue
		}
		if got != row.level {
			t.Errorf("%s %q: told %q, the table holds %s (%s)", row.item, row.answer, got, row.level, row.reason)
		}
	}
}

// TestDoesNotApplyIsToldWithItsLimit: where the set-up or a place may say that an
// item does apply, the words for "does not apply" do not promise otherwise.
func TestDoesNotApplyIsToldWithItsLimit(t *testing.T) {
	var told []string
	for _, item := range engine.New(authoring.Standard()).Ceilings().Items {
		for _, one := range item.Answers {
			limited := one.Message.Code == "ceiling.unless-applies"
			if limited && one.State == model.StateNotApplicable && !slices.Contains(told, item.Item) {
				told = append(told, item.Item)
			}
			if limited && one.State != model.StateNotApplicable {
				t.Errorf("%s, %s: told with %s", item.Item, one.State, one.Message.Code)
			}
		}
	}
	// TestDoesNotApplyIsNoWayAroundAQuestion holds what becomes of them.
	if want := []string{"pos-limb", "ctl-grade", "mnt-urgent", "ind-round", "out-up", "out-down"}; !slices.Equal(told, want) {
		t.Errorf("told with their limit: %v, want %v", told, want)
	}
}

// rowOf says which answer a row of the table is about, and the fact that goes with it.
func rowOf(t *testing.T, item *checklist.Item, answer string) (want model.AnswerCeiling, fact string) {
	t.Helper()
	for words, id := range map[string]string{"one release missed": checklist.FactReleaseMissed, "a person touched": checklist.FactPersonContact, "one side two fewer": checklist.FactUnequalSides} {
		if answer == words {
			return model.AnswerCeiling{State: model.StateAnswered, Band: 1}, id
		}
	}
	plan := item.ID == "mnt-power" || item.ID == "mnt-mode"
	if plan {
		fact = item.Asks[0].Fact
	}
	for _, end := range []string{", with a plan", ", the only stop", variants["mnt-clear"], variants["hom-ramp"]} {
		if rest, ok := strings.CutSuffix(answer, end); ok {
			answer = rest
			if fact = item.Asks[0].Fact; plan {
				fact = ""
			}
		}
	}
	if answer == "not tested" {
		return model.AnswerCeiling{State: model.StateNotTested}, fact
	}
	if reason, ok := strings.CutPrefix(answer, "does not apply"); ok {
		return model.AnswerCeiling{State: model.StateNotApplicable, Reason: strings.TrimPrefix(reason, ": ")}, fact
	}
	if checklist.Levels(item.Type) != nil {
		level, _, _ := strings.Cut(answer, " ")
		return model.AnswerCeiling{State: model.StateAnswered, Level: level}, fact
	}
	band := slices.IndexFunc(item.Bands, func(b checklist.Band) bool { return b.Text == answer })
	return model.AnswerCeiling{State: model.StateAnswered, Band: band + 1}, fact
}

// TestHarmlessItemsHoldNothing: what can be answered together leaves Wider ground
// whatever the answer, and is on the short list of the table.
func TestHarmlessItemsHoldNothing(t *testing.T) {
	table := readCeilings(t)
	var harmless []string
	for _, item := range engine.New(authoring.Standard()).Ceilings().Items {
		if !item.Harmless {
			continue
		}
		harmless = append(harmless, item.Item)
		for _, row := range table {
			if row.item == item.Item && row.answer != "not tested" && row.level != "wider-ground" {
				t.Errorf("%s %q holds the level at %s", row.item, row.answer, row.level)
			}
		}
	}
	if want := []string{"eqp-charge", "hnd-sheets", "hnd-clean", "hnd-strain", "hnd-recheck", "hnd-backup"}; !slices.Equal(harmless, want) {
		t.Errorf("harmless: %v, want %v", harmless, want)
	}
}
