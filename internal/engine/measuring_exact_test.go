package engine_test

import (
	"slices"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// TestSummariesHaveOnlyWhatTheyCan: no value without a reading, and a spread to one
// decimal of force alone. (90 − 70)/(240/3) is 25 %, (91 − 80)/85.5 is 12.865 %.
func TestSummariesHaveOnlyWhatTheyCan(t *testing.T) {
	list, bad := engine.SummariseSeries([]model.Series{{What: "force", Unit: "gf"}, {What: "force", Unit: "gf", Values: []float64{7}},
		{What: "force", Unit: "gf", Values: []float64{80, 91}}, {What: "force", Unit: "gf", Values: []float64{70, 80, 90}}, {What: "travel", Unit: "mm", Values: []float64{4, 8}}})
	if bad != nil {
		t.Fatal(bad)
	}
	var got [][]string
	for i := range list {
		s := &list[i]
		got = append(got, []string{figure(s.Value), figure(s.Low), figure(s.High), figure(s.Spread)})
	}
	want := [][]string{{"-", "-", "-", "-"}, {"7", "7", "7", "-"}, {"85.5", "80", "91", "12.9"}, {"80", "70", "90", "25"}, {"6", "4", "8", "-"}}
	if !slices.EqualFunc(got, want, slices.Equal) {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestWhatIsRefusedOrAskedIsNotLaidBesideOthers: the first word about a value stands.
func TestWhatIsRefusedOrAskedIsNotLaidBesideOthers(t *testing.T) {
	for _, c := range []struct {
		value         float64
		unit, verdict string
		suggests      string
	}{
		{20000, "gf", "refuse", ""}, // above every limit, and near the others
		{250, "kg", "refuse", ""},   // no unit of force
		{1, "gf", "ask", "102"},     // below what is usual; 1 N would not be
		{250, "gf", "ok", ""},       // near the others
		{2500, "gf", "ask", "250"},  // a digit too many
	} {
		others := []float64{250, 260}
		if c.value > 10000 {
			others = []float64{20000}
		}
		if c.value == 1 {
			others = []float64{1}
		}
		p := engine.Plausible(&model.PlausibleQuestion{What: "force", Site: "hand-right", Value: c.value, Unit: c.unit, Others: others})
		got := ""
		if p.Suggestion != nil {
			got = p.Suggestion.Text()
		}
		if p.Verdict != c.verdict || got != c.suggests || (p.SuggestionUnit == "") != (c.suggests == "") || p.Message.Empty() != (c.verdict == "ok") {
			t.Errorf("%v %s: %+v", c.value, c.unit, p)
		}
	}
}

// TestConvertNamesTheValue that cannot be, and gives each of the others.
func TestConvertNamesTheValue(t *testing.T) {
	got, bad := engine.Convert([]float64{1, 2}, "N", "gf")
	if bad != nil || len(got) != 2 || got[0].Text() != "101.972" || got[1].Text() != "203.943" {
		t.Errorf("%v, %v", got, bad)
	}
	for _, c := range []struct {
		value    float64
		unit, at string
	}{{-1, "gf", "values[1]"}, {1, "stone", "unit"}} {
		if _, bad := engine.Convert([]float64{1, c.value}, "gf", c.unit); bad == nil || bad.Path != c.at {
			t.Errorf("%v in %s: %v, want it to name %s", c.value, c.unit, bad, c.at)
		}
	}
}
