package demo

import (
	"math/rand/v2"
	"testing"
	"time"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/record"
)

var day = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

// levelOf plays a client's visit and returns its level.
func levelOf(t *testing.T, c client) string {
	t.Helper()
	make, ok := profiles()[c.profile]
	if !ok {
		t.Fatalf("%s has the unknown profile %q", c.name, c.profile)
	}
	list := authoring.Standard()
	w := visitWriter{
		tab: &tablet{id: "tablet", person: "person"}, list: list, id: "visit", at: day, kit: packed("harbour"),
		p: make(), c: c, chance: rand.New(rand.NewPCG(1, 2)),
	}
	if err := w.visit("client", "team", "Invented Signer", day); err != nil {
		t.Fatal(err)
	}
	visit, err := record.FoldVisit(w.entries, model.Logs{})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range w.entries {
		event, err := record.Decode(e.Raw)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := record.ReadBody(&event); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	result, err := engine.New(list).Score(&visit)
	if err != nil {
		t.Fatal(err)
	}
	return result.Level
}

// The demo is for looking around, so every level must be in it.
func TestEveryLevelIsThere(t *testing.T) {
	got := map[string]int{}
	for _, c := range append(harbour(), upland()...) {
		if c.profile == "" {
			continue
		}
		level := levelOf(t, c)
		got[level]++
		t.Logf("%-18s %-10s %s", c.name, c.profile, level)
	}
	for _, level := range model.ResultLevels() {
		if got[level] == 0 {
			t.Errorf("no invented visit ends at %s", level)
		}
	}
}

func TestFortyClientsInTwoTeams(t *testing.T) {
	if n := len(harbour()) + len(upland()); n != 40 {
		t.Errorf("%d clients, want 40", n)
	}
	if len(Teams()) != 2 || len(People()) != 5 {
		t.Errorf("%d teams and %d people, want 2 and 5", len(Teams()), len(People()))
	}
}
