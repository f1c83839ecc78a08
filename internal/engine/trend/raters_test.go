package trend_test

import (
	"math"
	"slices"
	"testing"

	"doorsill/internal/engine/trend"
)

// squareOf is a square of counts, all on the diagonal.
func squareOf(levels int) [][]int {
	table := make([][]int, levels)
	for i := range table {
		table[i] = make([]int, levels)
		table[i][i] = 1
	}
	return table
}

// ratingsOf are so many targets by so many raters, all different.
func ratingsOf(targets, raters int, top float64) [][]float64 {
	rows := make([][]float64, targets)
	for i := range rows {
		rows[i] = make([]float64, raters)
		for j := range rows[i] {
			rows[i][j] = top - float64(i+j%2)
		}
	}
	return rows
}

// TestBoundsOfAgreement: each number at its bound is taken, and beyond it refused
// with what was expected.
func TestBoundsOfAgreement(t *testing.T) {
	agree := func(levels int, pairs ...trend.Pair) error { _, err := trend.Agree(pairs, levels); return err }
	kappa := func(table [][]int, w trend.Weights) error { _, err := trend.Kappa(table, w); return err }
	wilson := func(count, of int) error { _, err := trend.Wilson(count, of); return err }
	icc := func(rows [][]float64) error { _, err := trend.ICC(rows); return err }
	apart := func(a, b []float64) error { _, err := trend.ForcesApart(a, b); return err }
	help := func(before, after []int) error { _, err := trend.HelpChange(before, after); return err }
	points := func(x, y []float64) error { _, err := trend.LeastSquares(x, y); return err }
	still, plain := " still=[trend.still-apart]", " still=[trend.still-plain]"
	for _, c := range []struct {
		name    string
		err     error
		refusal string
	}{
		{"no pairs", agree(4), "trend.no-pairs field=pairs"},
		{"two levels", agree(2, trend.Pair{A: 1}, trend.Pair{B: 1}), ""},
		{"one level", agree(1, trend.Pair{}), "trend.levels-outside field=levels"},
		{"20 levels", agree(20, trend.Pair{A: 19, B: 19}), ""},
		{"21 levels", agree(21, trend.Pair{}), "trend.levels-outside field=levels"},
		{"a below", agree(4, trend.Pair{}, trend.Pair{A: -1}), "trend.pair-outside field=pair n=2 most=3"},
		{"b below", agree(4, trend.Pair{B: -1}), "trend.pair-outside field=pair n=1 most=3"},
		{"a above", agree(5, trend.Pair{A: 5}), "trend.pair-outside field=pair n=1 most=4"},
		{"b above", agree(5, trend.Pair{B: 5}), "trend.pair-outside field=pair n=1 most=4"},
		{"the highest", agree(5, trend.Pair{A: 4}, trend.Pair{B: 4}), ""},
		{"a table of 2", kappa(squareOf(2), trend.Linear), ""},
		{"a table of 20", kappa(squareOf(20), trend.Linear), ""},
		{"a table of 21", kappa(squareOf(21), trend.Linear), "trend.table-levels field=table" + plain},
		{"a table of 1", kappa([][]int{{1}}, trend.Linear), "trend.table-levels field=table" + plain},
		{"ragged", kappa([][]int{{1, 2, 3}, {1, 2}, {1, 2, 3}}, trend.Linear), "trend.table-not-square field=table row=2 rows=3" + plain},
		{"negative", kappa([][]int{{1, 2}, {1, -1}}, trend.Linear), "trend.table-below-0 field=table row=2" + plain},
		{"empty", kappa([][]int{{0, 0}, {0, 0}}, trend.Linear), "trend.table-empty field=table"},
		{"one level given", kappa([][]int{{3, 0}, {0, 0}}, trend.Linear), "trend.one-level-given field=levels-given"},
		{"other weights", kappa(squareOf(2), "cubic"), "trend.no-weights field=weights" + plain},
		{"one of one", wilson(1, 1), ""}, {"none of one", wilson(0, 1), ""},
		{"none of none", wilson(0, 0), "trend.no-total field=total"},
		{"a million", wilson(1e6, 1e6), ""}, {"more", wilson(1, 1e6+1), "trend.no-total field=total"},
		{"minus one", wilson(-1, 2), "trend.count-outside field=count"}, {"two of one", wilson(2, 1), "trend.count-outside field=count"},
		{"one target", icc(ratingsOf(1, 2, 9)), "trend.too-few-rated field=targets" + still},
		{"two targets", icc(ratingsOf(2, 2, 9)), ""},
		{"10000 targets", icc(ratingsOf(10000, 2, 9)), ""},
		{"10001 targets", icc(ratingsOf(10001, 2, 9)), "trend.too-few-rated field=targets" + still},
		{"one rater", icc(ratingsOf(2, 1, 9)), "trend.too-few-rated field=raters" + still},
		{"100 raters", icc(ratingsOf(2, 100, 9)), ""},
		{"101 raters", icc(ratingsOf(2, 101, 9)), "trend.too-few-rated field=raters" + still},
		{"a row of 1", icc([][]float64{{1, 2, 3}, {4}}), "trend.target-incomplete field=target n=2 raters=3"},
		{"a thousand millions", icc(ratingsOf(2, 2, 1e9)), ""}, {"and below", icc([][]float64{{1, 2}, {-1e9, 3}}), ""},
		{"more than that", icc(ratingsOf(2, 2, 1e9+1)), "trend.target-no-number field=target n=1"},
		{"below that", icc([][]float64{{1, 2}, {-1e9 - 1, 3}}), "trend.target-no-number field=target n=2"},
		{"no number", icc([][]float64{{1, 2}, {3, math.Inf(1)}}), "trend.target-no-number field=target n=2"},
		{"the other way round", icc([][]float64{{0.3, 0.9}, {0.9, 0.3}}), "trend.targets-same field=values" + still},
		{"the last as the first", icc([][]float64{{3, 1}, {0, 3}}), ""},
		{"all the same, of which sums leave something", icc([][]float64{{0.1, 0.1, 0.1}, {0.1, 0.1, 0.1}}), "trend.targets-same field=values" + still},
		{"all the same", icc([][]float64{{7, 7}, {7, 7}}), "trend.targets-same field=values" + still},
		{"a million of force", apart([]float64{1e6}, []float64{1}), ""},
		{"more force", apart([]float64{1, 1e6 + 1}, []float64{1}), "trend.force-outside field=first-rater n=2 most=1000000"},
		{"no force", apart([]float64{1}, []float64{0}), "trend.force-outside field=second-rater n=1 most=1000000"},
		{"no number of force", apart([]float64{1}, []float64{math.NaN()}), "trend.force-outside field=second-rater n=1 most=1000000"},
		{"no forces", apart([]float64{1}, nil), "trend.no-force-of-rater field=second-rater"},
		{"help of nothing", help(nil, nil), "trend.help-of-other-items field=help"},
		{"help of other items", help([]int{1}, []int{1, 2}), "trend.help-of-other-items field=help"},
		{"help from 0 to 4", help([]int{0, 4}, []int{4, 0}), ""},
		{"help -1", help([]int{1, -1}, []int{1, 1}), "trend.help-outside field=help n=2"},
		{"help 5", help([]int{5}, []int{1}), "trend.help-outside field=help n=1"},
		{"help -1 after", help([]int{1}, []int{-1}), "trend.help-outside field=help n=1"},
		{"help 5 after", help([]int{1}, []int{5}), "trend.help-outside field=help n=1"},
		{"points", points([]float64{1, 2}, []float64{1, 2}), ""},
		{"other points", points([]float64{1, 2}, []float64{1, 2, 3}), "trend.no-points field=points"},
		{"one point", points([]float64{1}, []float64{1}), "trend.no-points field=points"},
		{"x no number", points([]float64{1, math.Inf(1)}, []float64{1, 2}), "trend.point-no-number field=points"},
		{"x below all numbers", points([]float64{1, math.Inf(-1)}, []float64{1, 2}), "trend.point-no-number field=points"},
		{"y no number", points([]float64{1, 2}, []float64{math.NaN(), 2}), "trend.point-no-number field=points"},
		{"one day", points([]float64{2, 2}, []float64{1, 3}), "trend.one-day field=visit-days"},
	} {
		if got := refusalOf(c.err); got != c.refusal {
			t.Errorf("%s: %q, want %q", c.name, got, c.refusal)
		}
	}
}

