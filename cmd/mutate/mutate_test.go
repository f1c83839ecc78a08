package main

import (
	"bytes"
	"slices"
	"strings"
	"testing"
)

// TestSurvivorsOfTheSample has the tests of a small package run for every
// change to it; where they have gaps stands in its comments.
func TestSurvivorsOfTheSample(t *testing.T) {
	t.Chdir("../..")
	const pkg = "./cmd/mutate/testdata/sample"
	r, err := target{name: "sample", pkg: pkg, tests: []string{pkg}}.against(t.Context(), "")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range r.survivors {
		got = append(got, m.name())
	}
	want := []string{
		"Ask: n > Most: > becomes >=",
		"Ask: Most +1",
		"Both: second always holds",
		`Kind: case "green" never matches`,
		"Untested: n > 1 never holds",
		"Untested: n > 1 always holds",
		"Untested: n > 1: > becomes >=",
		"Untested: 1 +1",
	}
	if !slices.Equal(got, want) {
		t.Errorf("survive:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if r.changes < 2*len(want) {
		t.Errorf("only %d changes", r.changes)
	}
}

// TestTestsThatAreLeftOutNoticeNothing, by the first words of their names.
func TestTestsThatAreLeftOutNoticeNothing(t *testing.T) {
	t.Chdir("../..")
	const pkg = "./cmd/mutate/testdata/sample"
	r, err := target{name: "sample", pkg: pkg, tests: []string{pkg}, without: []string{"TestCo", "TestB"}}.against(t.Context(), "o")
	if err != nil {
		t.Fatal(err)
	}
	unreached := map[string]int{}
	for _, m := range r.survivors {
		if m.unreached {
			unreached[m.fn]++
		}
	}
	if unreached["Count"] == 0 || unreached["Both"] == 0 || len(unreached) != 2 {
		t.Errorf("without the tests of Count and Both there is no case for changes of %v", unreached)
	}
}

func TestOnlyFilesOrFunctions(t *testing.T) {
	f := finder{fn: "line.at", file: &file{path: "/x/line.go"}}
	for only, want := range map[string]bool{"": true, "at": true, "line.": true, "bound": false, "line.go": true, "a.go,line.go": true, "e.go": false, "lines.go": false} {
		if f.only = only; f.asked() != want {
			t.Errorf("%q: asked %v, want %v", only, !want, want)
		}
	}
}

// TestWhatIsKnownIsNotNamedAgain: only what is not known counts, and what is
// known and survives no more is to be taken out.
func TestWhatIsKnownIsNotNamedAgain(t *testing.T) {
	r := result{target: target{name: "sample", pkg: "./sample"}, changes: 9,
		survivors: []mutant{{file: "/x/a.go", line: 7, fn: "Ask", what: "0 +1"}, {file: "/x/a.go", line: 8, fn: "Ask", what: "1 +1", unreached: true}},
		known:     map[string]string{"Ask: 0 +1": "it means nothing", "Gone: 0 +1": "it meant nothing"}}
	var out bytes.Buffer
	if unknown := r.print(&out, true); unknown != 1 {
		t.Errorf("%d unknown, want 1", unknown)
	}
	want := "./sample/a.go:8: Ask: 1 +1 (no test has a case for it)\n" +
		"known/sample.txt: survives no more, take it out: Gone: 0 +1\n" +
		"sample: 9 changes, 7 noticed, 2 survive (1 of them known, 0 have no case in any test); 0s\n"
	if out.String() != want {
		t.Errorf("got\n%swant\n%s", out.String(), want)
	}
	out.Reset()
	if r.print(&out, false); strings.Contains(out.String(), "Gone") {
		t.Errorf("a part of the package says nothing of the rest: %s", out.String())
	}
}

func TestKnownFilesHaveReasons(t *testing.T) {
	for _, one := range targets {
		if _, err := readKnown(one.name); err != nil {
			t.Error(err)
		}
	}
}

func TestEditsThatNest(t *testing.T) {
	edits := []edit{{0, 0, "f(", 1}, {5, 5, ")", -1}, {0, 0, "g(", 3}, {1, 1, ")", -3}, {2, 3, ",", 0}, {4, 4, "h(", 7}, {5, 5, ")", -7}}
	if got := string(apply([]byte("a + b"), edits)); got != "f(g(a) , h(b))" {
		t.Error(got)
	}
}

func TestChoose(t *testing.T) {
	if all, err := choose(nil); err != nil || len(all) != len(targets) {
		t.Errorf("%v, %v", all, err)
	}
	if one, err := choose([]string{"record"}); err != nil || len(one) != 1 || one[0].pkg != "./internal/record" {
		t.Errorf("%v, %v", one, err)
	}
	if _, err := choose([]string{"records"}); err == nil {
		t.Error("a name that is none is taken")
	}
}
