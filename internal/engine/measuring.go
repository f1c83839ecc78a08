package engine

import (
	"errors"
	"strconv"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// The measuring screens ask these while somebody measures, before anything is
// scored.

// SummariseSeries says what repeated readings come to while they are being
// taken, a summary for each series. The error names the series.
func SummariseSeries(list []model.Series) ([]model.SeriesSummary, *validation.Error) {
	out := make([]model.SeriesSummary, len(list))
	for i := range list {
		s := &list[i]
		status, err := strength.StatusOf(strength.WhatOf(s.What), s.Unit, s.Values)
		if err != nil {
			return nil, refused(err, "values").Within("series[" + strconv.Itoa(i) + "]")
		}
		out[i] = summaryOf(&status)
	}
	return out, nil
}

func summaryOf(s *strength.SeriesStatus) model.SeriesSummary {
	out := model.SeriesSummary{Count: s.N, Wanted: s.Missing, More: s.More, Apart: s.Apart, Odd: s.Odd, Message: s.Say}
	if s.N > 0 {
		out.Value, out.Low, out.High = &s.Value, &s.Low, &s.High
	}
	if s.HasSpread {
		spread := s.Spread.Near(1)
		out.Spread = &spread
	}
	return out
}

// refused turns what strength says of a number that cannot be a measurement into
// an error of input.
func refused(err error, path string) *validation.Error {
	if errors.Is(err, strength.ErrUnit) {
		return &validation.Error{Code: validation.CodeWrongUnit, Path: "unit", Want: validation.Either(model.ForceUnits())}
	}
	return &validation.Error{Code: validation.CodeOutOfRange, Path: path, Want: "a number of 0 or more"}
}

// RunQuantities are the quantities that a run in such a place counts for.
func RunQuantities(run *model.RunTimed) ([]model.Quantity, *validation.Error) {
	if err := run.Check(); err != nil {
		return nil, err
	}
	findings := trial.Sum([]model.Run{{RunTimed: *run}})
	var b builder
	findings.Of(run.Place, func(q *quantity.Quantity) { b.out.Quantities = append(b.out.Quantities, b.quantity(q)) })
	return b.out.Quantities, nil
}

// Convert gives forces of one unit in another, rounded to what a gauge of it
// shows.
func Convert(values []float64, from, to string) ([]decimal.Micro, *validation.Error) {
	out := make([]decimal.Micro, len(values))
	for i, value := range values {
		m, err := strength.Convert(value, from, to)
		if err != nil {
			return nil, refused(err, "values["+strconv.Itoa(i)+"]")
		}
		out[i] = m
	}
	return out, nil
}

// Plausible judges a value as it is typed; see strength.Plausible and
// strength.Beside.
func Plausible(q *model.PlausibleQuestion) model.Plausibility {
	j := strength.Plausible(q.What, q.Site, q.Value, q.Unit)
	if j.Answer == strength.PlausibleOK {
		j = strength.Beside(strength.WhatOf(q.What), q.Value, q.Unit, q.Others, q.Directions)
	}
	out := model.Plausibility{Verdict: j.Answer, Message: j.Say}
	if j.Unit != "" {
		out.Suggestion, out.SuggestionUnit = &j.Suggested, j.Unit
	}
	return out
}
