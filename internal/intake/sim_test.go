package intake_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/intake"
	"doorsill/internal/record"
	"doorsill/internal/store"
)

var seed = flag.Uint64("seed", 0, "seed of the simulation; 0 takes three fixed ones")

// sim is several tablets that write about one visit, push and pull in any
// order, and lose requests, answers and their last receipts.
type sim struct {
	*house
	rng     *rand.Rand
	tablets []*simTablet
}

// simTablet also holds what it pulled.
type simTablet struct {
	*tablet
	pulled []record.Entry
	cursor int64
}

func TestTabletsLoseNothing(t *testing.T) {
	seeds := []uint64{1, 20260302, 977}
	if *seed != 0 {
		seeds = []uint64{*seed}
	}
	for _, seed := range seeds {
		t.Run(fmt.Sprintf("seed %d", seed), func(t *testing.T) {
			s := &sim{house: newHouse(t), rng: rand.New(rand.NewPCG(seed, 1))}
			s.visited()
			for i, person := range []string{"marit", "davit", "lena", "davit"} {
				s.tablets = append(s.tablets, &simTablet{tablet: s.tablet(fmt.Sprintf("tab-%d", i), person)})
			}
			for range 400 {
				s.step(s.tablets[s.rng.IntN(len(s.tablets))])
			}
			s.settle()
			s.compare()
		})
	}
}

func (s *sim) step(t *simTablet) {
	switch s.rng.IntN(10) {
	case 0, 1, 2, 3:
		s.say(t)
	case 4, 5:
		s.push(t)
	case 6:
		s.loseRequest(t)
	case 7:
		s.loseAnswer(t)
	case 8:
		s.pull(t)
	case 9: // the receipt is lost: a tablet that was put back a little
		t.sent = max(0, t.sent-s.rng.Int64N(4))
	}
}

func (s *sim) say(t *simTablet) {
	t.seen = t.cursor
	items := []string{"pos-pelvis", "pos-trunk", "pos-head"}
	levels := []string{"3", "2", "1", "0"}
	switch s.rng.IntN(8) {
	case 0:
		t.write(record.KindReadingTaken, "v1", force("chin", "forward", float64(s.rng.IntN(200)), "gf"))
	case 1: // something that can not stand
		t.write(record.KindAnswerGiven, "v1", level("pos-nose", "3"))
	default:
		t.write(record.KindAnswerGiven, "v1", level(items[s.rng.IntN(3)], levels[s.rng.IntN(4)]))
	}
}

// some is a random part of what waits.
func (s *sim) some(t *simTablet) [][]byte {
	waiting := t.lines[t.sent:]
	if len(waiting) == 0 {
		return nil
	}
	return waiting[:1+s.rng.IntN(len(waiting))]
}

func (s *sim) push(t *simTablet) {
	answer, err := s.intake.Push(context.Background(), caller(t.person), pushOf("", t.id, t.sent+1, s.some(t)))
	if err != nil {
		s.Fatal(err)
	}
	t.sent = answer.Ack
}

// loseRequest sends bytes that do not arrive whole.
func (s *sim) loseRequest(t *simTablet) {
	body := pushOf("", t.id, t.sent+1, s.some(t)).Bytes()
	cut := body[:s.rng.IntN(len(body))]
	_, err := s.intake.Push(context.Background(), caller(t.person), bytes.NewReader(cut))
	var refused *intake.PushError
	if !errors.As(err, &refused) || refused.Code != intake.CodeDamaged {
		s.Fatalf("a cut push: %v", err)
	}
}

// loseAnswer has a push taken in without the tablet hearing of it.
func (s *sim) loseAnswer(t *simTablet) {
	if _, err := s.intake.Push(context.Background(), caller(t.person), pushOf("", t.id, t.sent+1, s.some(t))); err != nil {
		s.Fatal(err)
	}
}

func (s *sim) pull(t *simTablet) {
	s.view(func(r store.Reader) error {
		entries, more, err := r.EntriesOfTeam("north", t.cursor, 1+s.rng.IntN(20))
		for _, e := range entries {
			e.Raw = bytes.Clone(e.Raw)
			t.pulled = append(t.pulled, e)
			t.cursor = e.Pos
		}
		if !more {
			t.cursor = max(t.cursor, r.Head())
		}
		return err
	})
}

// settle has every tablet send and pull everything.
func (s *sim) settle() {
	for _, t := range s.tablets {
		for t.sent < int64(len(t.lines)) {
			s.push(t)
		}
	}
	for _, t := range s.tablets {
		for head := int64(-1); t.cursor != head; {
			s.view(func(r store.Reader) error { head = r.Head(); return nil })
			s.pull(t)
		}
	}
}

// compare says that every event is kept exactly once and that every tablet
// sees the same visit as the server.
func (s *sim) compare() {
	kept := map[string]int{}
	s.view(func(r store.Reader) error {
		entries, err := r.Entries(0, 1<<20)
		for _, e := range entries {
			kept[string(e.Raw)]++
		}
		return err
	})
	for _, q := range s.quarantine(store.QuarantineFilter{}) {
		kept[string(q.Raw)]++
	}
	want := s.visitText(s.visit("v1"))
	for _, t := range s.tablets {
		for i, line := range t.lines {
			if kept[string(line)] != 1 {
				s.Errorf("event %d of %s is kept %d times", i+1, t.id, kept[string(line)])
			}
		}
		var own []record.Entry
		for _, e := range t.pulled {
			if event, err := record.Decode(e.Raw); err == nil && event.Subject == "v1" {
				own = append(own, e)
			}
		}
		visit, err := record.FoldVisit(own)
		if err != nil {
			s.Fatal(err)
		}
		if got := s.visitText(visit); got != want {
			s.Errorf("%s sees another visit:\n%s\n%s", t.id, got, want)
		}
	}
	var result store.Result
	s.view(func(r store.Reader) (err error) { result, err = r.Result("v1"); return err })
	if result.Rules != checklist.Standard().Hash() || len(result.Text) == 0 {
		s.Errorf("no result: %+v", result)
	}
}

func (s *sim) visitText(v record.Visit) string {
	text, err := json.Marshal(v)
	if err != nil {
		s.Fatal(err)
	}
	return string(text)
}
