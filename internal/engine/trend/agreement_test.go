package trend_test

import (
	"math"
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
