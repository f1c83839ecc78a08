package strength_test

import (
	"strings"
	"testing"

	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
)

// TestSpreadAndTiredRatioAtTheirEdges: of equal readings the spread is 0 and known,
// of nothing that came it is not; one tired reading makes a ratio.
func TestSpreadAndTiredRatioAtTheirEdges(t *testing.T) {
	for _, c := range []struct {
		name          string
		needed        []strength.Direction
		readings      []strength.Reading
		spread, tired string
	}{
		{"alike", []strength.Direction{strength.Left}, joined(force(strength.Left, false, true, 80, 80, 80), force(strength.Left, true, true, 40)), "0 left measured", "0.5 left measured"},
		{"nothing came", []strength.Direction{strength.Left}, joined(force(strength.Left, false, true, 0, 0, 0), force(strength.Left, true, true, 0)), "0 left strength.spread-needs wanted=3", "0 left strength.tired-ratio-needs"},
		{"two readings", []strength.Direction{strength.Left}, force(strength.Left, false, true, 80, 100), "0 left strength.spread-needs wanted=3", "0 left strength.tired-ratio-needs"},
		{"the worst first", []strength.Direction{strength.Left, strength.Forward}, joined(force(strength.Left, false, true, 80, 100, 120), force(strength.Left, true, true, 30, 30), force(strength.Forward, false, true, 100, 100, 101), force(strength.Forward, true, true, 90)), "40 left measured", "0.3 left measured"},
		{"alike in both", []strength.Direction{strength.Left, strength.Forward}, joined(force(strength.Left, false, true, 80, 100, 120), force(strength.Left, true, true, 50), force(strength.Forward, false, true, 80, 100, 120), force(strength.Forward, true, true, 50)), "40 left measured", "0.5 left measured"},
		{"the worst last", []strength.Direction{strength.Forward, strength.Left}, joined(force(strength.Left, false, true, 80, 100, 120), force(strength.Left, true, true, 30, 30), force(strength.Forward, false, true, 100, 100, 101), force(strength.Forward, true, true, 90)), "40 left measured", "0.3 left measured"},
	} {
		s := setup(10)
		s.Needed = c.needed
		a := strength.Analyse(c.readings, s)
		show := func(q *quantity.Quantity) string {
			text := q.Value.Text() + " " + q.Direction + " "
			if q.Has() {
				return text + "measured"
			}
			return text + q.Say.String()
		}
		if got := show(&a.Spread); got != c.spread {
			t.Errorf("%s: spread %s, want %s", c.name, got, c.spread)
		}
		if got := show(&a.Tired); got != c.tired {
			t.Errorf("%s: tired ratio %s, want %s", c.name, got, c.tired)
		}
	}
}

// TestWhatHasNoMeaningHasNoValue of a control that asks no force, is not held and
// is not switched.
func TestWhatHasNoMeaningHasNoValue(t *testing.T) {
	s := setup(0)
	s.Class, s.StartGF, s.TravelMM, s.Mode = "non-contact", 0, 0, "momentary"
	a := strength.Analyse(joined(pulls(site, "80"), only(strength.Hold, 9)), s)
	for _, q := range []quantity.Quantity{a.Reserve, a.Bound, a.Travel, a.Spread, a.Tired, a.Hold, a.Noise, a.Hits, a.Steps, a.Breath} {
		if q.Origin != quantity.NotAsked || q.Value != 0 || q.Say.Empty() || q.Name == "" || q.Site != site || q.Unit == "" {
			t.Errorf("%s: %+v", q.Name, q)
		}
	}
	s = setup(10)
	s.Needed = append(s.Needed, strength.Press)
	a = strength.Analyse(joined(pulls(site, "80"), travel(strength.Left, false, 9)), s)
	for _, q := range []quantity.Quantity{a.Reserve, a.Bound, a.Travel} {
		if q.Origin != quantity.Missing || q.Value != 0 {
			t.Errorf("%s without one direction: %+v", q.Name, q)
		}
	}
}

// TestAValueBesideOthers: asked about is what is more than twice or less than half
// of the middle of its series, with a digit less or more where that would fit;
// without a series, only what fits other directions with a digit less.
func TestAValueBesideOthers(t *testing.T) {
	series := []float64{95, 100, 105}
	for _, c := range []struct {
		name               string
		what               strength.What
		value              float64
		others, directions []float64
		say, suggested     string
	}{
		{"twice", strength.Force, 200, series, nil, "", ""},
		{"more than twice", strength.Force, 200.1, series, nil, "strength.beside-others value=200.1 unit=gf middle=100", ""},
		{"half", strength.Travel, 50, series, nil, "", ""},
		{"less than half", strength.Travel, 49.9, series, nil, "strength.beside-others value=49.9 unit=gf middle=100", ""},
		{"a digit too many", strength.StopForce, 1000, series, nil, "strength.beside-others value=1000", "100"},
		{"at twice with a digit less", strength.StopForce, 2000, series, nil, "strength.beside-others value=2000", "200"},
		{"beyond it", strength.StopForce, 2001, series, nil, "strength.beside-others value=2001", ""},
		{"a digit too few", strength.Breath, 10, series, nil, "strength.beside-others value=10", "100"},
		{"at half with a digit more", strength.Breath, 5, series, nil, "strength.beside-others value=5", "50"},
		{"below it", strength.Breath, 4.9, series, nil, "strength.beside-others value=4.9", ""},
		{"one other is a series", strength.SwitchForce, 300, []float64{100}, nil, "strength.beside-others value=300 unit=gf middle=100", ""},
		{"a series goes before directions", strength.PowerForce, 300, []float64{290}, []float64{30}, "", ""},
		{"directions alone", strength.ModeForce, 1000, nil, series, "strength.beside-directions value=1000 unit=gf middle=100", "100"},
		{"far from directions", strength.ModeForce, 5000, nil, series, "", ""},
		{"twice of directions and more", strength.ModeForce, 300, nil, series, "", ""},
		{"a digit few beside directions", strength.ModeForce, 10, nil, series, "", ""},
		{"beside nothing that came", strength.Force, 50, []float64{0, 0}, nil, "strength.beside-others value=50 unit=gf middle=0", ""},
		{"nothing beside it", strength.Force, 5000, nil, nil, "", ""},
		{"the largest counts", strength.Unintended, 5000, series, nil, "", ""},
		{"of a power switch", strength.PowerForce, 1000, series, nil, "strength.beside-others value=1000", "100"},
		{"times are not", strength.Hold, 5000, series, nil, "", ""},
	} {
		j := strength.Beside(c.what, c.value, "gf", c.others, c.directions)
		suggested := ""
		if j.Unit != "" {
			suggested = j.Suggested.Text()
		}
		if !strings.HasPrefix(j.Say.String(), c.say) || (c.say == "") != j.Say.Empty() || (j.Answer == strength.PlausibleOK) != (c.say == "") || suggested != c.suggested || (j.Unit != "" && j.Unit != "gf") {
			t.Errorf("%s: %s, %s, suggests %q; want %s, %q", c.name, j.Answer, j.Say.String(), suggested, c.say, c.suggested)
		}
	}
	others := []float64{9, 1, 5}
	if strength.Beside(strength.Force, 5, "gf", others, nil); others[0] != 9 || others[1] != 1 {
		t.Errorf("the others were put in order: %v", others)
	}
}
