package trend_test

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine/trend"
)

func TestAStopOfOneRaterIsDiscussed(t *testing.T) {
	a := must[trend.Agreement](t)(trend.Agree([]trend.Pair{
		{Item: "eqp-brake", A: 0, B: 1, StopA: true}, {Item: "pos-head", A: 3, B: 3}, {Item: "saf-wish", A: 0, B: 0, StopA: true, StopB: true},
	}, 4))
	if !slices.Equal(a.Discuss, []string{"eqp-brake"}) || !strings.Contains(sentence(a.Say), "in 1 items: talk about them now; the safer answer stands") {
		t.Errorf("to discuss: %q, %q", a.Discuss, sentence(a.Say))
	}
	if a.Same.Percent != 66.7 || a.WithinOne.Percent != 100 || a.Same.Low >= 66.7 || a.Same.High <= 66.7 {
		t.Errorf("same %+v, within one %+v", a.Same, a.WithinOne)
	}
}

func TestACoefficientWaitsForThirtyPairs(t *testing.T) {
	var pairs []trend.Pair
	for i := range 29 {
		pairs = append(pairs, trend.Pair{A: i % 4, B: i % 4})
	}
	if a := must[trend.Agreement](t)(trend.Agree(pairs, 4)); a.Enough || a.KappaMet || !strings.Contains(sentence(a.Say), "from 30 pairs on") {
		t.Errorf("29 pairs: %q", sentence(a.Say))
	}
	pairs = append(pairs, trend.Pair{A: 0, B: 1})
	a := must[trend.Agreement](t)(trend.Agree(pairs, 4))
	if !a.Enough || !a.KappaMet || !a.SameMet || !a.WithinMet || a.Linear.Word.Code != "trend.kappa-almost-perfect" || !strings.HasSuffix(sentence(a.Say), ": almost perfect.") {
		t.Errorf("30 pairs: %q, %+v", sentence(a.Say), a.Linear)
	}
	if a.Linear.Low > a.Linear.Kappa || a.Linear.High < a.Linear.Kappa || a.Linear.High > 1 {
		t.Errorf("kappa %v, interval %v to %v", a.Linear.Kappa, a.Linear.Low, a.Linear.High)
	}
}

func TestRatersWhoAlwaysSayTheSameHaveNoCoefficient(t *testing.T) {
	a := must[trend.Agreement](t)(trend.Agree([]trend.Pair{{A: 3, B: 3}, {A: 3, B: 3}}, 4))
	refused(t, "always the same", a.KappaErr, "levels-given", "levels given")
	if want := "There is no coefficient: levels given: expected at least two different ones"; !strings.Contains(sentence(a.Say), want) {
		t.Errorf("%q, want %q in it", sentence(a.Say), want)
	}
	if a.Same.Percent != 100 || a.Same.Low > 40 {
		t.Errorf("two of two are %v %%, at least %v", a.Same.Percent, a.Same.Low)
	}
}

func TestAgreementRefusesWhatCannotBe(t *testing.T) {
	_, err := trend.Agree(nil, 4)
	refused(t, "no pairs", err, "pairs", "pairs")
	_, err = trend.Agree([]trend.Pair{{A: 1, B: 4}}, 4)
	refused(t, "level 4 of 4", err, "pair", "pair 1")
	_, err = trend.Agree([]trend.Pair{{}}, 1)
	refused(t, "one level", err, "levels", "levels")
	_, err = trend.Kappa([][]int{{1, 2}, {3}}, trend.Plain)
	refused(t, "ragged", err, "table", "table of counts, row 2")
	_, err = trend.Kappa([][]int{{1, 2}, {3, -1}}, trend.Plain)
	refused(t, "negative", err, "table", "table of counts, row 2")
	_, err = trend.Kappa([][]int{{0, 0}, {0, 0}}, trend.Linear)
	refused(t, "empty", err, "table", "table of counts")
	_, err = trend.Kappa([][]int{{1}}, trend.Linear)
	refused(t, "one by one", err, "table", "table of counts")
	_, err = trend.Kappa([][]int{{1, 2}, {3, 4}}, "cubic")
	refused(t, "weights", err, "weights", "weights")
	_, err = trend.Wilson(1, 0)
	refused(t, "none of none", err, "total", "total")
	_, err = trend.Wilson(3, 2)
	refused(t, "three of two", err, "count", "count")
	_, err = trend.ICC([][]float64{{1, 2}})
	refused(t, "one target", err, "targets", "targets")
	_, err = trend.ICC([][]float64{{1}, {2}})
	refused(t, "one rater", err, "raters", "raters")
	_, err = trend.ICC([][]float64{{1, 2}, {3}})
	refused(t, "a value missing", err, "target", "target 2")
	_, err = trend.ICC([][]float64{{1, 2}, {3, math.NaN()}})
	refused(t, "no number", err, "target", "target 2")
	_, err = trend.ICC([][]float64{{5, 5}, {5, 5}})
	refused(t, "all the same", err, "values", "values")
	_, err = trend.ForcesApart(nil, []float64{1})
	refused(t, "no forces", err, "first-rater", "first rater")
	_, err = trend.ForcesApart([]float64{100}, []float64{100, 0})
	refused(t, "force of zero", err, "second-rater", "second rater, force 2")
}

func TestRatersWhoAgreeInEverythingHaveAnICCOfOne(t *testing.T) {
	r := must[trend.Reliability](t)(trend.ICC([][]float64{{100, 100}, {250, 250}, {40, 40}}))
	if r.ICC != 1 || r.Bounded {
		t.Errorf("%+v: want 1 without an interval", r)
	}
}

