package engine_test

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

func ratersOf(t *testing.T, q *model.RatersQuestion) model.Raters {
	t.Helper()
	answer, err := engine.RatersOf(q)
	if err != nil {
		t.Fatal(err)
	}
	return answer
}

// times repeats a pair.
func times(n int, p model.RatedPair) []model.RatedPair { return slices.Repeat([]model.RatedPair{p}, n) }

// hundredths is a number of hundredths.
func hundredths(n int) *decimal.Micro {
	m := decimal.Int(n) / 100
	return &m
}

// Three of four the same, all within one: Wilson's interval of 3 of 4 is 30.06
// to 95.44 %, of 4 of 4 it is 51.01 to 100 %.
func TestAgreementCountsEachItemAndAllTogether(t *testing.T) {
	answer := ratersOf(t, &model.RatersQuestion{Pairs: []model.RatedPair{
		{Item: "saf-look", Levels: 5, A: 4, B: 4}, {Item: "saf-look", Levels: 5, A: 3, B: 3},
		{Item: "saf-look", Levels: 5, A: 0, B: 1, StopA: true}, {Item: "ind-door", Levels: 5, A: 2, B: 2},
	}})
	var names []string
	for _, item := range answer.Items {
		names = append(names, item.Item)
	}
	if !slices.Equal(names, []string{"saf-look", "ind-door", "all"}) {
		t.Fatalf("items %q", names)
	}
	if one := answer.Items[0]; one.Levels != 5 || one.Pairs != 3 || one.Same.Value != *hundredths(6670) || one.Met {
		t.Errorf("%+v", one)
	}
	all := answer.Items[2]
	if want := (model.Interval{Value: *hundredths(7500), Low: hundredths(3006), High: hundredths(9544)}); all.Pairs != 4 || !reflect.DeepEqual(all.Same, want) {
		t.Errorf("%d pairs, same in %+v", all.Pairs, all.Same)
	}
	if want := (model.Interval{Value: *hundredths(10000), Low: hundredths(5101), High: hundredths(10000)}); !reflect.DeepEqual(all.WithinOne, want) {
		t.Errorf("within one in %+v", all.WithinOne)
	}
	if all.Kappa != nil || all.WeightedKappa != nil || !all.Word.Empty() || !all.Met || !strings.Contains(all.Message.String(), "[trend.discuss items=1]") {
		t.Errorf("%+v", all)
	}
	if !slices.Equal(answer.Discuss, []string{"saf-look"}) || answer.Forces != nil {
		t.Errorf("to discuss %q, forces %v", answer.Discuss, answer.Forces)
	}
}

func TestAgreementGivesKappaFromThirtyPairsOn(t *testing.T) {
	// [[20,5],[10,15]] has kappa 0.4; with two levels the weighted is the same.
	many := slices.Concat(times(20, model.RatedPair{Levels: 2}), times(5, model.RatedPair{Levels: 2, B: 1}),
		times(10, model.RatedPair{Levels: 2, A: 1}), times(15, model.RatedPair{Levels: 2, A: 1, B: 1}))
	item := ratersOf(t, &model.RatersQuestion{Pairs: many}).Items[0]
	if item.Kappa.Value != *hundredths(40) || item.WeightedKappa.Value != *hundredths(40) || item.Word.Code != "trend.kappa-fair" || item.Met {
		t.Errorf("kappa %v, weighted %v, %v, met %v", item.Kappa, item.WeightedKappa, &item.Word, item.Met)
	}
	few := slices.Concat(times(14, model.RatedPair{Levels: 2, B: 1}), times(15, model.RatedPair{Levels: 2, A: 1}))
	if item := ratersOf(t, &model.RatersQuestion{Pairs: few}).Items[0]; item.Kappa != nil || item.WeightedKappa != nil || !item.Word.Empty() {
		t.Errorf("29 pairs got a coefficient: %+v", item)
	}
	// Nine of ten the same, of two levels and as many of each: kappa 0.8.
	good := slices.Concat(times(18, model.RatedPair{Levels: 2}), times(2, model.RatedPair{Levels: 2, B: 1}),
		times(2, model.RatedPair{Levels: 2, A: 1}), times(18, model.RatedPair{Levels: 2, A: 1, B: 1}))
	if item := ratersOf(t, &model.RatersQuestion{Pairs: good}).Items[0]; item.Kappa.Value != *hundredths(80) || !item.Met {
		t.Errorf("kappa %v, met %v", item.Kappa, item.Met)
	}
}

