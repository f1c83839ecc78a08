package engine_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// rank orders levels by what they allow; without a level nobody drives, as in a
// pause.
func rank(level string) int { return max(0, slices.Index(model.Levels(), level)) }

// visitFor is a random visit, or one of an otherwise faultless visit of which a
// few answers are spoilt, so that every level is reached.
func visitFor(seed uint64) model.Visit {
	if seed%3 == 0 {
		return randomVisit(seed)
	}
	d := dice{Rand: rand.New(rand.NewPCG(seed, 11))}
	b := newBest()
	for range d.IntN(4) {
		item := d.item(b.list)
		b.answers[item.ID] = d.head(b.list, item, 50).AnswerGiven
	}
	visit := b.visit()
	for range d.IntN(3) { // somebody else answered apart
		answer := &visit.Answers[d.IntN(len(visit.Answers))]
		answer.Heads = append(answer.Heads, d.head(b.list, b.list.Item(answer.Item), 50))
	}
	return visit
}

// item draws one that is typed.
func (d dice) item(list *checklist.Definition) *checklist.Item {
	for {
		section := &list.Sections[d.IntN(len(list.Sections))]
		if item := &section.Items[d.IntN(len(section.Items))]; item.From == "" {
			return item
		}
	}
}

func levelOf(t *testing.T, scorer *engine.Scorer, visit *model.Visit) string {
	t.Helper()
	result, err := scorer.Score(visit)
	if err != nil {
		t.Fatal(err)
	}
	return result.Level
}

// TestNothingLeftOutRaisesALevel leaves out the answers to one item. Where they
// forbade driving, leaving them out allows no more than practice: taking a STOP
// back is no way past it, and what a STOP can be raised by must be known.
func TestNothingLeftOutRaisesALevel(t *testing.T) {
	scorer := engine.New(authoring.Standard())
	reached := map[string]int{}
	for seed := range uint64(propertyVisits) {
		visit := visitFor(seed)
		if len(visit.Answers) == 0 {
			continue
		}
		before := levelOf(t, scorer, &visit)
		reached[before]++
		d := dice{Rand: rand.New(rand.NewPCG(seed, 13))}
		at := d.IntN(len(visit.Answers))
		left := visit.Answers[at]
		visit.Answers = slices.Delete(slices.Clone(visit.Answers), at, at+1)
		most := before
		if before == "pause" {
			most = "practise"
		}
		if after := levelOf(t, scorer, &visit); rank(after) > rank(most) {
			t.Fatalf("seed %d: without %s the level rises from %s to %s; it was answered %s", seed, left.Item, before, after, given(left.Heads))
		}
	}
	for _, level := range model.ResultLevels() {
		if reached[level] < propertyVisits/100 {
			t.Errorf("only %d of %d visits are at %s", reached[level], propertyVisits, level)
		}
	}
}

func given(heads []model.Given) string {
	var text string
	for i := range heads {
		h := &heads[i].AnswerGiven
		text += fmt.Sprintf("%s %s %v %v ", h.State, h.Level, h.Number, h.Facts)
	}
	return text
}

// TestNoAnswerMadeWorseRaisesALevel makes one answer worse: a lower level, the
// next worse band, or a question beside it that turns to yes.
func TestNoAnswerMadeWorseRaisesALevel(t *testing.T) {
	scorer := engine.New(authoring.Standard())
	tried := 0
	for seed := range uint64(propertyVisits) {
		visit := visitFor(seed)
		d := dice{Rand: rand.New(rand.NewPCG(seed, 17))}
		if len(visit.Answers) == 0 {
			continue
		}
		before := levelOf(t, scorer, &visit)
		answer := &visit.Answers[d.IntN(len(visit.Answers))]
		head := &answer.Heads[d.IntN(len(answer.Heads))].AnswerGiven
		was := *head
		if !d.worse(authoring.Standard().Item(answer.Item), head) {
			continue
		}
		tried++
		if after := levelOf(t, scorer, &visit); rank(after) > rank(before) {
			t.Fatalf("seed %d: %s made worse from %+v to %+v raises the level from %s to %s", seed, answer.Item, was, *head, before, after)
		}
	}
	if tried < propertyVisits/2 {
		t.Errorf("only %d answers were made worse", tried)
	}
}

// worse makes an answer worse and reports whether it could.
func (d dice) worse(item *checklist.Item, a *model.AnswerGiven) bool {
	if open := slices.IndexFunc(item.Asks, func(ask checklist.Ask) bool { is, said := a.Facts[ask.Fact]; return said && !is }); open >= 0 && d.chance(50) {
		a.Facts = map[string]bool{item.Asks[open].Fact: true}
		return true
	}
	if a.State != model.StateAnswered || item.From != "" {
		return false
	}
	if levels := checklist.Levels(item.Type); levels != nil {
		at := slices.Index(levels, a.Level)
		if at == len(levels)-1 {
			return false
		}
		a.Level = levels[at+1+d.IntN(len(levels)-at-1)]
		return true
	}
	step := 1.0
	if item.Better == "high" {
		step = -1
	}
	for _, number := range []**float64{&a.Number, &a.Left, &a.Right} {
		if *number == nil {
			continue
		}
		low, high := item.Range()
		worse := **number + step*float64(1+d.IntN(5))
		if worse = min(max(worse, low), high); worse != **number {
			*number = &worse
			return true
		}
	}
	return false
}
