package simulation

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

var (
	simSeed = flag.Uint64("sim.seed", 0, "repeats the run with this seed")
	simFrom = flag.Uint64("sim.from", 1, "the first seed; 0 draws one")
	simRuns = flag.Int("sim.runs", usualRuns, "how many runs")
	simLen  = flag.Int("sim.steps", 45, "how many steps a run has")
)

// TestNothingIsLostInAnyWeather is the simulation: see the package comment.
func TestNothingIsLostInAnyWeather(t *testing.T) {
	run(t, usual)
}

// TestNothingIsLostOverRestores is the same with a server that is restored again
// and again while people answer the same items, some with an older app and some
// with a client that forges what it has seen.
func TestNothingIsLostOverRestores(t *testing.T) {
	run(t, overRestores)
}

// TestNothingIsLostAmongForgers is the same with somebody inside who hands in files
// in the names of others, and with devices that take a tablet's name.
func TestNothingIsLostAmongForgers(t *testing.T) {
	run(t, amongForgers)
}

// plan is what a run does. Which disasters it holds is drawn unless it says so.
type plan struct {
	list []step
	has  *features
}

func usual(seed uint64) plan { return plan{list: script(seed, *simLen, 1)} }

func overYears(seed uint64) plan { return plan{list: years(seed, *simLen)} }

func overRestores(seed uint64) plan {
	return plan{list: restores(seed, *simLen), has: &features{restores: true, roles: seed%4 == 0}}
}

func amongForgers(seed uint64) plan {
	return plan{list: forgers(seed, *simLen), has: &features{restores: seed%3 == 0, clones: true, roles: seed%5 == 0}}
}

func run(t *testing.T, planOf func(seed uint64) plan) {
	g := newGround(t)
	if *simSeed != 0 {
		one(t, g, *simSeed, planOf(*simSeed))
		return
	}
	// The same runs for everybody who changes something; each night brings new ones.
	first := *simFrom
	if first == 0 {
		first = rand.Uint64N(1 << 40)
	}
	t.Logf("%d runs, seeds from %d", *simRuns, first)
	const lanes = 4
	for lane := range lanes {
		t.Run(fmt.Sprintf("lane %d", lane), func(t *testing.T) {
			t.Parallel()
			for i := lane; i < *simRuns && !t.Failed(); i += lanes {
				seed := first + uint64(i)
				one(t, g, seed, planOf(seed))
			}
		})
	}
}

// one plays a run and, when it fails, the shortest part of it that fails too.
func one(t *testing.T, g *ground, seed uint64, p plan) {
	t.Helper()
	if _, err := play(t, g, seed, p, noMutation); err == nil {
		return
	}
	p.list = shrink(p.list, 200, func(shorter []step) bool {
		_, err := play(t, g, seed, plan{shorter, p.has}, noMutation)
		return err != nil
	})
	w, err := play(t, g, seed, p, noMutation)
	t.Errorf("seed %d fails (repeat with -sim.seed %d); %d steps are enough:\n%s\n\n%v", seed, seed, len(p.list), w.tail(200), err)
}

// play runs a script to its end and judges it.
func play(t testing.TB, g *ground, seed uint64, p plan, mut mutation) (*world, error) {
	w := newWorldWith(t, g, seed, mut, p.has)
	defer w.close()
	w.run(p.list)
	return w, w.judge()
}

// shrink leaves out steps, in ever smaller pieces, as long as the rest fails.
func shrink(list []step, tries int, fails func([]step) bool) []step {
	for size := len(list) / 2; size > 0; size /= 2 {
		for at := 0; at+size <= len(list) && tries > 0; {
			shorter := slices.Concat(list[:at], list[at+size:])
			tries--
			if fails(shorter) {
				list = shorter
			} else {
				at += size
			}
		}
	}
	return list
}

// tail is the end of the trace.
func (w *world) tail(lines int) string {
	return strings.Join(w.trace[max(0, len(w.trace)-lines):], "\n")
}
