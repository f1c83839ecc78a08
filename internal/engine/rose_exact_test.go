package engine_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/model"
)

func roseOf(t *testing.T, q *model.RoseQuestion) model.Rose {
	t.Helper()
	got, bad := engine.RoseOf(q)
	if bad != nil {
		t.Fatal(bad)
	}
	return got
}

// TestRoseWithoutAControl asks for nothing, in all three drawings.
func TestRoseWithoutAControl(t *testing.T) {
	for _, c := range []struct{ what, unit, lines, want string }{
		{"force", "gf", "force left rested 100\n", "left; rested 1:100(100..100); tired -; usable 70; asked -; plenty -; assumed"},
		{"travel", "mm", "travel left rested 6 20\n", "left; rested 2:13(6..20); tired -; usable 13; asked -; plenty -"},
		{"switch-force", "gf", "switch-force press tired 90\n", "both; rested -; tired 1:90(90..90); usable 90; asked -; plenty -"},
	} {
		q := roseQuestion(c.what, c.unit, c.lines)
		q.Setup = nil
		got := roseOf(t, &q)
		if text := roseText(&got); !strings.Contains(text+"\n", c.want+"\n") || strings.Contains(text, "needed") {
			t.Errorf("%s\nwant in it\n%s", text, c.want)
		}
	}
}

// TestRoseOfTravelTiresNot: what is left of a travel when tired is what was measured,
// the least of both, and readings of a way that lie far apart are not said to.
func TestRoseOfTravelTiresNot(t *testing.T) {
	q := roseQuestion("travel", "mm", "travel forward rested 2 20\ntravel forward tired 12\ntravel right rested 9.96\n")
	got := roseOf(t, &q)
	text := roseText(&got)
	for _, want := range []string{
		"forward needed; rested 2:11(2..20); tired 1:12(12..12); usable 11; asked 10; plenty -; tight\n",
		"right; rested 1:9.9(9.96..9.96); tired -; usable 9.9; asked -; plenty -\n", // nobody needs right
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%s\nwant in it\n%s", text, want)
		}
	}
}

// TestRoseInUnitsOfTheGauge: 50 gf are 0.490333 N and 1.763698 ozf (1 gf is 9.80665 mN,
// 28.349523125 gf are an ounce), asked for rounded up and found rounded down.
func TestRoseInUnitsOfTheGauge(t *testing.T) {
	for _, c := range []struct{ unit, lines, want string }{
		{"N", "force forward tired 0.4986\n", "forward needed; rested -; tired 1:0.49(0.499..0.499); usable 0.49; asked 0.49; plenty 1.48; short"},
		{"ozf", "force forward tired 1.7637\n", "forward needed; rested -; tired 1:1.76(1.764..1.764); usable 1.76; asked 1.77; plenty 5.3; short"},
	} {
		q := roseQuestion("force", c.unit, c.lines)
		got := roseOf(t, &q)
		if text := roseText(&got); got.Unit != c.unit || !strings.HasPrefix(text, c.want) {
			t.Errorf("%s\nwant first\n%s", text, c.want)
		}
	}
}

// TestRoseOfAVeryLightControl: 1 gf, 1 mm and a switch of 1 gf are asked for like any
// other.
func TestRoseOfAVeryLightControl(t *testing.T) {
	for _, c := range []struct{ what, unit, lines, want string }{
		{"force", "gf", "force forward tired 9\n", "forward needed; rested -; tired 1:9(9..9); usable 9; asked 1; plenty 3\n"},
		{"travel", "mm", "travel forward rested 9\n", "forward needed; rested 1:9(9..9); tired -; usable 9; asked 1; plenty -\n"},
		{"switch-force", "gf", "switch-force press tired 9\n", "both needed; rested -; tired 1:9(9..9); usable 9; asked 1; plenty 3\n"},
		{"switch-force", "gf", "switch-force press tired 9\n", "stop needed; rested -; tired -; usable -; asked 0.5; plenty 1.5\n"},
	} {
		q := roseQuestion(c.what, c.unit, c.lines)
		q.Setup.StartGF, q.Setup.OperateGF, q.Setup.TravelMM, q.Setup.SwitchPressGF, q.Setup.StopPressGF = 1, 1, 1, 1, 0.5
		got := roseOf(t, &q)
		if text := roseText(&got) + "\n"; !strings.Contains(text, c.want) {
			t.Errorf("%s\nwant in it\n%s", text, c.want)
		}
	}
}