// pairsOf are pairs from a table of counts.
func pairsOf(table [][]int) []trend.Pair {
	var pairs []trend.Pair
	for a, row := range table {
		for b, n := range row {
			for range n {
				pairs = append(pairs, trend.Pair{A: a, B: b})
			}
		}
	}
	return pairs
}

// TestAgreementOfAPublishedTable: the table of the husbands and wives that R
// prints kappas of, as pairs. 33 of 91 are the same
// (by Wilson 27.1 to 46.5 %), 68 within one level.
func TestAgreementOfAPublishedTable(t *testing.T) {
	table := [][]int{{7, 7, 2, 3}, {2, 8, 3, 7}, {1, 5, 4, 9}, {2, 8, 9, 14}}
	a := must[trend.Agreement](t)(trend.Agree(pairsOf(table), 4))
	if a.N != 91 || a.Trials != 91 || a.Clustered || a.Same.Count != 33 || a.WithinOne.Count != 33+7+3+9+2+5+9 || a.Same.Of != 91 || a.WithinOne.Of != 91 {
		t.Errorf("%+v", a)
	}
	if a.Plain.Kappa != 0.1293 || a.Linear.Kappa != 0.2374 || a.Plain.Weights != trend.Plain || a.Linear.Weights != trend.Linear || a.Quadratic.Weights != trend.Quadratic {
		t.Errorf("%+v, %+v, %+v", a.Plain, a.Linear, a.Quadratic)
	}
	// By hand: 33/91 the same; by chance (19 · 12 + 20 · 28 + 19 · 18 + 33 · 33)/91².
	if a.Plain.Observed != 0.3626 || a.Plain.Expected != 0.268 || a.KappaMet || !a.Enough {
		t.Errorf("observed %v, expected %v", a.Plain.Observed, a.Plain.Expected)
	}
	if want := "trend.agreement pairs=91 same=36 within=75 more=[trend.coefficient kappa=0.24 word=[trend.kappa-fair]] low=27 high=47"; a.Say.String() != want {
		t.Errorf("%s, want %s", a.Say.String(), want)
	}
}

