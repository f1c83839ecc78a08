package model_test

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"doorsill/internal/message"
	"doorsill/internal/model"
)

// held lists the messages within a value, in the order of the fields, as
// reflection finds them.
func held(v reflect.Value) (list []*message.Message) {
	switch v.Kind() {
	case reflect.Struct:
		if m, is := v.Addr().Interface().(*message.Message); is {
			return []*message.Message{m}
		}
		for i := range v.NumField() {
			list = append(list, held(v.Field(i))...)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			return held(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			list = append(list, held(v.Index(i))...)
		}
	}
	return list
}

// TestEachMessageIsFound: a message that EachMessage misses would be shown
// without words.
func TestEachMessageIsFound(t *testing.T) {
	type worded interface {
		EachMessage(func(*message.Message))
	}
	r := rand.New(rand.NewPCG(5, 6))
	for range 500 {
		for _, answer := range []worded{new(model.OpenVisit), new(model.SeriesAnswer), new(model.QuantitiesAnswer), new(model.ThresholdsAnswer),
			new(model.Advice), new(model.PlanDrawing), new(model.Plausibility), new(model.Trend), new(model.CeilingsAnswer), new(model.MeasuredAnswers)} {
			fill(r, reflect.ValueOf(answer).Elem())
			var got []*message.Message
			answer.EachMessage(func(m *message.Message) { got = append(got, m) })
			if want := held(reflect.ValueOf(answer).Elem()); !slices.Equal(got, want) {
				t.Fatalf("%T: %d messages, reflection finds %d", answer, len(got), len(want))
			}
		}
	}
}
