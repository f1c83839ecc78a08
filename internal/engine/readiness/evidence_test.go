package readiness_test

import (
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
	"doorsill/internal/phrase"
)

// TestForceIsMeasuredOftenEnough: without a tired reading in the weakest
// direction, with fewer than two there, or with fewer than three rested ones
// anywhere the level is at most Accompanied, and the way up names the reading.
func TestForceIsMeasuredOftenEnough(t *testing.T) {
	for _, c := range []struct {
		name                   string
		forward, left, tired   int
		operate                float64
		level                  readiness.Level
		failed, says, lackedAt string
	}{
		{"enough", 3, 3, 2, 50, readiness.WiderGround, "", "", ""},
		{"no tired reading", 3, 3, 0, 50, readiness.Accompanied, "tired-force", "left, 2 more tired", "left"},
		{"one tired reading", 3, 3, 1, 50, readiness.Accompanied, "force-readings", "left, 1 more tired", "left"},
		{"two rested readings", 2, 3, 2, 50, readiness.Accompanied, "force-readings", "forward, 1 more rested", "forward"},
		{"a control that asks no force", 0, 0, 0, 0, readiness.WiderGround, "", "", ""},
	} {
		r := newReady()
		setup := &strength.Setup{Class: "small", Site: "hand-right", OperateGF: c.operate, Needed: []strength.Direction{strength.Forward, strength.Left}}
		var readings []strength.Reading
		take := func(d strength.Direction, tired bool, gf float64, n int) {
			for range n {
				readings = append(readings, strength.Reading{What: strength.Force, Site: "hand-right", Direction: d, Tired: tired, Supported: true, Value: gf})
			}
		}
		take(strength.Forward, false, 300, c.forward)
		take(strength.Left, false, 200, c.left)
		take(strength.Left, true, 190, c.tired)
		analysis := strength.Analyse(readings, setup)
		r.in.Setup, r.in.Analysis = setup, &analysis
		got := r.judge()
		if got.Level != c.level || failed(got) != c.failed {
			t.Errorf("%s: %v, failed %q; want %v, %q", c.name, got.Level, failed(got), c.level, c.failed)
		}
		up := ""
		for i := range got.Up {
			if got.Up[i].Item != -1 {
				t.Errorf("%s: a reading is no item: %+v", c.name, got.Up[i])
			}
			up += phrase.NewWriter(phrase.English(), nil).Text(&got.Up[i].Say)
		}
		if c.says == "" != (up == "") || !strings.Contains(up, c.says) {
			t.Errorf("%s: the way up is %q, want %q", c.name, up, c.says)
		}
		lacked := ""
		for _, m := range got.Missing {
			if m.Reading != nil && m.Reading.What == "force" {
				lacked += m.Reading.Direction
			}
		}
		if lacked != c.lackedAt {
			t.Errorf("%s: missing %q, want %q", c.name, lacked, c.lackedAt)
		}
	}
}

// TestWhichReadingsAreNeeded: where none was taken, and where somebody is to drive alone
// by them; else more of them are useful.
func TestWhichReadingsAreNeeded(t *testing.T) {
	for _, c := range []struct {
		name  string
		limit string
		taken int
		want  string
	}{
		{"none, for practice", checklist.LimitPractise, 0, readiness.GroupNeeded},
		{"one, for practice", checklist.LimitPractise, 1, readiness.GroupUseful},
		{"one, for driving accompanied", checklist.LimitAccompanied, 1, readiness.GroupNeeded},
	} {
		r := newReady()
		r.item("pos-one").Effects = []checklist.Effect{{Effect: c.limit, When: []checklist.Condition{{Levels: []string{"4"}}}}}
		setup := &strength.Setup{Class: "small", Site: "hand-right", OperateGF: 50, Needed: []strength.Direction{strength.Forward}}
		var readings []strength.Reading
		for range c.taken {
			readings = append(readings, strength.Reading{What: strength.Force, Site: "hand-right", Direction: strength.Forward, Value: 300})
		}
		analysis := strength.Analyse(readings, setup)
		r.in.Setup, r.in.Analysis = setup, &analysis
		got := ""
		for _, m := range r.judge().Missing {
			if m.Reading != nil && m.Reading.What == "force" {
				got += m.Group
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
