package intake_test

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
)

// timed is a store that measures how long the writer holds it.
type timed struct {
	store.Store
	took []time.Duration
}

func (s *timed) Update(ctx context.Context, fn func(store.Writer) error) error {
	start := time.Now()
	defer func() { s.took = append(s.took, time.Since(start)) }()
	return s.Store.Update(ctx, fn)
}

// BenchmarkOneMoreSetAside is the writer's time for a push of one entry that is
// set aside, new or under a number that was used before, when so many of the same
// tablet were before, as the median and the 90th percentile. All but the last few
// of those were dealt with: the bound is far below 100,000.
func BenchmarkOneMoreSetAside(b *testing.B) {
	for _, before := range []int{0, 1_000, 100_000} {
		h := newServiceAt(b, bolt.Options{NoSync: true})
		marit := h.visited()
		for at := 0; at < before; at += 1_000 {
			marit.setAside(1_000)
			marit.settleAll(at)
		}
		w := &timed{Store: h.store}
		h.restartOn(w)
		for _, kind := range []string{"new", "forked"} {
			b.Run(fmt.Sprintf("%s-after-%d", kind, before), func(b *testing.B) { marit.oneMore(b, w, kind == "forked") })
		}
	}
}

func (t *tablet) oneMore(b *testing.B, w *timed, forked bool) {
	w.took = nil
	for round := 1; b.Loop(); round++ {
		n := t.sent + 1
		if forked {
			n = 2
		} else {
			t.sent++
		}
		body := fmt.Appendf(nil, `{"rubbish":%d,"forked":%v`, t.sent, round)
		if _, err := t.intake.Push(context.Background(), caller(t.person), pushOf("", t.id, n, [][]byte{body})); err != nil {
			b.Fatal(err)
		}
		if round%500 == 0 { // somebody deals with them
			b.StopTimer()
			t.settleAll(0)
			b.StartTimer()
		}
	}
	slices.Sort(w.took)
	b.ReportMetric(float64(w.took[len(w.took)/2].Microseconds()), "µs-in-writer")
	b.ReportMetric(float64(w.took[len(w.took)*9/10].Microseconds()), "µs-in-writer-p90")
}

// settleAll settles what is open after an entry's number.
func (t *tablet) settleAll(after int) {
	t.Helper()
	t.update(func(w store.Writer) error {
		open, _, err := w.QuarantinePage(store.QuarantineFilter{Tablet: t.id, Open: true}, int64(after), 10_000)
		for i := range open {
			if err == nil {
				err = w.Settle(open[i].ID, store.Settlement{By: "lena", At: open[i].Received, Note: "entered again"})
			}
		}
		return err
	})
}

// restartOn has an intake on another store, closed when the benchmark ends.
func (h *service) restartOn(s store.Store) {
	h.intake.Close()
	h.intake = intake.New(s, append(authoring.StandardVersions(), h.older), h.now)
	h.Cleanup(h.intake.Close)
}
