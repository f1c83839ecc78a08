package passage_test

import (
	"strings"
	"testing"

	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
)

// TestAFigureBesideWhatWasMeasured holds every way to state one, in English.
func TestAFigureBesideWhatWasMeasured(t *testing.T) {
	const (
		change = "Change of level, upright edge: 2010 ADA Standards 303.2 says at most 6 mm; "
		circle = "Circle to turn in: 2010 ADA Standards 304.3.1 says at least 1524 mm; "
		slope  = "Running slope of a ramp: 2010 ADA Standards 405.2 says not steeper than 1 in 12; "
		code   = " Check your local code."
	)
	for _, c := range []struct {
		id    string
		yours float64
		want  string
	}{
		{"level-change", 6, change + "6 mm meets it." + code},
		{"level-change", 10, change + "10 mm does not meet it." + code},
		{"level-change", none, change + "not measured here." + code},
		{"turning-circle", 1524.4, circle + "1524 mm meets it." + code},
		{"turning-circle", 1500, circle + "1500 mm does not meet it." + code},
		{"turning-circle", none, circle + "not measured here." + code},
		{"ramp-slope", 12.04, slope + "1 in 12 meets it." + code},
		{"ramp-slope", 11.44, slope + "1 in 11.4 does not meet it." + code},
		{"ramp-slope", none, slope + "not measured here." + code},
	} {
		if got := must[passage.Compared](t)(passage.Compare(c.id, c.yours)); say(got.Say) != c.want {
			t.Errorf("%s beside %v: %q, want %q", c.id, c.yours, say(got.Say), c.want)
		}
	}
	_, err := passage.Compare("ada-0", 1)
	if text := say(passage.Refused(err)); text != `Reference: expected one of the listed figures, not "ada-0".` {
		t.Errorf("an unknown figure: %q", text)
	}
}

func TestEveryFigureHasWords(t *testing.T) {
	for _, id := range figures() {
		if !hasWords("reference", id) {
			t.Errorf("the figure %q has no words", id)
		}
	}
}

// figures are the ids of the standard's figures, as the app lists them.
func figures() []string {
	var ids []string
	passage.EachThreshold(func(th *provenance.Threshold) {
		if id, is := strings.CutPrefix(th.ID, "ada-"); is {
			ids = append(ids, id)
		}
	})
	return ids
}
