package engine_test

import (
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// TestReadingsLeftOutNeverPutOffTheRecheck: what was measured too seldom brings it
// forward, and of a control that asks no force nothing is missing.
func TestReadingsLeftOutNeverPutOffTheRecheck(t *testing.T) {
	fades := func(b *best) { b.tired = []float64{130, 130, 130} }
	for _, c := range []struct {
		name   string
		change func(*best)
		weeks  int
	}{
		{"all measured", func(*best) {}, 6}, // a finger
		{"fades", fades, 6},
		{"tried when tired, and none came", func(b *best) { b.tired = []float64{0, 0, 0} }, 4},
		{"without a tired reading", func(b *best) { b.tired = nil }, 4},
		{"one tired reading", func(b *best) { b.tired = b.tired[:1] }, 4},
		{"two rested readings", func(b *best) { b.rested = b.rested[:2] }, 4},
		{"without force", func(b *best) { b.without = []string{model.ReadForce} }, 4},
		{"without touch", func(b *best) { *b = *forceless("non-contact", "") }, 6},
	} {
		b := newBest()
		c.change(b)
		v := b.visit()
		v.Needs.Course = "stable"
		result, err := engine.New(b.list).Score(&v)
		if err != nil {
			t.Fatal(err)
		}
		if got := result.Recheck.Weeks; got != c.weeks {
			t.Errorf("%s: in %d weeks, want %d", c.name, got, c.weeks)
		}
	}
}
