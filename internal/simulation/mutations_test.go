package simulation

import (
	"context"
	"math"
	"testing"

	"doorsill/internal/model"
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
	quarantineForgotten
	forksMerged
	ghostsCount
	seenFromServer
	answersUnchecked
	restoreKeepsLog
	commitSwallowed
	knownByNumber
	forgetsEarly
	forgetsUnsent
	forgetsForGood
	goneSentAsNotes
	replacesUnseen
	otherLogsCount
	anyKeyCounts
	keyStolen
	filesNotKept
)

type mistake struct {
	name string
	mut  mutation
	seed uint64
	// plan says what a run does; nil is the usual one.
	plan func(seed uint64) plan
}

// mutations are the mistakes that the invariants are there for, with a seed
// that showed each of them when it was written; it is tried first.
func mutations() []mistake {
	return []mistake{
		{"the cursor moves in a transaction before the rows", cursorFirst, 9, nil},
		{"a tablet counts as sent what it is about to send", acksEarly, 1, nil},
		{"a tablet counts as sent whatever the server has of its name", acksBeyond, 104, nil},
		{"an entry and its number are saved in two transactions", tornWrite, 5, nil},
		{"a tablet throws away what was set aside", quarantineForgotten, 19, nil},
		{"a tablet takes another device's entry for its own", forksMerged, 23, nil},
		{"what a restored server lost still counts on tablets", ghostsCount, 200, nil},
		{"an entry says that its author has seen what is only on the server", seenFromServer, 250, nil},
		{"a tablet believes an answer that was changed on the way", answersUnchecked, 237, nil},
		{"a restored server keeps its log id", restoreKeepsLog, 19, nil},
		{"the server acknowledges what it could not commit", commitSwallowed, 3, nil},
		{"the server knows an entry again by its number alone", knownByNumber, 21, nil},
		{"a tablet forgets before thirty days are over", forgetsEarly, 1, overYears},
		{"a tablet forgets what was not sent or does not count", forgetsUnsent, 1, overYears},
		{"a tablet forgets a client for good", forgetsForGood, 1, overYears},
		{"a restored server is sent notes for what left its tablet", goneSentAsNotes, 144, overYears},
		{"an answer replaces what is only on the server", replacesUnseen, 5, nil},
		{"the server counts what was seen of a log that is no more", otherLogsCount, 22, overRestores},
		{"the server takes what any key signed", anyKeyCounts, 8, amongForgers},
		{"whoever forges a file has the tablet's key", keyStolen, 1, amongForgers},
		{"a tablet does not keep as its own what came of it in a file", filesNotKept, 747298054323, amongForgers},
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
				p := usual(seed)
				if m.plan != nil {
					p = m.plan(seed)
				}
				if _, err := play(t, g, seed, p, m.mut); err != nil {
					t.Logf("%s: noticed with seed %d", m.name, seed)
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

// forgetful is a reader for which all logs are one.
type forgetful struct{ store.Writer }

func (f forgetful) Logs() (model.Logs, error) {
	logs, err := f.Writer.Logs()
	for i := range logs.Earlier {
		logs.Earlier[i].Until = math.MaxInt64
	}
	return logs, err
}

// keylessReader and keyless know no tablet by its key.
type keylessReader struct{ store.Reader }

func (k keylessReader) Tablet(id string) (store.Tablet, error) {
	return withoutKey(k.Reader.Tablet(id))
}

type keyless struct{ store.Writer }

func (k keyless) Tablet(id string) (store.Tablet, error) { return withoutKey(k.Writer.Tablet(id)) }

func withoutKey(t store.Tablet, err error) (store.Tablet, error) {
	t.Key = nil
	return t, err
}

// lied lets the mistakes of the server in.
func (u *unsure) lied(fn func(store.Writer) error) func(store.Writer) error {
	switch u.w.mut {
	case knownByNumber:
		return func(w store.Writer) error { return fn(lying{w, u.w}) }
	case otherLogsCount:
		return func(w store.Writer) error { return fn(forgetful{w}) }
	case anyKeyCounts:
		return func(w store.Writer) error { return fn(keyless{w}) }
	}
	return fn
}

func (u *unsure) swallowed(ctx context.Context, fn func(store.Writer) error) error {
	err := u.Store.Update(ctx, fn)
	if u.w.mut == commitSwallowed {
		return nil
	}
	return err
}
