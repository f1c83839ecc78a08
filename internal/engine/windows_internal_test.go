package engine

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/model"
)

// TestATiredForceTakesTheNextRestedOneOfItsKind: of its site, direction and support,
// in turn. What is no force, is a slip, or has no rested one beside it stays.
func TestATiredForceTakesTheNextRestedOneOfItsKind(t *testing.T) {
	var readings []model.Reading
	add := func(what, where, state string, value float64, change ...func(*model.Reading)) {
		r := model.Reading{ReadingTaken: model.ReadingTaken{What: what, State: state, Value: value, Unit: "gf"}}
		r.Site, r.Direction, _ = strings.Cut(where, " ")
		for _, c := range change {
			c(&r)
		}
		readings = append(readings, r)
	}
	slip := func(r *model.Reading) { r.Slip = "dropped" }
	held := func(r *model.Reading) { r.Supported = true }
	newton := func(r *model.Reading) { r.Unit = "N" }
	add("force", "chin left", "tired", 1)
	add("force", "chin left", "rested", 11)
	add("force", "chin left", "rested", 99, slip)
	add("switch-force", "chin left", "rested", 98)
	add("force", "chin left", "rested", 12, newton)
	add("force", "chin left", "tired", 2)
	add("force", "chin left", "tired", 3, slip)
	add("force", "chin left", "tired", 4)
	add("force", "chin left", "tired", 5, held)
	add("force", "chin left", "rested", 15, held)
	add("force", "chin right", "tired", 6)
	add("force", "lip right", "tired", 7)
	add("force", "lip right", "rested", 17)
	add("switch-force", "chin left", "tired", 8)
	before := slices.Clone(readings)
	var got []string
	for _, r := range asRested(readings) {
		got = append(got, fmt.Sprint(r.Value, r.Unit, " ", r.State))
	}
	want := []string{"11gf tired", "11gf rested", "99gf rested", "98gf rested", "12N rested", "12N tired", "3gf tired", "11gf tired",
		"15gf tired", "15gf rested", "6gf tired", "17gf tired", "17gf rested", "8gf tired"}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	if !slices.Equal(before, readings) {
		t.Error("the readings of the visit were changed")
	}
}
