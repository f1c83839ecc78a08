package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// TestSurvivorsOfTheSample has the tests of a small package run for every
// change to it; where they have gaps stands in its comments.
func TestSurvivorsOfTheSample(t *testing.T) {
	t.Chdir("../..")
	const pkg = "./cmd/mutate/testdata/sample"
	r, err := target{name: "sample", pkg: pkg, tests: []string{pkg}}.against(t.Context(), selection{})
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
	r, err := target{name: "sample", pkg: pkg, tests: []string{pkg}, without: []string{"TestCo", "TestB"}}.against(t.Context(), selection{only: "o"})
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

// TestWhatWasPrintedIsTriedAgain: of a run's lines each that names a change is that
// change, and no other is tried.
func TestWhatWasPrintedIsTriedAgain(t *testing.T) {
	t.Chdir("../..")
	const pkg = "./cmd/mutate/testdata/sample"
	r := result{target: target{pkg: pkg}, survivors: []mutant{{file: "sample.go", line: 7, fn: "Ask", what: "Most +1"},
		{file: "sample.go", line: 9, fn: "Untested", what: "n > 1: > becomes >=", unreached: true}, {file: "sample.go", line: 9, fn: "Gone", what: "0 +1"}}}
	var printed bytes.Buffer
	r.print(&printed, false)
	path := filepath.Join(t.TempDir(), "survivors")
	if err := os.WriteFile(path, printed.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	named, err := namesIn(path)
	if err != nil {
		t.Fatal(err)
	}
	again, err := target{name: "sample", pkg: pkg, tests: []string{pkg}}.against(t.Context(), selection{named: named})
	if err != nil {
		t.Fatal(err)
	}
	if again.changes != 2 || len(again.survivors) != 2 || again.unreached != 1 {
		t.Errorf("%d changes tried, %d survive, %d without a case: want 2, 2 and 1 of\n%s", again.changes, len(again.survivors), again.unreached, printed.String())
	}
	if _, err := namesIn(path + "-gone"); err == nil {
		t.Error("a file that is not there names changes")
	}
}

// TestALimitOfTheProcessor: a change that does not come to an end is stopped after
// ten times what the tests took of the processor and a second, long before the
// clock says so.
func TestALimitOfTheProcessor(t *testing.T) {
	t.Chdir("../..")
	const pkg = "./cmd/mutate/testdata/sample"
	source, err := load(pkg)
	if err != nil {
		t.Fatal(err)
	}
	f := find(source, "Count")
	suites, err := target{tests: []string{pkg}}.suites(t.Context(), f, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	endless := slices.IndexFunc(f.mutants, func(m mutant) bool { return m.what == "total += 2 is left out" })
	failed, processor, err := suites[0].run(t.Context(), suites[0].tests, limit{time.Minute, 100 * time.Millisecond}, fmt.Sprintf("MUTANT=%d", endless))
	if err != nil || !failed || processor > 20*time.Second {
		t.Errorf("change %d: failed %v after %v of the processor (%v)", endless, failed, processor, err)
	}
	b := batch{tests: []*test{{processor: 30 * time.Millisecond}, {processor: 20 * time.Millisecond}}, takes: time.Second}
	if got := b.limit(); got != (limit{40 * time.Second, 1500 * time.Millisecond}) {
		t.Errorf("%+v", got)
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
	all, err := choose(nil)
	if err != nil || !slices.ContainsFunc(all, func(t target) bool { return t.name == "record" }) || slices.ContainsFunc(all, func(t target) bool { return t.begun }) {
		t.Errorf("%v, %v", all, err)
	}
	for _, one := range targets {
		if named, err := choose([]string{one.name}); err != nil || len(named) != 1 || named[0].name != one.name {
			t.Errorf("%s: %v, %v", one.name, named, err)
		}
	}
	if one, err := choose([]string{"record"}); err != nil || len(one) != 1 || one[0].pkg != "./internal/record" {
		t.Errorf("%v, %v", one, err)
	}
	if _, err := choose([]string{"records"}); err == nil {
		t.Error("a name that is none is taken")
	}
}
