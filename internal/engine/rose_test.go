package engine_test

import (
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// roseQuestion asks about lines "what direction state values…" at the right hand,
// with a control that asks 50 gf and 10 mm, half of it to the left.
func roseQuestion(what, unit, lines string) model.RoseQuestion {
	q := model.RoseQuestion{What: what, Site: "hand-right", Supported: true, Unit: unit, Setup: &model.SetupChosen{
		Class: "small", Site: "hand-right", StartGF: 20, OperateGF: 50, TravelMM: 10, Throw: map[string]float64{"left": 50},
		Needed: []string{"forward", "reverse", "left"}, SwitchPressGF: 30, StopPressGF: 60}}
	for line := range strings.Lines(lines) {
		f := strings.Fields(line)
		for _, word := range f[3:] {
			value, err := strconv.ParseFloat(word, 64)
			if err != nil {
				panic(err)
			}
			one := model.ReadingTaken{What: f[0], Site: "hand-right", Direction: f[1], State: f[2], Supported: true, Value: value, Unit: unit}
			if one.What == model.ReadTravel {
				one.Unit = "mm"
			}
			if at, of, found := strings.Cut(f[1], "/"); found {
				one.Direction, one.Switch = at, of
			}
			q.Readings = append(q.Readings, one)
		}
	}
	return q
}

func figure(m *decimal.Micro) string {
	if m == nil {
		return "-"
	}
	return m.Text()
}

func roseSeries(s *model.RoseSeries) string {
	if s == nil {
		return "-"
	}
	text := strconv.Itoa(s.Count) + ":" + s.Value.Text() + "(" + s.Low.Text() + ".." + s.High.Text() + ")"
	if s.Apart {
		text += " apart"
	}
	return text
}

func roseText(r *model.Rose) string {
	var lines []string
	for i := range r.Arms {
		a := &r.Arms[i]
		f := []string{a.ID, "rested " + roseSeries(a.Rested), "tired " + roseSeries(a.Tired), "usable " + figure(a.Usable), "asked " + figure(a.Asked), "plenty " + figure(a.Plenty)}
		if a.Needed {
			f[0] += " needed"
		}
		if a.Assumed {
			f = append(f, "assumed")
		}
		if a.Short {
			f = append(f, "short")
		}
		if a.Tight {
			f = append(f, "tight")
		}
		if a.Message.Empty() == (a.Usable != nil && a.Asked != nil) {
			f = append(f, "a message that does not fit")
		}
		lines = append(lines, strings.Join(f, "; "))
	}
	return strings.Join(lines, "\n")
}

// TestRoseOfForce: 62, 90 and 124 gf are 92 in the mean, rounded down, 1.8 times the
// 50 that are asked; 7/10 of 200 is assumed where nobody was tired.
func TestRoseOfForce(t *testing.T) {
	q := roseQuestion("force", "gf", "force forward rested 640 650 655.5\nforce forward tired 560\nforce reverse rested 138\n"+
		"force reverse tired 124 62 90\nforce left rested 200\nforce right rested 8.27\nforce press rested 20\ntravel left rested 4\n")
	got, bad := engine.RoseOf(&q)
	if bad != nil {
		t.Fatal(bad)
	}
	want := "forward needed; rested 3:648(640..655.5); tired 1:560(560..560); usable 560; asked 50; plenty 150\n" +
		"reverse needed; rested 1:138(138..138); tired 3:92(62..124) apart; usable 92; asked 50; plenty 150; short\n" +
		"left needed; rested 1:200(200..200); tired -; usable 140; asked 50; plenty 150; assumed; tight\n" +
		"right; rested 1:8.2(8.27..8.27); tired -; usable 5.7; asked -; plenty -; assumed\n" +
		"press; rested 1:20(20..20); tired -; usable 14; asked -; plenty -; assumed"
	if text := roseText(&got); text != want {
		t.Errorf("got\n%s\nwant\n%s", text, want)
	}
}

func TestRoseOfTravelAndSwitches(t *testing.T) {
	q := roseQuestion("travel", "mm", "travel forward rested 9 11\ntravel left rested 6\ntravel left tired 5\n")
	got, bad := engine.RoseOf(&q)
	if bad != nil {
		t.Fatal(bad)
	}
	text := roseText(&got)
	for _, want := range []string{"forward needed; rested 2:10(9..11); tired -; usable 10; asked 10; plenty -; tight\n", "left needed; rested 1:6(6..6); tired 1:5(5..5); usable 5; asked 5; plenty -; tight\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("got\n%s\nwant in it\n%s", text, want)
		}
	}
	q = roseQuestion("switch-force", "gf", "switch-force press rested 90\nswitch-force press/stop tired 110\n")
	if got, bad = engine.RoseOf(&q); bad != nil {
		t.Fatal(bad)
	}
	want := "both needed; rested 1:90(90..90); tired -; usable 63; asked 30; plenty 90; assumed; tight\n" +
		"power needed; rested -; tired -; usable -; asked 30; plenty 90\n" +
		"mode needed; rested -; tired -; usable -; asked 30; plenty 90\n" +
		"stop needed; rested -; tired 1:110(110..110); usable 110; asked 60; plenty 180; short"
	if text := roseText(&got); text != want {
		t.Errorf("got\n%s\nwant\n%s", text, want)
	}
}

