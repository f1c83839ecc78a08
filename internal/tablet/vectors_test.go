package tablet_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
	"doorsill/internal/tablettest"
)

func readJSON(t testing.TB, path string, into any) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
}

// vector is a shared visit with the checklist that it is scored by.
type vector struct {
	Checklist *model.ChecklistQuestion // nil for the standard one
	Visit     model.Visit
}

func vectors(t testing.TB) []vector {
	t.Helper()
	paths, err := filepath.Glob("../../testdata/vectors/*.json")
	if err != nil || len(paths) < 14 {
		t.Fatalf("found %d vectors (%v), want at least 14", len(paths), err)
	}
	list := make([]vector, len(paths))
	for i, path := range paths {
		v := &list[i]
		readJSON(t, path, v)
		if v.Checklist == nil {
			standard := authoring.StandardVersion(v.Visit.Checklist.Hash)
			v.Checklist = &model.ChecklistQuestion{Hash: standard.Hash(), Definition: standard.Raw()}
		}
		if v.Checklist.Hash == "own" { // stands for a hash, which an event must name
			v.Checklist.Hash = strings.Repeat("0f", 32)
		}
		v.Visit.Checklist.Hash = v.Checklist.Hash
	}
	return list
}

func (v *vector) list(t testing.TB) *checklist.Definition {
	t.Helper()
	list, err := checklist.Read(v.Checklist.Definition, v.Checklist.Hash)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func (v *vector) open(t testing.TB) []byte {
	return marshal(t, model.OpenVisitQuestion{Visit: v.Visit.ID, Checklist: v.Checklist.Hash, Entries: tablettest.Entries(&v.Visit)})
}

// TestSharedVisitsAreScoredFromTheirEntries compares what the program answers with
// what the engine says of the visit as it stands in the vector.
func TestSharedVisitsAreScoredFromTheirEntries(t *testing.T) {
	p := loaded(t)
	for _, v := range vectors(t) {
		must(t, p, "load-checklist", marshal(t, v.Checklist))
		list := v.list(t)
		result, err := engine.New(list).Score(&v.Visit)
		if err != nil {
			t.Fatal(err)
		}
		canonical := result.AppendJSON(nil)
		result.EachMessage(phrase.NewWriter(phrase.English(), list).Fill)
		worded := result.AppendJSON(nil)
		if answer := must(t, p, "open-visit", v.open(t)); !bytes.Contains(answer, worded) {
			t.Errorf("%s: the answer does not hold the result\n%s\nbut\n%s", v.Visit.ID, worded, answer)
		}
		if got := must(t, p, "canonical", marshal(t, model.VisitQuestion{Visit: v.Visit.ID})); !bytes.Equal(got, canonical) {
			t.Errorf("%s: canonical form\n%s\nwant\n%s", v.Visit.ID, got, canonical)
		}
	}
}

func TestSharedFoldsAreAnswered(t *testing.T) {
	paths, err := filepath.Glob("../../testdata/fold/*.json")
	if err != nil || len(paths) < 15 {
		t.Fatalf("found %d vectors (%v), want at least 15", len(paths), err)
	}
	p := loaded(t)
	for _, path := range paths {
		var v struct {
			Logs                   model.Logs
			Entries                []model.Entry
			Client, Visit, Control json.RawMessage
		}
		readJSON(t, path, &v)
		question := marshal(t, model.EntriesQuestion{Entries: v.Entries})
		var got []byte
		want := v.Visit
		switch {
		case v.Client != nil:
			got, want = must(t, p, "fold-client", question), v.Client
		case v.Control != nil:
			got, want = must(t, p, "fold-control", question), v.Control
		default:
			state := struct{ Visit json.RawMessage }{}
			if err := json.Unmarshal(must(t, p, "open-visit", marshal(t, model.OpenVisitQuestion{Visit: "v1", Entries: v.Entries, Logs: v.Logs})), &state); err != nil {
				t.Fatal(err)
			}
			got = state.Visit
		}
		var compact bytes.Buffer
		if err := json.Compact(&compact, want); err != nil {
			t.Fatal(err)
		}
		if compact.String() != string(got) {
			t.Errorf("%s\n got %s\nwant %s", path, got, compact.String())
		}
	}
}

// BenchmarkAddEntries adds an answer to the ninety-item visit, again and again.
func BenchmarkAddEntries(b *testing.B) {
	p := loaded(b)
	var v struct{ Visit model.Visit }
	readJSON(b, "../../testdata/vectors/full-ninety.json", &v)
	entries := tablettest.Entries(&v.Visit)
	open := openQuestion(b, "v1", entries...)
	w := &writer{t: b, tablet: "tab-z", subject: "v1"}
	questions := make([][]byte, 200)
	for i := range questions {
		questions[i] = addQuestion(b, "v1", len(entries)+i, w.answer("pos-pelvis", "3"))
	}
	b.ReportAllocs()
	size := 0
	for i := 0; b.Loop(); i++ {
		if i%len(questions) == 0 {
			b.StopTimer()
			must(b, p, "open-visit", open)
			b.StartTimer()
		}
		size = len(p.Ask("add-entries", questions[i%len(questions)]))
	}
	b.ReportMetric(float64(size), "bytes/answer")
}

// BenchmarkOpenVisit opens the ninety-item visit.
func BenchmarkOpenVisit(b *testing.B) {
	p := loaded(b)
	var v struct{ Visit model.Visit }
	readJSON(b, "../../testdata/vectors/full-ninety.json", &v)
	open := openQuestion(b, "v1", tablettest.Entries(&v.Visit)...)
	b.ReportAllocs()
	for b.Loop() {
		p.Ask("open-visit", open)
	}
}
