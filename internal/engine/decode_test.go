package engine_test

import (
	"errors"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
)

const goodSetup = "setup\tvery-light\tindex-right\t4\t10\t3\t100\t100\t100\t100\tforward,left\t0"

// TestBadTextNamesLineFieldAndWhatWasExpected covers every kind of line.
func TestBadTextNamesLineFieldAndWhatWasExpected(t *testing.T) {
	for _, c := range []struct{ row, field, want string }{
		{"item\tpos-wings\tanswered\t3\t-", "item", "an item of this checklist"},
		{"item\tpos-trunk\tmaybe\t3\t-", "state", "answered, not-applicable or not-tested"},
		{"item\tpos-trunk\tnot-applicable\t-\t-", "state", "always applies"},
		{"item\tpos-trunk\tanswered\t4\t-", "value", "one of 3, 2, 1, 0 for pos-trunk"},
		{"item\tpos-trunk\tnot-tested\t3\t-", "value", "nothing was answered"},
		{"item\tpos-trunk\tanswered\t3", "facts", "one more field"},
		{"item\tpos-trunk\tanswered\t3\t-\t-", "end", "no further field"},
		{"item\tpos-belt\tanswered\tYes\t-", "value", "one of yes, no"},
		{"item\tctl-choose\tanswered\t13\t-", "value", "a whole number for ctl-choose from 0 to 12"},
		{"item\tctl-choose\tanswered\t1.5\t-", "value", "a whole number"},
		{"item\tctl-choose\tanswered\t-1\t-", "value", "a whole number"},
		{"item\tctl-pain\tanswered\tNaN\t-", "value", "a number for ctl-pain"},
		{"item\tctl-pain\tanswered\t1e3\t-", "value", "a number"},
		{"item\tctl-reserve\tanswered\t4\t-", "value", "worked out from what was measured"},
		{"item\tper-sides\tanswered\t8\t-", "value", "left and right parted by /"},
		{"item\tper-sides\tanswered\t6/2\t-", "value", "from 0 to 5"},
		{"item\tmnt-power\tanswered\t1\tno-carer-plan", "facts", "fact=1 or fact=0"},
		{"item\tmnt-power\tanswered\t1\tno-carer-plan=2", "facts", "fact=1 or fact=0"},
		{"reading\tspeed\tchin\t-\trested\t1\t5\tgf\t0", "what", "force, travel, hold"},
		{"reading\tforce\tnose\tleft\trested\t1\t5\tgf\t0", "site", "a body site"},
		{"reading\tforce\tchin\tup\trested\t1\t5\tgf\t0", "direction", "forward, reverse, left, right, press or -"},
		{"reading\tforce\tchin\tleft\tsleepy\t1\t5\tgf\t0", "state", "rested or tired"},
		{"reading\tforce\tchin\tleft\trested\tyes\t5\tgf\t0", "supported", "0 or 1"},
		{"reading\tforce\tchin\tleft\trested\t1\t-5\tgf\t0", "value", "a number from 0"},
		{"reading\tforce\tchin\tleft\trested\t1\tInf\tgf\t0", "value", "a number from 0"},
		{"reading\tforce\tchin\tleft\trested\t1\t5\t-\t0", "unit", "gf, N, ozf or lbf"},
		{"reading\tforce\tchin\tleft\trested\t1\t99\tN\t0", "value", "at most 10000 gf"},
		{"reading\ttravel\tchin\tleft\trested\t1\t5\tcm\t0", "unit", "mm"},
		{"reading\ttravel\tchin\tleft\trested\t1\t151\tmm\t0", "value", "at most 150 mm"},
		{"reading\trelease\tchin\t-\trested\t1\t21\ts\t0", "value", "at most 20 s"},
		{"reading\thold\tchin\t-\trested\t1\t5\ts\t1", "missed", "only a release can be missed"},
		{"run\tgarden\trested\t60\t20\t0\t0\t0\t0\t0\t0", "place", "indoors, outdoors or rough"},
		{"run\tindoors\trested\t60\t20\t-1\t0\t0\t0\t0\t0", "things", "a whole number from 0"},
		{"run\tindoors\trested\t60\t20\t0\t0\t0\t0\t0", "presses", "one more field"},
		{"override\ttop\tother\t20\t1\t1\t1\t2", "level", "pause, practise"},
		{"override\tpause\tother\t20\t1\t1\t-2\t2", "from_day", "a whole number from -1"},
		{"setup\thuge\tchin\t4\t10\t3\t100\t100\t100\t100\t-\t0", "class", "a kind of control"},
		{"setup\tsmall\tchin\t4\t10\t3\t19\t100\t100\t100\t-\t0", "throw_forward", "a number from 20 to 100"},
		{"setup\tsmall\tchin\t4\t10\t3\t100\t100\t100\t100\tup\t0", "needed", "forward, reverse, left, right"},
		{goodSetup + "\n" + goodSetup, "kind", "one set-up"},
		{"kit\tk1\tstick\t4\t10\t3\t0\t-\t0\t0\t0", "class", "a kind of control"},
		{"kit\tk1\tsmall\t-4\t10\t3\t0\t-\t0\t0\t0", "start_gf", "0 to 10000"},
		{"kit\tk1\tsmall\t4\tNaN\t3\t0\t-\t0\t0\t0", "operate_gf", "0 to 10000"},
		{"kit\tk1\tsmall\t4\t10\t151\t0\t-\t0\t0\t0", "travel_mm", "0 to 150"},
		{"kit\tk1\tsmall\t4\t10\t3\t0\t10\t0\t0\t0", "seal", "0 to 9"},
		{"kit\tclass:small\tsmall\t4\t10\t3\t0\t-\t0\t0\t0", "id", "the id of a control"},
		{"need\tloud\t1", "name", "rough-ground"},
		{"need\trough-ground\tyes", "value", "0 or 1"},
		{"need\twait-weeks\t-1", "value", "0 to 260"},
		{"need\tbase\tloose", "value", "stable adjustable moves"},
		{"need\twish-site\tnose", "value", "a body site"},
		{"moist\tchin\tsoaked", "how", "dry damp wet"},
		{"photo\tx", "kind", "setup, item, reading or another kind of line"},
		{"", "kind", "setup, item, reading or another kind of line"},
	} {
		_, err := engine.Score(authoring.Standard(), []byte("doorsill-visit\t1\n"+c.row+"\n"))
		var wrong *engine.TextError
		if !errors.As(err, &wrong) || !errors.Is(err, engine.ErrText) {
			t.Errorf("%q was accepted (%v)", c.row, err)
			continue
		}
		line := 2 + strings.Count(c.row, "\n")
		if wrong.Line != line || wrong.Field != c.field || !strings.Contains(wrong.Want, c.want) {
			t.Errorf("%q: %v; want line %d, field %s, expected %q", c.row, err, line, c.field, c.want)
		}
	}
}

