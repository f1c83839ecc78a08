package simulation

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"doorsill/internal/history"
)

// saw writes down what a tablet asked and what it was told.
func (w *world) saw(a ask, got reply) {
	who := ""
	if a.from != nil {
		who = a.from.label
	}
	w.seen.Add(history.Exchange{
		Client: who, Begin: got.begun, Method: a.method, Path: a.path, Body: string(a.body),
		Status: got.status, Type: got.kind, Sum: got.sum, Answer: string(got.body),
	})
}

// movedTo writes down the cursor that a tablet stored.
func (w *world) movedTo(t *tablet, log, team string, after int64) {
	w.seen.Add(history.Exchange{Client: t.label, Cursor: &history.Cursor{Log: log, Team: team, After: after}})
}

// oneHistory: whatever the server holds, what tablets were told fits together.
func oneHistory(w *world, v *serverState) error {
	rest := history.Settled{FromFiles: map[string]bool{}}
	for line, f := range w.forged {
		rest.FromFiles[line] = f.confirmed && !w.isOwn(line)
	}
	for _, t := range w.tablets {
		if w.reads(t) && t.problem == "" && t.waiting() == 0 && t.disk.log == v.log {
			rest.Clients = append(rest.Clients, t.label)
			rest.Tablets = append(rest.Tablets, t.disk.tablet)
		}
	}
	sum, found := history.Check(w.seen.Exchanges(), rest)
	var bad []error
	if sum.Pulls == 0 || sum.Cursors == 0 || sum.Teamless > 0 {
		bad = append(bad, fmt.Errorf("too little to go by: %+v", sum))
	}
	for _, one := range found {
		bad = append(bad, errors.New(one.String()))
	}
	return errors.Join(bad...)
}

// isOwn reports whether a tablet has a line as its own, to send it again.
func (w *world) isOwn(line string) bool {
	return slices.ContainsFunc(w.tablets, func(t *tablet) bool {
		one := t.disk.events[refIn(line)]
		return one.own != 0 && string(one.raw) == line
	})
}

// TestTheHistoryAloneConvictsTheServer makes the mistakes that are the server's
// and looks at nothing but what the tablets were told.
func TestTheHistoryAloneConvictsTheServer(t *testing.T) {
	g := newGround(t)
	for _, m := range mutations() {
		if m.mut != restoreKeepsLog && m.mut != commitSwallowed && m.mut != knownByNumber {
			continue
		}
		t.Run(m.name, func(t *testing.T) {
			t.Parallel()
			for i := range uint64(mostSeeds) {
				seed := m.seed
				if i > 0 {
					seed = i
				}
				w := newWorld(t, g, seed, m.mut)
				w.run(script(seed, *simLen, 1))
				w.settle()
				err := oneHistory(w, w.serverState())
				w.close()
				if err != nil {
					t.Logf("noticed with seed %d: %v", seed, err)
					return
				}
			}
			t.Errorf("not noticed in %d runs", mostSeeds)
		})
	}
}
