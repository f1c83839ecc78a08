package engine_test

import (
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// spoilt is a visit without a fault but for some items: how far each is from its
// best answer, by id.
type spoilt map[string]spot

// spot is one answer: how many options are better, or notAnswered, and whether the
// questions beside it are answered yes.
type spot struct {
	at    int
	facts bool
}

const notAnswered = -1

func (s spoilt) visit() model.Visit {
	b := newBest()
	for sec := range b.list.Sections { // forces before what is a share of them
		for i := range b.list.Sections[sec].Items {
			item := &b.list.Sections[sec].Items[i]
			one, is := s[item.ID]
			if !is {
				continue
			}
			switch levels := checklist.Levels(item.Type); {
			case one.at == notAnswered:
				b.answers[item.ID] = model.AnswerGiven{Item: item.ID, State: model.StateNotTested, Facts: asked(item, one.facts)}
				continue
			case item.From != "":
				how := inBands[item.From]
				how.change(b, how.values[one.at])
				if len(item.Asks) > 0 {
					b.facts(item.ID, model.StateNotTested, one.facts)
				}
				continue
			case levels != nil:
				b.answers[item.ID] = levelled(item, levels[one.at])
			default:
				b.answers[item.ID] = inBand(item, one.at+1)
			}
			a := b.answers[item.ID]
			a.Facts = asked(item, one.facts)
			b.answers[item.ID] = a
		}
	}
	return b.visit()
}

// optionsOf is how many answers an item can have.
func optionsOf(item *checklist.Item) int {
	if levels := checklist.Levels(item.Type); levels != nil {
		return len(levels)
	}
	return len(item.Bands)
}

// spoil draws what is not at its best: mostly of few items, sometimes of many in
// one section.
func (d dice) spoil(list *checklist.Definition) spoilt {
	s := spoilt{}
	if ramp := list.Item("hom-ramp"); d.chance(15) { // good by its figure, and yet too much for the chair
		s[ramp.ID] = spot{at: d.IntN(optionsOf(ramp)), facts: true}
	}
	forces := false
	for range 1 + d.IntN(6) {
		section := &list.Sections[d.IntN(len(list.Sections))]
		times := 1
		if d.chance(30) {
			times = 8
		}
		for range times {
			item := &section.Items[d.IntN(len(section.Items))]
			one := spot{at: d.IntN(optionsOf(item)), facts: d.chance(25)}
			if d.chance(60) {
				one.at = min(one.at, 2)
			}
			switch item.From {
			case "":
				if d.chance(15) {
					one.at = notAnswered
				}
			case checklist.FromForceReserve, checklist.FromSpread, checklist.FromTiredRatio:
				if forces {
					continue
				}
				forces = true
			}
			s[item.ID] = one
		}
	}
	return s
}

// askedBy returns how far from the best the answer is that a step asks for, and
// false for a step that does not say so.
func askedBy(t *testing.T, item *checklist.Item, step *model.Step) (int, bool) {
	t.Helper()
	arg := step.Message.Arg("option")
	if arg == nil {
		return 0, false
	}
	option := &arg.Messages[0]
	switch option.Code {
	case "option.any":
		return optionsOf(item) - 1, true
	case "option.level", "option.level-least":
		return slices.Index(checklist.Levels(item.Type), option.Arg("level").Word), true
	case "option.yes-no":
		return slices.Index(checklist.Levels(item.Type), option.Arg("answer").Word), true
	}
	bound := boundOf(&option.Arg("value").Messages[0])
	at := slices.IndexFunc(item.Bands, func(b checklist.Band) bool { return b.Bound != nil && *b.Bound == bound })
	if at < 0 {
		t.Fatalf("%s: no band begins at %v", item.ID, bound)
	}
	return at, true
}

func boundOf(value *message.Message) float64 { return value.Arg("value").Number.Float() }

// doable are the steps that this test takes: others are about readings, the
// control and the trial. Each is met.
var doable = []string{"readiness.clear-answer", "readiness.clear-either", "readiness.clear-both", "readiness.clear-fact", "readiness.step-better", "readiness.step-test",
	"readiness.step-untested", "readiness.step-known", "readiness.step-before-moving"}

// taken is an answer as it is once a step was taken.
func (s spoilt) taken(t *testing.T, item *checklist.Item, step *model.Step) spot {
	one, code := s[item.ID], step.Message.Code
	if at, says := askedBy(t, item, step); says {
		one.at = at
	} else if code != "readiness.clear-fact" {
		one.at = 0
	}
	one.facts = one.facts && code != "readiness.clear-fact" && code != "readiness.clear-both"
	return one
}

// but is the same visit with another answer to one item.
func (s spoilt) but(id string, one spot) spoilt {
	other := maps.Clone(s)
	other[id] = one
	return other
}

// TestEachStepIsTheLeast takes the steps of many visits exactly as they are said:
// together they lift the level, and with any of them one answer short they do not.
func TestEachStepIsTheLeast(t *testing.T) {
	list := authoring.Standard()
	scorer := engine.New(list)
	words := phrase.NewWriter(phrase.English(), list)
	reached, met := map[string]int{}, map[string]int{}
	for seed := range uint64(waysTried) {
		before := dice{Rand: rand.New(rand.NewPCG(seed, 19))}.spoil(list)
		visit := before.visit()
		result, err := scorer.Score(&visit)
		if err != nil {
			t.Fatal(err)
		}
		if len(result.Up) == 0 || slices.ContainsFunc(result.Up, func(s model.Step) bool { return !slices.Contains(doable, s.Message.Code) }) {
			continue
		}
		next, said := result.Up[0].Level, ""
		done := maps.Clone(before)
		for i := range result.Up {
			step := &result.Up[i]
			said += "\n  " + words.Text(&step.Message)
			done[step.Item] = before.taken(t, list.Item(step.Item), step)
			met[step.Message.Code]++
		}
		leads := func(to spoilt, want bool, how string) {
			t.Helper()
			visit := to.visit()
			if got := levelOf(t, scorer, &visit); rank(got) >= rank(next) != want {
				t.Fatalf("seed %d: %v is at %s; %s, these steps lead to %s:%s", seed, before, result.Level, how, got, said)
			}
		}
		leads(done, true, "taken exactly")
		reached[next]++
		for i := range result.Up {
			step := &result.Up[i]
			item := list.Item(step.Item)
			if step.Message.Code == "readiness.clear-either" {
				leads(done.but(item.ID, spot{at: before[item.ID].at}), true, "without what is beside "+item.ID)
			}
			if at, says := askedBy(t, item, step); says && at+1 < optionsOf(item) {
				leads(done.but(item.ID, spot{at: at + 1, facts: done[item.ID].facts}), false, item.ID+" one answer short")
			}
		}
	}
	for _, level := range []string{"practise", "accompanied", "home-ground", "wider-ground"} {
		if reached[level] < waysTried/25 {
			t.Errorf("only %d ways of %d visits led to %s", reached[level], waysTried, level)
		}
	}
	for _, code := range doable {
		if met[code] == 0 {
			t.Errorf("no visit was asked for %s", code)
		}
	}
}
