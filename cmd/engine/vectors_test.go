//go:build !wasip1

package main_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
	"doorsill/internal/tablet"
	"doorsill/internal/tablettest"
)

// TestSameBytesInTheBrowser compiles the program as the browser gets it, runs it in
// node and compares every answer byte by byte with that of the same program here:
// shared visits with their canonical form, shared folds, and a question of every
// other op. What the answers must be is tested in package tablet.
func TestSameBytesInTheBrowser(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Fatalf("node is needed to run the program as the browser does: %v", err)
	}
	dir := t.TempDir()
	wasm := filepath.Join(dir, "engine.wasm")
	run(t, "go", "-C", "../..", "run", "./cmd/bundle", "engine", wasm)
	cases := filepath.Join(dir, "cases.json")
	writeCases(t, cases)
	out := run(t, node, "--no-warnings", "testdata/vectors.mjs", wasm, cases)
	if !strings.HasSuffix(strings.TrimSpace(out), "same bytes") {
		t.Errorf("node says:\n%s", out)
	}
	t.Log(strings.TrimSpace(out))
}

// call is one question with the answer that the program gives here.
type call struct {
	Op       string `json:"op"`
	Question string `json:"question"`
	Want     string `json:"want,omitempty"`
}

// caller asks and remembers.
type caller struct {
	t       *testing.T
	program *tablet.Program
	calls   []call
}

func (c *caller) ask(op string, question any) {
	c.t.Helper()
	text, err := json.Marshal(question)
	if err != nil {
		c.t.Fatal(err)
	}
	c.askText(op, string(text))
}

func (c *caller) askText(op, question string) {
	c.calls = append(c.calls, call{op, question, string(c.program.Ask(op, []byte(question)))})
}

func writeCases(t *testing.T, path string) {
	t.Helper()
	c := &caller{t: t, program: tablet.New()}
	c.askText("open-visit", `{"visit":"v1","entries":[]}`) // no catalogue yet
	c.ask("load-catalogue", model.CatalogueQuestion{Language: "en", Text: phrase.EnglishText()})
	for _, version := range authoring.StandardVersions() {
		c.ask("load-checklist", model.ChecklistQuestion{Hash: version.Hash(), Definition: version.Raw()})
	}
	c.visits()
	c.folds()
	for _, q := range tablettest.Questions() {
		c.askText(q.Op, q.JSON)
	}
	for _, op := range []string{"guess", "plan", "add-entries"} {
		c.askText(op, `{"visit":7,"place":7`)
	}
	data, err := json.Marshal(map[string]any{"calls": c.calls, "timed": c.timed()})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// vector is what the files of testdata/vectors and testdata/fold hold of use here.
type vector struct {
	Checklist *struct {
		Hash       string
		Definition model.Raw
	}
	Visit   json.RawMessage
	Client  json.RawMessage
	Control json.RawMessage
	Logs    model.Logs
	Entries []model.Entry
}

// visit is the visit, which names the checklist that it is scored by.
func (v *vector) visit(t *testing.T) model.Visit {
	t.Helper()
	var visit model.Visit
	if err := json.Unmarshal(v.Visit, &visit); err != nil {
		t.Fatal(err)
	}
	if v.Checklist != nil {
		v.Checklist.Hash = strings.Repeat("0f", 32) // "own" stands for a hash, which an event must name
		visit.Checklist.Hash = v.Checklist.Hash
	}
	return visit
}

func (c *caller) visits() {
	for _, v := range vectors(c.t, 14, "vectors/*.json") {
		visit := v.visit(c.t)
		if v.Checklist != nil {
			c.ask("load-checklist", model.ChecklistQuestion{Hash: v.Checklist.Hash, Definition: v.Checklist.Definition})
		}
		entries := tablettest.Entries(&visit)
		half := len(entries) / 2
		c.ask("open-visit", model.OpenVisitQuestion{Visit: visit.ID, Checklist: visit.Checklist.Hash, Entries: entries[:half]})
		c.ask("add-entries", model.AddEntriesQuestion{Visit: visit.ID, After: half, Entries: entries[half:]})
		c.ask("canonical", model.VisitQuestion{Visit: visit.ID})
		c.ask("close-visit", model.VisitQuestion{Visit: visit.ID})
	}
}

func (c *caller) folds() {
	for _, v := range vectors(c.t, 15, "fold/*.json") {
		switch {
		case v.Client != nil:
			c.ask("fold-client", model.EntriesQuestion{Entries: v.Entries})
		case v.Control != nil:
			c.ask("fold-control", model.EntriesQuestion{Entries: v.Entries})
		default:
			c.ask("open-visit", model.OpenVisitQuestion{Visit: "v1", Checklist: authoring.Standard().Hash(), Entries: v.Entries, Logs: v.Logs})
		}
	}
}

// timed are the questions that node times: a full visit is opened, then takes one
// answer after another.
func (c *caller) timed() []call {
	v := vectors(c.t, 1, "vectors/full-ninety.json")[0]
	visit := v.visit(c.t)
	entries := tablettest.Entries(&visit)
	before := len(c.calls)
	c.ask("open-visit", model.OpenVisitQuestion{Visit: visit.ID, Checklist: visit.Checklist.Hash, Entries: entries})
	for i := range 50 {
		one := entries[1+i]
		one.Pos = entries[len(entries)-1].Pos + int64(i) + 1
		var event model.Event
		if err := json.Unmarshal(one.Raw, &event); err != nil {
			c.t.Fatal(err)
		}
		event.Tablet, event.N = "tab-timed", int64(i)+1
		raw, err := json.Marshal(event)
		if err != nil {
			c.t.Fatal(err)
		}
		one.Raw = raw
		c.ask("add-entries", model.AddEntriesQuestion{Visit: visit.ID, After: len(entries) + i, Entries: []model.Entry{one}})
	}
	timed := c.calls[before:]
	c.calls = c.calls[:before]
	return timed
}

// vectors reads shared vectors; fewer than least would hold by accident.
func vectors(t *testing.T, least int, pattern string) []vector {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("../../testdata", pattern))
	if err != nil || len(paths) < least {
		t.Fatalf("found %d vectors %s (%v), want at least %d", len(paths), pattern, err, least)
	}
	list := make([]vector, len(paths))
	for i, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(data, &list[i]); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
	}
	return list
}

func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return string(out)
}
