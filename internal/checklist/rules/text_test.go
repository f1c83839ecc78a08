package rules_test

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"doorsill/internal/checklist/rules"
)

func sample() rules.Set {
	return rules.Set{Hash: "abc", Sections: []rules.Section{
		{Code: "one", Title: "First things"},
		{Code: "two", Title: "", Items: []rules.Item{
			{ID: "two-help", Type: rules.Help, Title: "On and off", Weight: 2, NA: true,
				Effects: []rules.Effect{{Effect: rules.LimitAccompanied, When: []rules.Condition{
					{Levels: []string{"1", "0"}, Facts: []string{rules.FactNoCarerPlan}}}}}},
			{ID: "two-gap", Type: rules.Number, Title: "Gap", Weight: 3, Needed: true, Unit: "1 in x", Better: "high",
				Decimals: 1, Bounds: []float64{12, 10.5, 0.1, -3}, Effects: []rules.Effect{
					{Effect: rules.Stop, When: []rules.Condition{{Bands: []int{5}}, {Facts: []string{"own-fact"}}}}}},
			{ID: "two-sides", Type: rules.Count, Title: "Sides", Weight: 1, Better: "low", Of: 10,
				Sides: true, Bounds: []float64{0}, From: rules.FromRescues},
		}},
	}}
}

func TestASetComesBackAsItWasWritten(t *testing.T) {
	for _, set := range []rules.Set{sample(), {}, {Hash: "only"}} {
		got, err := rules.Parse(set.Encode())
		if err != nil {
			t.Fatalf("%v\n%s", err, set.Encode())
		}
		if !reflect.DeepEqual(got, set) {
			t.Errorf("got %+v\nwant %+v", got, set)
		}
	}
}

func TestTheTextIsAsDocumented(t *testing.T) {
	want := strings.Join([]string{
		"doorsill-rules\t1\tabc",
		"section\tone\tFirst things",
		"section\ttwo\t",
		"item\ttwo-help\thelp\t2\t1\t0\t-\t-\t0\t0\t0\t-\t-\tOn and off",
		"effect\tlimit:accompanied",
		"when\t1,0\t-\tno-carer-plan",
		"item\ttwo-gap\tnumber\t3\t0\t1\thigh\t12,10.5,0.1,-3\t1\t0\t0\t-\t1 in x\tGap",
		"effect\tstop",
		"when\t-\t5\t-",
		"when\t-\t-\town-fact",
		"item\ttwo-sides\tcount\t1\t0\t0\tlow\t0\t0\t10\t1\trescues\t-\tSides",
		"",
	}, "\n")
	if got := string(sample().Encode()); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestADamagedTextIsRefusedWithItsLine(t *testing.T) {
	text := string(sample().Encode())
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "line 0: expected doorsill-rules"},
		{"other version", strings.Replace(text, "\t1\tabc", "\t2\tabc", 1), "line 1: expected doorsill-rules"},
		{"cut off in a line", text[:len(text)-20], "line 11: expected a section, item, effect or when line"},
		{"no last newline", strings.TrimSuffix(text, "\n"), "line 11: expected the text as it was written"},
		{"unknown type", strings.Replace(text, "\thelp\t", "\tguess\t", 1), "line 4: expected one of help"},
		{"weight", strings.Replace(text, "\thelp\t2", "\thelp\t7", 1), "line 4: expected a whole number from 1 to 3"},
		{"flag", strings.Replace(text, "\thelp\t2\t1", "\thelp\t2\tyes", 1), "expected the text as it was written"},
		{"bound", strings.Replace(text, "10.5", "NaN", 1), "line 7: expected bounds that are numbers"},
		{"infinite bound", strings.Replace(text, "10.5", "+Inf", 1), "line 7: expected bounds that are numbers"},
		{"bound with an exponent", strings.Replace(text, "12,", "1.2e1,", 1), "expected the text as it was written"},
		{"whole number with a plus", strings.Replace(text, "\thelp\t2", "\thelp\t+2", 1), "expected the text as it was written"},
		{"other spelling of a bound", strings.Replace(text, "10.5", "10.50", 1), "expected the text as it was written"},
		{"band too high", strings.Replace(text, "when\t-\t5", "when\t-\t6", 1), "line 9: expected a whole number from 1 to 5"},
		{"effect", strings.Replace(text, "effect\tstop", "effect\thalt", 1), "line 8: expected one of stop"},
		{"item first", "doorsill-rules\t1\tabc\nitem\ta\thelp\t2\t1\t0\t-\t-\t0\t0\t0\t-\t-\tT\n", "line 2: expected a section"},
		{"effect first", "doorsill-rules\t1\tabc\neffect\tstop\n", "line 2: expected an item"},
		{"condition first", "doorsill-rules\t1\tabc\nwhen\t-\t-\t-\n", "line 2: expected an effect"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := rules.Parse([]byte(c.text))
			if !errors.Is(err, rules.ErrText) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}

func FuzzParse(f *testing.F) {
	f.Add(sample().Encode())
	f.Add([]byte("doorsill-rules\t1\t\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		set, err := rules.Parse(text)
		if err != nil {
			return
		}
		again, err := rules.Parse(set.Encode())
		if err != nil || !reflect.DeepEqual(again, set) {
			t.Fatalf("read %+v\nthen %+v, %v", set, again, err)
		}
	})
}

// The rules go into the browser, where these packages would double what has to
// be fetched.
func TestNothingHeavyIsImported(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, banned := range []string{`"fmt"`, `"encoding/json"`, `"reflect"`} {
			if strings.Contains(string(source), banned) {
				t.Errorf("%s imports %s", file, banned)
			}
		}
	}
	out, err := exec.Command("go", "list", "-deps", ".").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, dep := range strings.Fields(string(out)) {
		if dep == "fmt" || dep == "encoding/json" || dep == "reflect" {
			t.Errorf("the package depends on %s", dep)
		}
	}
}