func TestARaterWhoAlwaysMeasuresMoreLowersAgreement(t *testing.T) {
	same := [][]float64{{100, 104}, {250, 246}, {40, 44}, {180, 176}}
	more := [][]float64{{100, 164}, {250, 306}, {40, 104}, {180, 236}}
	a, b := must[trend.Reliability](t)(trend.ICC(same)), must[trend.Reliability](t)(trend.ICC(more))
	if b.ICC >= a.ICC {
		t.Errorf("60 more from one rater: %v, without %v", b.ICC, a.ICC)
	}
	apart := must[trend.Apart](t)(trend.ForcesApart([]float64{100, 110, 105}, []float64{130, 140, 135}))
	if !apart.Check || apart.Percent != 25 || !strings.Contains(sentence(apart.Say), "25 % apart: check gauge") {
		t.Errorf("105 and 135: %+v", apart)
	}
	if apart := must[trend.Apart](t)(trend.ForcesApart([]float64{100}, []float64{120})); apart.Check || sentence(apart.Say) != "The raters' forces are 18 % apart." {
		t.Errorf("100 and 120: %+v", apart)
	}
}

// apartIn are pairs of ten in each trial: the same in all, or in none.
func apartIn(same ...bool) []trend.Pair {
	var pairs []trend.Pair
	for i, all := range same {
		for j := range 10 {
			p := trend.Pair{Trial: string(rune('a' + i)), A: j % 3, B: j % 3}
			if !all {
				p.B = p.A + 1
			}
			pairs = append(pairs, p)
		}
	}
	return pairs
}

// TestAnswersOfOneTrialAreNotIndependent: of eight trials in four of which
// everything is the same, the number drawn is binomial with 8 and 1/2; 2.5 % of
// it are reached at 1 and 97.5 % at 7 of 8. Taken as independent, 40 of 80 would
// be 39 to 61 %.
func TestAnswersOfOneTrialAreNotIndependent(t *testing.T) {
	yes, no := true, false
	a := must[trend.Agreement](t)(trend.Agree(apartIn(yes, no, yes, no, yes, no, yes, no), 4))
	if !a.Clustered || a.Trials != 8 || !a.Same.Bounded || a.Same.Percent != 50 || a.Same.Low != 12.5 || a.Same.High != 87.5 || a.WithinOne.Low != 100 {
		t.Errorf("same %+v, within one %+v", a.Same, a.WithinOne)
	}
	if k := a.Linear; !k.Bounded || k.SE != 0 || k.Low >= k.Kappa || k.High <= k.Kappa || k.High-k.Low < 0.5 {
		t.Errorf("kappa %+v", k)
	}
	if want := "Same answer in 50 % (13 to 88), within one level in 100 % of 80 pairs from 8 trials. Answers of one trial are not independent"; !strings.HasPrefix(sentence(a.Say), want) {
		t.Errorf("%q, want %q", sentence(a.Say), want)
	}
	if again := must[trend.Agreement](t)(trend.Agree(apartIn(yes, no, yes, no, yes, no, yes, no), 4)); !reflect.DeepEqual(a, again) {
		t.Error("the same pairs gave another interval")
	}
}

func TestFewTrialsHaveNoInterval(t *testing.T) {
	a := must[trend.Agreement](t)(trend.Agree(apartIn(true, false, true, true), 4))
	if a.Same.Bounded || a.Linear.Bounded || a.Same.Low != 0 || a.Same.Percent != 75 || a.Linear.Kappa == 0 || !a.Enough {
		t.Errorf("four trials: %+v, %+v", a.Same, a.Linear)
	}
	for name, bounds := range map[string][4]float64{"same": {a.Same.Low, a.Same.High}, "within one": {a.WithinOne.Low, a.WithinOne.High},
		"plain": {a.Plain.Low, a.Plain.High, a.Plain.SE}, "linear": {a.Linear.Low, a.Linear.High, a.Linear.SE}, "quadratic": {a.Quadratic.Low, a.Quadratic.High, a.Quadratic.SE}} {
		if bounds != [4]float64{} {
			t.Errorf("four trials, %s: bounds of %v", name, bounds)
		}
	}
	if want := "of 40 pairs from 4 trials. Answers of one trial are not independent, and there are too few trials for an interval."; !strings.Contains(sentence(a.Say), want) {
		t.Errorf("%q, want %q", sentence(a.Say), want)
	}
	if a = must[trend.Agreement](t)(trend.Agree(apartIn(true, false, true, true, true), 4)); !a.Same.Bounded {
		t.Error("five trials have no interval")
	}
	// One pair a trial: each is independent, and Wilson's interval holds.
	a = must[trend.Agreement](t)(trend.Agree([]trend.Pair{{Trial: "a", A: 1, B: 1}, {Trial: "b", A: 0, B: 1}}, 4))
	if a.Clustered || a.Trials != 2 || !a.Same.Bounded || a.Same.Low == 0 || !strings.HasPrefix(sentence(a.Say), "Same answer in 50 % (9 to 91)") {
		t.Errorf("one pair a trial: %+v, %q", a.Same, sentence(a.Say))
	}
}

// TestDrawsWithoutACoefficientGiveNoInterval: where some draws are all of
// one level, kappa is not given an interval of the rest.
func TestDrawsWithoutACoefficientGiveNoInterval(t *testing.T) {
	var pairs []trend.Pair
	for i := range 5 {
		trial := string(rune('a' + i))
		pairs = append(pairs, trend.Pair{Trial: trial, A: 2, B: 2}, trend.Pair{Trial: trial, A: 2, B: 2})
	}
	pairs[0].A, pairs[0].B = 1, 1
	a := must[trend.Agreement](t)(trend.Agree(pairs, 4))
	if a.KappaErr != nil || a.Plain.Bounded || !a.Same.Bounded {
		t.Errorf("%+v, %+v", a.Plain, a.Same)
	}
}
