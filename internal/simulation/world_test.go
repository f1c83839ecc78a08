package simulation

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"doorsill/internal/history"
	"doorsill/internal/model"
	"doorsill/internal/seal"
)

// The people and teams of every run. Lena leads; Ansel is an assistant.
const (
	north = "north"
	south = "south"
)

func people() []person {
	return []person{
		{"marit", north, model.RoleClinician},
		{"davit", north, model.RoleClinician},
		{"lena", north, model.RoleLead},
		{"ansel", north, model.RoleAssistant},
		{"sora", south, model.RoleClinician},
	}
}

type person struct{ id, team, role string }

// world is one run: a server, tablets, the network between them, and what was
// really said.
type world struct {
	t     testing.TB
	rng   *rand.Rand
	seed  uint64
	mut   mutation
	has   features
	clock time.Time
	// ahead is how far the server's clock is off.
	ahead   time.Duration
	server  *service
	net     *network
	tablets []*tablet
	// said is everything that anybody entered, in order.
	said []*entry
	// seen is what the tablets saw of the server.
	seen history.Recorder
	// forged are the entries that somebody else wrote in a person's name, by line,
	// and files the envelopes that somebody handed in.
	forged map[string]*forgery
	files  []seal.Envelope
	// doubts are invariants that broke on the way; the run fails with them.
	doubts  []string
	trace   []string
	counter int
}

// features say which of the rarer disasters a run may hold, so that each also
// happens alone.
type features struct{ restores, clones, roles, flips bool }

// isOld says whether a tablet has the app from before entries named their log and
// what they replace, and tablets signed, in a run with such tablets.
func (w *world) isOld(tablet int) bool { return w.seed%3 == 1 && tablet%2 == 1 }

// entry is one thing that a person entered.
type entry struct {
	id     int
	author string
	// impostor says that it was written on a device that took a tablet's name.
	impostor bool
	// lines are its bytes: more than one when the tablet got another name.
	lines map[string]bool
	// knew are the entries that were on the tablet when it was written.
	knew map[int]bool
	// claims is a log of which it says that it has seen more than there is. Refused in
	// that log, it may say so of all that a copy has of it.
	claims string
	// item is the visit and the item that it answers or chooses about, also as an
	// amendment.
	item    string
	chooses bool
}

func newWorld(t testing.TB, g *ground, seed uint64, mut mutation) *world {
	return newWorldWith(t, g, seed, mut, nil)
}

// newWorldWith may say which disasters the run holds.
func newWorldWith(t testing.TB, g *ground, seed uint64, mut mutation, has *features) *world {
	t.Helper()
	w := &world{t: t, rng: rand.New(rand.NewPCG(seed, 11)), seed: seed, mut: mut, forged: map[string]*forgery{}, clock: time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)}
	w.has = features{restores: w.one(3), clones: w.one(5), roles: w.one(4), flips: w.one(2)}
	if has != nil {
		w.has = *has
	}
	w.server = g.serve(w)
	w.net = &network{w: w}
	if w.has.restores && w.one(3) {
		w.server.backup() // a copy that knows no tablet
	}
	for i, who := range []string{"marit", "davit", "lena", "ansel", "davit"} {
		one := newTablet(w, fmt.Sprintf("tab-%d", i), who)
		one.old, one.unsigned = w.isOld(i), w.isOld(i)
		w.tablets = append(w.tablets, one)
	}
	return w
}

func (w *world) close() { w.server.end() }

// one is true once in n times.
func (w *world) one(n int) bool { return w.rng.IntN(n) == 0 }

func pick[T any](w *world, list []T) T { return list[w.rng.IntN(len(list))] }

// serverNow is the server's clock.
func (w *world) serverNow() time.Time { return w.clock.Add(w.ahead) }

func (w *world) note(format string, args ...any) {
	w.trace = append(w.trace, fmt.Sprintf(format, args...))
}

// doubt notes that an invariant broke.
func (w *world) doubt(format string, args ...any) {
	w.doubts = append(w.doubts, fmt.Sprintf(format, args...))
	w.note("!! "+format, args...)
}

// must ends the test: the simulation itself is at fault.
func (w *world) must(err error) {
	if err != nil {
		w.t.Helper()
		w.t.Fatalf("simulation: %v\n%s", err, w.tail(60))
	}
}