func TestTextThatIsNoVisitIsRefused(t *testing.T) {
	for _, text := range []string{"", "\n", "hello", "doorsill-visit\t2\n", "doorsill-rules\t1\tx\n"} {
		_, err := engine.Score(authoring.Standard(), []byte(text))
		if err == nil || !strings.Contains(err.Error(), "line 1: head: expected doorsill-visit, TAB, 1") {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func TestNumbersOfManyDigitsAreRead(t *testing.T) {
	text := "doorsill-visit\t1\n" + goodSetup + "\nreading\tforce\tindex-right\tleft\trested\t1\t30.000000000000004\tgf\t0\n" +
		"reading\tforce\tindex-right\tforward\trested\t1\t0.30000000000000004\tN\t0\n"
	result, err := engine.Score(authoring.Standard(), []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	got := parseLines(result)
	if got.find("figure", "mean-rested", "index-right", "left", "30") == nil || got.find("figure", "mean-rested", "index-right", "forward", "30.591") == nil {
		t.Errorf("figures %v", got["figure"])
	}
}

// FuzzScore: whatever the text, the engine answers with a result or an error
// that names a line, and never panics.
func FuzzScore(f *testing.F) {
	for _, path := range vectors(f) {
		f.Add([]byte(readVector(f, path).Text))
	}
	f.Add([]byte("doorsill-visit\t1\n" + goodSetup + "\nitem\tper-sides\tanswered\t5/3\t-\nrun\tindoors\ttired\t0\t0\t0\t1\t0\t0\t0\t0\n"))
	scorer := engine.New(authoring.Standard())
	f.Fuzz(func(t *testing.T, text []byte) {
		result, err := scorer.Score(text)
		if (err == nil) == (result == nil) {
			t.Fatalf("result %q and error %v", result, err)
		}
		again, _ := scorer.Score(text)
		if string(again) != string(result) {
			t.Fatal("the same text got two results")
		}
	})
}