// TestEachWeightOfAPublishedTable by hand: of 100 pairs 89 are the same, 7 one level
// apart and 4 two; by chance 66, 14 and 20.
func TestEachWeightOfAPublishedTable(t *testing.T) {
	table := [][]int{{75, 1, 4}, {5, 4, 1}, {0, 0, 10}}
	for w, want := range map[trend.Weights][3]float64{trend.Plain: {0.89, 0.66, 0.6765}, trend.Linear: {0.925, 0.73, 0.7222}, trend.Quadratic: {0.9425, 0.765, 0.7553}} {
		c := must[trend.Coefficient](t)(trend.Kappa(table, w))
		if got := [3]float64{c.Observed, c.Expected, c.Kappa}; got != want || c.Weights != w || !c.Bounded || c.Low >= c.Kappa || c.High <= c.Kappa || c.Formula.String() != "formula.kappa weights="+string(w) {
			t.Errorf("%s: %+v, want %v", w, c, want)
		}
		if c.SE != math.Round(c.SE*1e5)/1e5 || c.SE < 0.05 || c.SE > 0.1 {
			t.Errorf("%s: a standard error of %v", w, c.SE)
		}
	}
}

// TestTheAimOfKappaAtItsBound: with 50 of each level and d of both kinds of
// disagreement of two levels, kappa is 1 - 4d/100; 0.60 is short of the aim of
// 0.61, 0.62 is not, and with fewer than 30 pairs nothing is.
func TestTheAimOfKappaAtItsBound(t *testing.T) {
	for _, c := range []struct {
		same, apart int
		met         bool
	}{{40, 10, false}, {81, 19, true}, {161, 39, true}, {389, 111, false}, {13, 1, false}, {14, 1, true}} {
		a := must[trend.Agreement](t)(trend.Agree(pairsOf([][]int{{c.same, c.apart}, {c.apart, c.same}}), 2))
		if a.KappaMet != c.met {
			t.Errorf("%+v: kappa %v of %d pairs", c, a.Linear.Kappa, a.N)
		}
	}
	// 0.61 exactly: 161 of 200 are the same, half of them by chance.
	if a := must[trend.Agreement](t)(trend.Agree(pairsOf([][]int{{161, 39}, {39, 161}}), 2)); a.Linear.Kappa != 0.61 {
		t.Errorf("kappa %v, want 0.61", a.Linear.Kappa)
	}
	if a := must[trend.Agreement](t)(trend.Agree(pairsOf([][]int{{40, 0}, {0, 0}}), 2)); a.KappaMet || a.KappaErr == nil {
		t.Errorf("one level: %+v", a)
	}
}

// TestPairsOfTrials: a pair without a trial is a trial of its own, and those of one
// trial need not follow one another.
func TestPairsOfTrials(t *testing.T) {
	pairs := []trend.Pair{{Trial: "a", A: 1, B: 1}, {A: 1, B: 2}, {Trial: "b", A: 0, B: 2}, {A: 2, B: 2}, {Trial: "a", A: 2, B: 0}, {Trial: "b", A: 3, B: 3}, {Trial: "c", A: 1, B: 1}}
	a := must[trend.Agreement](t)(trend.Agree(pairs, 4))
	if a.Trials != 5 || !a.Clustered || a.N != 7 || !a.Same.Bounded || a.Same.Percent != 57.1 || a.WithinOne.Percent != 71.4 {
		t.Errorf("%+v", a)
	}
	if a.Same.Low >= 57 || a.Same.High <= 58 || a.WithinOne.Low >= 71 || a.WithinOne.High <= 72 || a.WithinOne.High < a.Same.High || a.WithinOne.Low < a.Same.Low {
		t.Errorf("same %+v, within one %+v", a.Same, a.WithinOne)
	}
	if a.Same.Low != math.Round(100*a.Same.Low)/100 || a.Linear.Low != math.Round(1e4*a.Linear.Low)/1e4 || a.Linear.High != math.Round(1e4*a.Linear.High)/1e4 {
		t.Errorf("not rounded: %+v, %+v", a.Same, a.Linear)
	}
}

