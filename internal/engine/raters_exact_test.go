package engine_test

import (
	"errors"
	"slices"
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine"
	"doorsill/internal/engine/trend"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// TestAgreementIsMetByAllThreeMarks: at least 75 % the same, at least 95 % within one
// level, and from 30 pairs on a weighted kappa of 0.61 (FORMULAS.md).
func TestAgreementIsMetByAllThreeMarks(t *testing.T) {
	pair := func(levels, a, b int) model.RatedPair { return model.RatedPair{Levels: levels, A: a, B: b} }
	for name, c := range map[string]struct {
		pairs      []model.RatedPair
		kappa, met bool
	}{
		"15 of 20 the same":              {slices.Concat(times(15, pair(4, 0, 0)), times(5, pair(4, 0, 1))), false, true},
		"14 of 20 the same":              {slices.Concat(times(14, pair(4, 0, 0)), times(6, pair(4, 0, 1))), false, false},
		"19 of 20 within one level":      {slices.Concat(times(19, pair(4, 0, 0)), times(1, pair(4, 0, 2))), false, true},
		"18 of 20 within one level":      {slices.Concat(times(18, pair(4, 0, 0)), times(2, pair(4, 0, 2))), false, false},
		"27 of 30 the same, all by luck": {slices.Concat(times(27, pair(2, 0, 0)), times(2, pair(2, 1, 0)), times(1, pair(2, 0, 1))), true, false},
		// All five levels alike, and a third of the pairs one level apart.
		"20 of 30 the same, far from luck": {slices.Concat(times(10, pair(5, 0, 0)), times(10, pair(5, 4, 4)), times(5, pair(5, 1, 2)), times(5, pair(5, 3, 2))), true, false},
		"30 of one level have no kappa":    {times(30, pair(4, 2, 2)), false, true},
	} {
		item := ratersOf(t, &model.RatersQuestion{Pairs: c.pairs}).Items[0]
		if item.Met != c.met || (item.Kappa != nil) != c.kappa || (item.WeightedKappa != nil) != c.kappa || item.Word.Empty() == c.kappa {
			t.Errorf("%s: %+v", name, item)
		}
	}
}

// TestAgreementKeepsItemsOfOtherLevelsApart, also of one name, and among all items
// together.
func TestAgreementKeepsItemsOfOtherLevelsApart(t *testing.T) {
	answer := ratersOf(t, &model.RatersQuestion{Pairs: []model.RatedPair{
		{Item: "a", Levels: 5, A: 4, B: 4}, {Item: "a", Levels: 3, A: 2, B: 1}, {Item: "b", Levels: 5, A: 1, B: 1}, {Item: "a", Levels: 5, A: 3, B: 2},
	}})
	type counted struct {
		item          string
		levels, pairs int
		same          decimal.Micro
	}
	var got []counted
	for _, i := range answer.Items {
		got = append(got, counted{i.Item, i.Levels, i.Pairs, i.Same.Value})
	}
	want := []counted{{"a", 5, 2, *hundredths(5000)}, {"a", 3, 1, 0}, {"b", 5, 1, *hundredths(10000)}, {"all", 5, 3, *hundredths(6670)}, {"all", 3, 1, 0}}
	if !slices.Equal(got, want) || answer.Discuss != nil {
		t.Errorf("%+v, to discuss %q; want %+v", got, answer.Discuss, want)
	}
}

// TestAgreementOfFewTrialsHasNoBounds: the pairs of one trial are not independent.
func TestAgreementOfFewTrialsHasNoBounds(t *testing.T) {
	pairs := []model.RatedPair{{Item: "a", Levels: 3, A: 1, B: 1}, {Item: "a", Levels: 3, A: 2, B: 1}}
	if one := ratersOf(t, &model.RatersQuestion{Pairs: pairs}).Items[0]; one.Same.Low == nil || one.Same.High == nil || one.WithinOne.Low == nil {
		t.Errorf("of two trials: %+v", one)
	}
	pairs[0].Trial, pairs[1].Trial = "t", "t"
	one := ratersOf(t, &model.RatersQuestion{Pairs: pairs}).Items[0]
	if want := (model.Interval{Value: *hundredths(5000)}); one.Same != want || one.WithinOne != (model.Interval{Value: *hundredths(10000)}) {
		t.Errorf("of one trial: %+v", one)
	}
}

// TestAgreementNamesEachStopToDiscuss, in the order of the pairs: not where both
// raised one.
func TestAgreementNamesEachStopToDiscuss(t *testing.T) {
	answer := ratersOf(t, &model.RatersQuestion{Pairs: []model.RatedPair{
		{Item: "both", Levels: 3, StopA: true, StopB: true}, {Item: "second", Levels: 3, StopB: true}, {Item: "first", Levels: 3, StopA: true}, {Item: "none", Levels: 3},
	}})
	if want := []string{"second", "first"}; !slices.Equal(answer.Discuss, want) {
		t.Errorf("to discuss %q, want %q", answer.Discuss, want)
	}
}

// TestForcesOfTwoRatersHaveTheirICC, with bounds where there are any: raters who agree
// in everything have an ICC of 1 without.
func TestForcesOfTwoRatersHaveTheirICC(t *testing.T) {
	forces := []model.ForcePair{{Key: "a", A: 100, B: 112}, {Key: "b", A: 205, B: 190}, {Key: "c", A: 300, B: 310}}
	want, err := trend.ICC([][]float64{{100, 112}, {205, 190}, {300, 310}})
	if err != nil || !want.Bounded {
		t.Fatal(err, want)
	}
	got := ratersOf(t, &model.RatersQuestion{Forces: forces}).Forces
	near := func(m *decimal.Micro, x float64) bool { return m != nil && m.Float() == x }
	if got.Forces != 3 || got.ICC == nil || !near(&got.ICC.Value, want.ICC) || !near(got.ICC.Low, want.Low) || !near(got.ICC.High, want.High) || got.Message.String() != want.Say.String() {
		t.Errorf("%+v, want %+v", got, want)
	}
	for i := range forces {
		forces[i].B = forces[i].A
	}
	if icc := ratersOf(t, &model.RatersQuestion{Forces: forces}).Forces.ICC; icc == nil || *icc != (model.Interval{Value: decimal.Int(1)}) {
		t.Errorf("alike in everything: %+v", icc)
	}
}

// TestAgreementTakesWhatLiesAtItsBounds, and nothing beyond them.
func TestAgreementTakesWhatLiesAtItsBounds(t *testing.T) {
	pair := func(levels, a, b int) model.RatersQuestion {
		return model.RatersQuestion{Pairs: []model.RatedPair{{Levels: levels, A: a, B: b}}}
	}
	force := func(a, b float64) model.RatersQuestion {
		return model.RatersQuestion{Forces: []model.ForcePair{{A: a, B: b}}}
	}
	for _, c := range []struct {
		q    model.RatersQuestion
		want string
	}{
		{pair(2, 0, 1), ""}, {pair(2, 1, 0), ""}, {pair(20, 19, 19), ""}, {pair(21, 0, 0), "pairs[0].levels"}, {pair(1, 0, 0), "pairs[0].levels"},
		{pair(20, 20, 0), "pairs[0].a"}, {pair(20, 0, 20), "pairs[0].b"}, {pair(20, -1, 0), "pairs[0].a"}, {pair(20, 0, -1), "pairs[0].b"},
		{force(0, 10000), ""}, {force(10000, 0), ""}, {force(10000.5, 0), "forces[0].a"}, {force(0, 10000.5), "forces[0].b"},
		{force(-0.5, 0), "forces[0].a"}, {force(0, -0.5), "forces[0].b"},
	} {
		_, err := engine.RatersOf(&c.q)
		got := ""
		if bad := (*validation.Error)(nil); errors.As(err, &bad) {
			got = bad.Path
		}
		if got != c.want {
			t.Errorf("%+v: refused %q, want %q", c.q, got, c.want)
		}
	}
}