// TestRoseIsOfOneSiteAndSupport, in the unit of the visit, also without a control.
func TestRoseIsOfOneSiteAndSupport(t *testing.T) {
	q := roseQuestion("force", "N", "force forward rested 2 2.1\n")
	q.Readings[1].Supported = false
	q.Readings = append(q.Readings, model.ReadingTaken{What: "force", Site: "chin", Direction: "left", State: "rested", Supported: true, Value: 3, Unit: "N"})
	q.Setup = nil
	got, bad := engine.RoseOf(&q)
	if bad != nil {
		t.Fatal(bad)
	}
	want := "forward; rested 1:2(2..2); tired -; usable 1.4; asked -; plenty -; assumed\n"
	if text := roseText(&got); !strings.HasPrefix(text, want) || !strings.Contains(text, "left; rested -") {
		t.Errorf("got\n%s", text)
	}
}

func TestRoseRefusesWhatCannotBeDrawn(t *testing.T) {
	for path, change := range map[string]func(*model.RoseQuestion){
		"what":              func(q *model.RoseQuestion) { q.What = "hold" },
		"unit":              func(q *model.RoseQuestion) { q.Unit = "mm" },
		"readings[0].value": func(q *model.RoseQuestion) { q.Readings[0].Value = -1 },
		"setup.class":       func(q *model.RoseQuestion) { q.Setup.Class = "magic" },
	} {
		q := roseQuestion("force", "gf", "force forward rested 2\n")
		change(&q)
		if _, bad := engine.RoseOf(&q); bad == nil || bad.Path != path {
			t.Errorf("%s: %v", path, bad)
		}
	}
	q := roseQuestion("travel", "gf", "")
	if _, bad := engine.RoseOf(&q); bad == nil || bad.Code != validation.CodeWrongUnit {
		t.Errorf("travel in gf: %v", bad)
	}
}

// TestRoseAtItsBounds: a force of 2 times what is asked is not short any more, one of 3
// times not tight (TRADE.md 4.1); of travel it is 1 and 1.25 times.
func TestRoseAtItsBounds(t *testing.T) {
	for _, c := range []struct {
		what, unit, line string
		short, tight     bool
	}{
		{"force", "gf", "force forward tired 99", true, false},
		{"force", "gf", "force forward tired 100", false, true},
		{"force", "gf", "force forward tired 149", false, true},
		{"force", "gf", "force forward tired 150", false, false},
		{"travel", "mm", "travel forward rested 9.9", true, false},
		{"travel", "mm", "travel forward rested 10", false, true},
		{"travel", "mm", "travel forward rested 12.4", false, true},
		{"travel", "mm", "travel forward rested 12.5", false, false},
		{"switch-force", "gf", "switch-force press tired 59", true, false},
		{"switch-force", "gf", "switch-force press tired 60", false, true},
		{"switch-force", "gf", "switch-force press tired 90", false, false},
	} {
		q := roseQuestion(c.what, c.unit, c.line+"\n")
		got, bad := engine.RoseOf(&q)
		if bad != nil {
			t.Fatal(bad)
		}
		if arm := got.Arms[0]; arm.Short != c.short || arm.Tight != c.tight || arm.Message.Empty() {
			t.Errorf("%s: short %v, tight %v; want %v, %v", c.line, arm.Short, arm.Tight, c.short, c.tight)
		}
	}
	// A control of which force and way are not entered asks for neither.
	for what, unit := range map[string]string{"force": "gf", "travel": "mm", "switch-force": "gf"} {
		q := roseQuestion(what, unit, "")
		q.Setup.OperateGF, q.Setup.StartGF, q.Setup.TravelMM, q.Setup.SwitchPressGF, q.Setup.StopPressGF = 0, 0, 0, 0, 0
		got, bad := engine.RoseOf(&q)
		if bad != nil {
			t.Fatal(bad)
		}
		for _, arm := range got.Arms {
			if arm.Asked != nil || arm.Plenty != nil || arm.Short || arm.Tight {
				t.Errorf("%s: %+v", what, arm)
			}
		}
	}
}
