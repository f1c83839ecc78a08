package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
)

const checklists = "../../testdata/checklist/"

// check runs the subcommand as a person would and returns what it printed.
func check(args ...string) (string, error) {
	var out bytes.Buffer
	err := runCheck(context.Background(), args, console{in: strings.NewReader(""), out: &out, errOut: &bytes.Buffer{}})
	return out.String(), err
}

func TestCheckAcceptsAGoodFile(t *testing.T) {
	out, err := check(checklists + "good/kitchen.json")
	if err != nil {
		t.Fatal(err)
	}
	if want := "ok: checklist kitchen 1.0, sections: 1, items: 7, warnings: 2\nsha256 "; !strings.Contains(out, want) {
		t.Errorf("got\n%s", out)
	}
	if !strings.Contains(out, "warning: the levels above Practise rest on sections that are missing") {
		t.Errorf("no warning in\n%s", out)
	}
}

func TestCheckNamesLineFieldAndWhatWasExpected(t *testing.T) {
	file := checklists + "bad/several.json"
	out, err := check(file)
	if err == nil || !strings.Contains(err.Error(), "problems found: 5") {
		t.Errorf("got %v", err)
	}
	for _, want := range []string{
		file + ":24: sections[0].items[0].weight: expected 1, 2 or 3, got 0\n",
		file + ":111: sections[0].items[5].better: expected high or low, got “lower”\n",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

func TestCheckPrintsJSONWhereverTheFlagStands(t *testing.T) {
	file := checklists + "bad/weight.json"
	for _, args := range [][]string{{"--json", file}, {file, "--json"}} {
		out, err := check(args...)
		if err == nil {
			t.Errorf("%v: accepted", args)
		}
		var got checkReport
		if err := json.Unmarshal([]byte(out), &got); err != nil {
			t.Fatalf("%v: %v in\n%s", args, err, out)
		}
		if got.OK || len(got.Problems) != 1 || got.Problems[0].Line != 38 || got.Problems[0].Want != "1, 2 or 3" {
			t.Errorf("%v: got %+v", args, got)
		}
	}
}

func TestCheckPrintsAStandardFileThatPasses(t *testing.T) {
	out, err := check("--print", "standard")
	if err != nil {
		t.Fatal(err)
	}
	copied := filepath.Join(t.TempDir(), "ours.json")
	if err := os.WriteFile(copied, []byte(out), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err = check(copied)
	if err != nil || !strings.Contains(out, fmt.Sprintf("items: %d, warnings: 0", authoring.Standard().Count())) {
		t.Errorf("%v\n%s", err, out)
	}
	if out, err := check("--print", "schema"); err != nil || !json.Valid([]byte(out)) {
		t.Errorf("schema: %v\n%s", err, out)
	}
}

func TestCheckSaysWhatItExpectedOnTheCommandLine(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "expected one FILE, got 0"},
		{[]string{"a.json", "b.json"}, "expected one FILE, got 2"},
		{[]string{"--print", "everything"}, "expected standard or schema"},
		{[]string{filepath.Join(t.TempDir(), "none.json")}, "no such file"},
		{[]string{"--wrong"}, "flag provided but not defined"},
	} {
		if _, err := check(c.args...); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: got %v, want %q", c.args, err, c.want)
		}
	}
}
