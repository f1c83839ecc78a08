package trend

import (
	"math"
	"math/rand/v2"

	"doorsill/internal/engine/provenance"
)

// Intervals over trials: how often trials are drawn, and how many there must be.
const (
	TrialDraws  = 2000
	LeastTrials = 5
)

// trialCount is what two raters said in one trial.
type trialCount struct {
	same, near, pairs int
	table             [][]int
}

// trialsOf counts each trial. Pairs without a trial are each one of their own.
func trialsOf(pairs []Pair, levels int) []trialCount {
	var trials []trialCount
	places := map[string]int{}
	for _, p := range pairs {
		at, known := places[p.Trial]
		if !known || p.Trial == "" {
			at = len(trials)
			places[p.Trial] = at
			trials = append(trials, trialCount{table: emptyTable(levels)})
		}
		t := &trials[at]
		t.pairs++
		t.table[p.A][p.B]++
		if p.A == p.B {
			t.same++
		}
		if near(p) {
			t.near++
		}
	}
	return trials
}

// overTrials takes the intervals from whole trials drawn with replacement: the
// answers of one visit are by the same two people about the same person, and
// taken as independent they would give intervals that are too narrow. With
// fewer than LeastTrials there is none. The generator begins at a fixed seed, so
// that the same pairs give the same interval.
//
// Bootstrap by clusters, percentiles 2.5 and 97.5.
func (a *Agreement) overTrials(trials []trialCount) {
	a.Clustered = true
	for _, p := range [...]*Proportion{&a.Same, &a.WithinOne} {
		p.Low, p.High, p.Bounded = 0, 0, false
	}
	coefficients := [...]*Coefficient{&a.Plain, &a.Linear, &a.Quadratic}
	for _, c := range coefficients {
		c.SE, c.Low, c.High, c.Bounded = 0, 0, 0, false
	}
	if len(trials) < LeastTrials {
		return
	}
	var same, within []float64
	var kappas [len(coefficients)][]float64
	random := rand.New(rand.NewPCG(seed, seed))
	for range TrialDraws {
		all := trialCount{table: emptyTable(len(trials[0].table))}
		for range trials {
			all.add(&trials[random.IntN(len(trials))])
		}
		same = append(same, 100*float64(all.same)/float64(all.pairs))
		within = append(within, 100*float64(all.near)/float64(all.pairs))
		for i, w := range [...]Weights{Plain, Linear, Quadratic} {
			// Where all drawn answers are at one level there is no coefficient.
			if c, err := Kappa(all.table, w); err == nil {
				kappas[i] = append(kappas[i], c.Kappa)
			}
		}
	}
	a.Same.between(same)
	a.WithinOne.between(within)
	for i, c := range coefficients {
		if len(kappas[i]) == TrialDraws {
			c.Low, c.High = percentiles(kappas[i], 4)
			c.Bounded = true
		}
	}
}

func (t *trialCount) add(other *trialCount) {
	t.same, t.near, t.pairs = t.same+other.same, t.near+other.near, t.pairs+other.pairs
	for i, row := range other.table {
		for j, n := range row {
			t.table[i][j] += n
		}
	}
}

func (p *Proportion) between(drawn []float64) {
	p.Low, p.High = percentiles(drawn, 2)
	p.Bounded = true
}

// percentiles are those of 2.5 and 97.5, rounded.
func percentiles(drawn []float64, decimals int) (low, high float64) {
	sorted := ascending(drawn)
	tail := int(math.Floor(float64(len(sorted)) * 0.025))
	return provenance.Round(sorted[tail], decimals), provenance.Round(sorted[len(sorted)-1-tail], decimals)
}

func emptyTable(levels int) [][]int {
	table := make([][]int, levels)
	for i := range table {
		table[i] = make([]int, levels)
	}
	return table
}

// near says whether two answers are at most one level apart.
func near(p Pair) bool { return p.A-p.B >= -1 && p.A-p.B <= 1 }
