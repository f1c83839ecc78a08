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
	g := newGround(t)
	if *simSeed != 0 {
		one(t, g, *simSeed)
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
				one(t, g, first+uint64(i))
			}
		})
	}
}

// one plays a run and, when it fails, the shortest part of it that fails too.
func one(t *testing.T, g *ground, seed uint64) {
	t.Helper()
	list := script(seed, *simLen, 1)
	if _, err := play(t, g, seed, list, noMutation); err == nil {
		return
	}
	list = shrink(list, 200, func(shorter []step) bool {
		_, err := play(t, g, seed, shorter, noMutation)
		return err != nil
	})
	w, err := play(t, g, seed, list, noMutation)
	t.Errorf("seed %d fails (repeat with -sim.seed %d); %d steps are enough:\n%s\n\n%v", seed, seed, len(list), w.tail(200), err)
}

// play runs a script to its end and judges it.
func play(t testing.TB, g *ground, seed uint64, list []step, mut mutation) (*world, error) {
	w := newWorld(t, g, seed, mut)
	defer w.close()
	w.run(list)
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
