package simulation

import (
	"context"
	"testing"

	"doorsill/internal/store"
)

// mutation is a mistake that the simulation can make on purpose.
type mutation int

const (
	noMutation mutation = iota
	cursorFirst
	acksEarly
	acksBeyond
	tornWrite
	asideForgotten
	forksMerged
	ghostsCount
	seenFromServer
	answersUnchecked
	restoreKeepsLog
	commitSwallowed
	knownByNumber
)

type mistake struct {
	name string
	mut  mutation
	seed uint64
}

// mutations are the mistakes that the invariants are there for, with a seed
// that showed each of them when it was written; it is tried first.
func mutations() []mistake {
	return []mistake{
		{"the cursor moves in a transaction before the rows", cursorFirst, 5},
		{"a tablet counts as sent what it is about to send", acksEarly, 1},
		{"a tablet counts as sent whatever the server has of its name", acksBeyond, 30},
		{"an entry and its number are saved in two transactions", tornWrite, 1},
		{"a tablet throws away what was set aside", asideForgotten, 8},
		{"a tablet takes another device's entry for its own", forksMerged, 8},
		{"what a restored server lost still counts on tablets", ghostsCount, 130},
		{"an entry says that its author has seen what is only on the server", seenFromServer, 23},
		{"a tablet believes an answer that was changed on the way", answersUnchecked, 676},
		{"a restored server keeps its log id", restoreKeepsLog, 16},
		{"the server acknowledges what it could not commit", commitSwallowed, 21},
		{"the server knows an entry again by its number alone", knownByNumber, 21},
	}
}

// mostSeeds is how many runs a mistake may stay unnoticed.
const mostSeeds = 400

// TestTheSimulationCanFail makes each mistake and expects it to be noticed.
func TestTheSimulationCanFail(t *testing.T) {
	g := newGround(t)
	for _, m := range mutations() {
		t.Run(m.name, func(t *testing.T) {
			t.Parallel()
			for i := range uint64(mostSeeds) {
				seed := m.seed
				if i > 0 {
					seed = i
				}
				if _, err := play(t, g, seed, script(seed, *simLen, 1), m.mut); err != nil {
					t.Logf("noticed with seed %d", seed)
					return
				}
			}
			t.Errorf("not noticed in %d runs", mostSeeds)
		})
	}
}

// lying is a reader that says of any number that exactly these bytes were
// there before.
type lying struct {
	store.Writer
	w *world
}

func (l lying) Placed(tablet string, n int64) (store.Placed, error) {
	placed, err := l.Writer.Placed(tablet, n)
	if line := l.w.net.underWay[ref(tablet, n)]; err == nil && line != nil {
		placed.Raw = line
	}
	return placed, err
}

// lied lets the mistakes of the server in.
func (u *unsure) lied(fn func(store.Writer) error) func(store.Writer) error {
	if u.w.mut != knownByNumber {
		return fn
	}
	return func(w store.Writer) error { return fn(lying{w, u.w}) }
}

func (u *unsure) swallowed(ctx context.Context, fn func(store.Writer) error) error {
	err := u.Store.Update(ctx, fn)
	if u.w.mut == commitSwallowed {
		return nil
	}
	return err
}
