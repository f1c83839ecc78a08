package engine_test

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// ceilingFile is the reviewed table of what each answer allows when everything
// else is at its best, with a reason for each. It was written by hand and never
// from the program.
const ceilingFile = "../../testdata/levels/ceilings.csv"

type ceiling struct{ item, answer, level, reason string }

func readCeilings(t *testing.T) []ceiling {
	t.Helper()
	f, err := os.Open(ceilingFile)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var list []ceiling
	for _, row := range rows[1:] {
		list = append(list, ceiling{row[0], row[1], row[2], row[3]})
	}
	return list
}

// step is one answer to one item, as the table calls it, and how a visit comes to it.
type step struct {
	answer string
	change func(*best)
}

// TestEveryAnswerHasItsCeiling walks every question and every answer, also not
// tested and not applicable, with all else at its best.
func TestEveryAnswerHasItsCeiling(t *testing.T) {
	table := readCeilings(t)
	scorer := engine.New(newBest().list)
	walked := map[[2]string]bool{}
	for s := range newBest().list.Sections {
		for _, item := range newBest().list.Sections[s].Items {
			for _, one := range stepsOf(&item) {
				row := slices.IndexFunc(table, func(c ceiling) bool { return c.item == item.ID && c.answer == one.answer })
				if row < 0 {
					t.Errorf("%s %q is not in %s: add a row with the highest level that it allows, and why", item.ID, one.answer, ceilingFile)
					continue
				}
				walked[[2]string{item.ID, one.answer}] = true
				b := newBest()
				one.change(b)
				visit := b.visit()
				result, err := scorer.Score(&visit)
				if err != nil {
					t.Fatalf("%s %q: %v", item.ID, one.answer, err)
				}
				if result.Level != table[row].level {
					t.Errorf("%s %q: %s, want %s (%s)", item.ID, one.answer, result.Level, table[row].level, table[row].reason)
				}
			}
		}
	}
	for _, c := range table {
		if !walked[[2]string{c.item, c.answer}] {
			t.Errorf("no such answer: %s %q", c.item, c.answer)
		}
		if len(c.reason) < 5 {
			t.Errorf("%s %q has no reason", c.item, c.answer)
		}
	}
}

// TestFewWorstAnswersLeaveWiderGround: an item whose worst answer holds nothing
// down is on the short list, and its rows say why.
func TestFewWorstAnswersLeaveWiderGround(t *testing.T) {
	want := []string{"eqp-charge", "eqp-vehicle", "hnd-sheets", "hnd-clean", "hnd-strain", "hnd-recheck", "hnd-backup"}
	slices.Sort(want)
	lowest := map[string]int{}
	for _, c := range readCeilings(t) {
		if c.answer == "not tested" {
			continue
		}
		rank := slices.Index(model.ResultLevels(), c.level)
		if before, seen := lowest[c.item]; !seen || rank < before {
			lowest[c.item] = rank
		}
		if strings.HasPrefix(c.reason, "short list: ") && !slices.Contains(want, c.item) {
			t.Errorf("%s %q: %q, and it is not on the list", c.item, c.answer, c.reason)
		}
	}
	var got []string
	for id, rank := range lowest {
		if rank == len(model.ResultLevels())-1 {
			got = append(got, id)
		}
	}
	if slices.Sort(got); !slices.Equal(got, want) {
		t.Errorf("items that leave Wider ground at their worst: %v, want %v", got, want)
	}
}

// stepsOf lists the answers to an item.
func stepsOf(item *checklist.Item) []step {
	id := item.ID
	var steps []step
	give := func(answer string, a model.AnswerGiven) {
		steps = append(steps, step{answer, func(b *best) { b.answers[id] = a }})
	}
	if item.From != "" {
		steps = measuredSteps(item)
	} else {
		typedSteps(item, give)
	}
	notTested := func(b *best) {
		delete(b.answers, id)
		unmeasure(b, item.From)
	}
	steps = append(steps, step{"not tested", notTested})
	if !item.NA {
		return steps
	}
	naFor := func(reason string) func(*best) {
		return func(b *best) {
			if item.From != checklist.FromPresses { // what was driven counts for other items too
				unmeasure(b, item.From)
			}
			b.answers[id] = model.AnswerGiven{Item: id, State: model.StateNotApplicable, Reason: reason}
		}
	}
	steps = append(steps, step{"does not apply", naFor("an invented reason")})
	for _, reason := range item.NAReasons {
		steps = append(steps, step{"does not apply: " + reason, naFor(reason)})
	}
	return steps
}

// variants are what the table calls an item with its side questions answered yes
// or, for a carer's plan, no.
var variants = map[string]string{"mnt-clear": ", before the face", "hom-ramp": ", over the limit of the chair"}

func typedSteps(item *checklist.Item, give func(string, model.AnswerGiven)) {
	plan := item.ID == "mnt-power" || item.ID == "mnt-mode"
	for _, level := range checklist.Levels(item.Type) {
		words := level + " " + helpNames[level]
		if item.Type != checklist.TypeHelp {
			at := slices.IndexFunc(item.Levels, func(l checklist.Level) bool { return l.Level == level })
			words = level + " " + item.Levels[at].Text
		}
		a := levelled(item, level)
		if plan {
			give(words+", with a plan", a)
			a.Facts = asked(item, true)
		}
		give(words, a)
	}
	if plan {
		give("not tested, with a plan", model.AnswerGiven{Item: item.ID, State: model.StateNotTested, Facts: asked(item, false)})
	}
	for band := range item.Bands {
		a := inBand(item, band+1)
		give(item.Bands[band].Text, a)
		switch last := band == len(item.Bands)-1; {
		case item.ID == "hom-ramp", item.ID == "mnt-clear" && last:
			a.Facts = asked(item, true)
			give(item.Bands[band].Text+variants[item.ID], a)
		case item.ID == "per-sides" && band == 2:
			left, right := 5.0, 3.0
			give("one side two fewer", model.AnswerGiven{Item: item.ID, State: model.StateAnswered, Left: &left, Right: &right})
		}
	}
}

var helpNames = map[string]string{"4": "Alone", "3": "Alone, slow", "2": "With words", "1": "With hands", "0": "Not yet"}