func TestAgreementDoesNotMindWhoIsFirst(t *testing.T) {
	one := ratersOf(t, &model.RatersQuestion{
		Pairs:  []model.RatedPair{{Item: "x", Levels: 4, A: 0, B: 2, StopA: true}, {Item: "x", Levels: 4, A: 3, B: 3}},
		Forces: []model.ForcePair{{Key: "k", A: 60, B: 80}, {Key: "l", A: 20, B: 22}, {Key: "none", A: 0, B: 0}},
	})
	other := ratersOf(t, &model.RatersQuestion{
		Pairs:  []model.RatedPair{{Item: "x", Levels: 4, A: 2, B: 0, StopB: true}, {Item: "x", Levels: 4, A: 3, B: 3}},
		Forces: []model.ForcePair{{Key: "k", A: 80, B: 60}, {Key: "l", A: 22, B: 20}, {Key: "none", A: 0, B: 0}},
	})
	if !reflect.DeepEqual(one, other) {
		t.Errorf("got\n%+v and\n%+v", one, other)
	}
	if one.Forces.Forces != 3 || one.Forces.ICC == nil || len(one.Apart) != 2 {
		t.Fatalf("%+v, apart %+v", one.Forces, one.Apart)
	}
	k, l := one.Apart[0], one.Apart[1] // 20 of 70, and 2 of 21
	if k.Key != "k" || k.Percent != *hundredths(2860) || !k.Check || l.Key != "l" || l.Percent != *hundredths(950) || l.Check {
		t.Errorf("apart %+v, %+v", k, l)
	}
}

func TestOneForceHasNoICC(t *testing.T) {
	answer := ratersOf(t, &model.RatersQuestion{Forces: []model.ForcePair{{Key: "k", A: 60, B: 80}}})
	if f := answer.Forces; f.Forces != 1 || f.ICC != nil || f.Message.Code != "trend.too-few-rated" {
		t.Errorf("%+v", f)
	}
}

func TestAgreementRefusesWhatCannotBe(t *testing.T) {
	for path, q := range map[string]model.RatersQuestion{
		"pairs[1].a":      {Pairs: []model.RatedPair{{Levels: 5}, {Levels: 5, A: 5}}},
		"pairs[0].b":      {Pairs: []model.RatedPair{{Levels: 5, B: -1}}},
		"pairs[0].levels": {Pairs: []model.RatedPair{{Levels: 1}}},
		"forces[0].a":     {Forces: []model.ForcePair{{A: math.NaN()}}},
		"forces[1].b":     {Forces: []model.ForcePair{{}, {B: 10001}}},
	} {
		_, err := engine.RatersOf(&q)
		var bad *validation.Error
		if !errors.As(err, &bad) || bad.Code != validation.CodeOutOfRange || bad.Path != path {
			t.Errorf("%s: got %v", path, err)
		}
	}
}

// TestForcesGivenTheOtherWayRoundHaveNoICC: with 3 and 9 gf of one, 9 and 3 of the
// other there is nothing to divide by. That they are apart is still said.
func TestForcesGivenTheOtherWayRoundHaveNoICC(t *testing.T) {
	answer := ratersOf(t, &model.RatersQuestion{Forces: []model.ForcePair{{Key: "left", A: 3, B: 9}, {Key: "right", A: 9, B: 3}}})
	if f := answer.Forces; f == nil || f.ICC != nil || f.Message.Code != "trend.targets-same" || len(answer.Apart) != 2 {
		t.Errorf("%+v, %d apart", answer.Forces, len(answer.Apart))
	}
}