// TestRoseAtASiteThatIsNotChosen shows what the chosen control asks there too.
func TestRoseAtASiteThatIsNotChosen(t *testing.T) {
	q := roseQuestion("force", "gf", "force forward tired 200\n")
	q.Setup.Site = "chin"
	got := roseOf(t, &q)
	if text, want := roseText(&got), "forward needed; rested -; tired 1:200(200..200); usable 200; asked 50; plenty 150\n"; !strings.HasPrefix(text, want) {
		t.Errorf("%s\nwant first\n%s", text, want)
	}
	// The sentence speaks of the site that is drawn.
	q = roseQuestion("travel", "mm", "travel left rested 9\n")
	q.Setup.Site = "chin"
	got = roseOf(t, &q)
	if text, want := roseText(&got), "left needed; rested 1:9(9..9); tired -; usable 9; asked 5; plenty -\n"; !strings.Contains(text, want) {
		t.Errorf("%s\nwant in it\n%s", text, want)
	}
}

// TestRoseNamesTheReadingThatIsWrong, and refuses a unit that does not measure it.
func TestRoseNamesTheReadingThatIsWrong(t *testing.T) {
	q := roseQuestion("force", "gf", "force forward rested 2 3\n")
	q.Readings[1].Value = -1
	if _, bad := engine.RoseOf(&q); bad == nil || bad.Path != "readings[1].value" {
		t.Errorf("%v", bad)
	}
	for _, c := range []struct{ what, unit string }{{"force", "kg"}, {"switch-force", "mm"}, {"travel", "N"}, {"travel", ""}} {
		q := roseQuestion(c.what, c.unit, "")
		if _, bad := engine.RoseOf(&q); bad == nil || bad.Path != "unit" {
			t.Errorf("%s in %s: %v", c.what, c.unit, bad)
		}
	}
}

// TestRoseOfWhatWasNotMeasured says what is asked and judges nothing.
func TestRoseOfWhatWasNotMeasured(t *testing.T) {
	for _, c := range []struct{ what, unit, want string }{
		{"force", "gf", "reverse needed; rested -; tired -; usable -; asked 50; plenty 150"},
		{"travel", "mm", "left needed; rested -; tired -; usable -; asked 5; plenty -"},
		{"travel", "mm", "right; rested -; tired -; usable -; asked -; plenty -"},
		{"switch-force", "gf", "stop needed; rested -; tired -; usable -; asked 60; plenty 180"},
	} {
		q := roseQuestion(c.what, c.unit, "")
		got := roseOf(t, &q)
		if text := roseText(&got); !slices.Contains(strings.Split(text, "\n"), c.want) {
			t.Errorf("%s\nwant in it\n%s", text, c.want)
		}
	}
}

// TestRoseWithoutSupport is of the readings that were taken without, whatever was read
// with it, at other sites and of other kinds.
func TestRoseWithoutSupport(t *testing.T) {
	for _, supported := range []bool{false, true} {
		q := roseQuestion("force", "gf", "force forward tired 200 100\ntravel forward rested 9\n")
		q.Readings[1].Supported = false
		q.Readings = append(q.Readings, model.ReadingTaken{What: "force", Site: "chin", Direction: "forward", State: "tired", Supported: supported, Value: 3, Unit: "gf"})
		q.Supported = supported
		want := "forward needed; rested -; tired 1:100(100..100); usable 100; asked 50; plenty 150; tight\n"
		if supported {
			want = "forward needed; rested -; tired 1:200(200..200); usable 200; asked 50; plenty 150\n"
		}
		got := roseOf(t, &q)
		if text := roseText(&got); !strings.HasPrefix(text, want) {
			t.Errorf("supported %v: %s\nwant first\n%s", supported, text, want)
		}
	}
}