// TestForcesOfTwoRatersByHand: means of 101.33333 and 120.5 are 19.1667 apart, of
// a mean of 110.9167.
func TestForcesOfTwoRatersByHand(t *testing.T) {
	a := must[trend.Apart](t)(trend.ForcesApart([]float64{100, 101, 103}, []float64{120, 121}))
	if a.MeanA != 101.3333 || a.MeanB != 120.5 || a.Percent != 17.3 || a.Check || a.Say.String() != "trend.forces-apart percent=17" {
		t.Errorf("%+v", a)
	}
	b := must[trend.Apart](t)(trend.ForcesApart([]float64{120, 121}, []float64{100, 101, 103}))
	if b.MeanA != a.MeanB || b.MeanB != a.MeanA || b.Percent != a.Percent {
		t.Errorf("the other way round: %+v", b)
	}
	if c := must[trend.Apart](t)(trend.ForcesApart([]float64{1}, []float64{3})); c.Percent != 100 || c.Say.String() != "trend.forces-far-apart percent=100" {
		t.Errorf("1 and 3: %+v", c)
	}
}

// TestReliabilityOfPublishedRatings holds every figure of the data of Shrout and
// Fleiss, their words, and what does not change: the order of targets and of
// raters.
func TestReliabilityOfPublishedRatings(t *testing.T) {
	rows := [][]float64{{9, 2, 5, 8}, {6, 1, 3, 2}, {8, 4, 6, 8}, {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7}}
	r := must[trend.Reliability](t)(trend.ICC(rows))
	if r.BetweenTargets != 11.241667 || r.BetweenRaters != 32.486111 || r.Rest != 1.019444 {
		t.Errorf("mean squares %v, %v and %v", r.BetweenTargets, r.BetweenRaters, r.Rest)
	}
	if r.Targets != 6 || r.Raters != 4 || r.ICC != 0.2898 || r.Low != 0.0188 || r.High != 0.7611 || !r.Bounded {
		t.Errorf("%+v", r)
	}
	if want := "trend.icc-bounded icc=0.29 targets=6 low=0.02 high=0.76"; r.Say.String() != want {
		t.Errorf("%s, want %s", r.Say.String(), want)
	}
	// By hand: mean squares of 4, 1 and 1, so 3 over 4 + 1 + 0.
	if small := must[trend.Reliability](t)(trend.ICC([][]float64{{3, 1}, {0, 0}})); small.ICC != 0.6 || !small.Bounded || small.Rest != 1 || small.High >= 1 || small.Low >= 0.6 {
		t.Errorf("two by two: %+v", small)
	}
	// Where the bounds cross there are none: mean squares of 0, 25 and 1, so −1 over 25.
	if crossed := must[trend.Reliability](t)(trend.ICC([][]float64{{8, 4}, {9, 3}})); crossed.Bounded || crossed.ICC != -0.04 || crossed.Say.String() != "trend.icc icc=-0.04 targets=2" {
		t.Errorf("crossed bounds: %+v, %s", crossed, crossed.Say.String())
	}
	if crossed := must[trend.Reliability](t)(trend.ICC([][]float64{{8, 3}, {7, 3}, {9, 1}})); crossed.Bounded || crossed.Say.String() != "trend.icc icc=-0.06 targets=3" {
		t.Errorf("crossed bounds: %+v, %s", crossed, crossed.Say.String())
	}
	slices.Reverse(rows)
	if other := must[trend.Reliability](t)(trend.ICC(rows)); other.ICC != r.ICC || other.Low != r.Low || other.High != r.High {
		t.Errorf("targets in another order: %+v", other)
	}
	// Raters who agree; what sums leave behind, up to 1e-12 of the squares, is no
	// difference.
	if r = must[trend.Reliability](t)(trend.ICC([][]float64{{0.1, 0.1}, {0.3, 0.3}, {0.7, 0.7}})); r.Rest != 0 || r.ICC != 1 || r.Bounded || r.Say.String() != "trend.icc icc=1 targets=3" {
		t.Errorf("%+v", r)
	}
	for apart, counts := range map[float64]bool{1e-5: false, 1e-3: true} {
		if r = must[trend.Reliability](t)(trend.ICC([][]float64{{0, apart}, {30, 30}, {70, 70}})); r.Bounded != counts || r.ICC != 1 {
			t.Errorf("%v apart: %+v", apart, r)
		}
	}
}
