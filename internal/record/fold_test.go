package record_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/record"
)

var update = flag.Bool("update", false, "write what the fold gives into testdata/fold")

const foldVectors = "../../testdata/fold"

// vector is one file of testdata/fold; every client runs the same files.
type vector struct {
	Name string `json:"name"`
	// Logs are the log of the positions and those before it, where that matters.
	Logs    *model.Logs       `json:"logs,omitempty"`
	Entries []json.RawMessage `json:"entries"`
	Client  json.RawMessage   `json:"client,omitempty"`
	Visit   json.RawMessage   `json:"visit,omitempty"`
	Control json.RawMessage   `json:"control,omitempty"`
}

// key names what the vector folds to.
func (v *vector) key() string {
	switch {
	case v.Client != nil:
		return "client"
	case v.Control != nil:
		return "control"
	}
	return "visit"
}

func (v *vector) logs() model.Logs {
	if v.Logs == nil {
		return model.Logs{}
	}
	return *v.Logs
}

func loadVector(t *testing.T, file string) (vector, []model.Entry) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(foldVectors, file))
	if err != nil {
		t.Fatal(err)
	}
	var v vector
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	entries := make([]model.Entry, len(v.Entries))
	for i, raw := range v.Entries {
		if err := json.Unmarshal(raw, &entries[i]); err != nil {
			t.Fatalf("%s: entry %d: %v", file, i, err)
		}
	}
	return v, entries
}

func TestFoldVectors(t *testing.T) {
	files, err := os.ReadDir(foldVectors)
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(file.Name(), ".json"), func(t *testing.T) {
			v, entries := loadVector(t, file.Name())
			got, want := foldVector(t, v, entries)
			if *update {
				writeVector(t, file.Name(), v, got)
				return
			}
			var compact bytes.Buffer
			if err := json.Compact(&compact, want); err != nil {
				t.Fatal(err)
			}
			if compact.String() != string(got) {
				t.Errorf("%s\n got %s\nwant %s", v.Name, got, compact.String())
			}
		})
	}
}

// A kind without a vector is one that another client may fold otherwise.
func TestEveryKindHasAFoldVector(t *testing.T) {
	files, err := os.ReadDir(foldVectors)
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{}
	for _, file := range files {
		_, entries := loadVector(t, file.Name())
		for _, entry := range entries {
			event, _ := record.Decode(entry.Raw) // vectors hold broken events too
			said[event.Kind] = true
		}
	}
	for _, kind := range model.Kinds() {
		if !said[kind.Name] {
			t.Errorf("no vector says what %s changes", kind.Name)
		}
	}
}

func foldVector(t *testing.T, v vector, entries []model.Entry) (got, want []byte) {
	t.Helper()
	var folded any
	var err error
	switch v.key() {
	case "client":
		want = v.Client
		folded, err = record.FoldClient(entries)
	case "control":
		want = v.Control
		folded, err = record.FoldControl(entries)
	default:
		want = v.Visit
		folded, err = record.FoldVisit(entries, v.logs())
	}
	if err != nil {
		t.Fatal(err)
	}
	return encode(t, folded), want
}

// encode writes JSON as the vectors have it: "<" stays "<".
func encode(t *testing.T, value any) []byte {
	t.Helper()
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(value); err != nil {
		t.Fatal(err)
	}
	return bytes.TrimSpace(out.Bytes())
}

func writeVector(t *testing.T, file string, v vector, got []byte) {
	t.Helper()
	var out bytes.Buffer
	out.WriteString("{\n  \"name\": " + string(encode(t, v.Name)) + ",\n")
	if v.Logs != nil {
		out.WriteString("  \"logs\": " + string(encode(t, v.Logs)) + ",\n")
	}
	out.WriteString("  \"entries\": [\n")
	for i, raw := range v.Entries {
		var line bytes.Buffer
		if err := json.Compact(&line, raw); err != nil {
			t.Fatal(err)
		}
		out.WriteString("    " + line.String())
		if i < len(v.Entries)-1 {
			out.WriteByte(',')
		}
		out.WriteByte('\n')
	}
	var state bytes.Buffer
	if err := json.Indent(&state, got, "  ", "  "); err != nil {
		t.Fatal(err)
	}
	out.WriteString("  ],\n  \"" + v.key() + "\": " + state.String() + "\n}\n")
	if err := os.WriteFile(filepath.Join(foldVectors, file), out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// standing says what stands for an item, as "level by whom".
func standing(v model.Visit, item string) []string {
	said := []string{}
	for _, answer := range v.Answers {
		if answer.Item != item {
			continue
		}
		for _, head := range answer.Heads {
			said = append(said, head.Level+" "+string(head.Ref))
		}
	}
	return said
}

// The vectors hold what the fold gives; this says by hand what it must give.
func TestWhatStands(t *testing.T) {
	tests := []struct {
		vector string
		want   string
	}{
		{"visit-started", ""},
		{"same-tablet-later", "3 tab-a:3"},
		{"two-tablets-apart", "3 tab-a:2, 1 tab-b:1"},
		{"seen", "1 tab-b:1"},
		{"three-tablets", "1 tab-b:1, 2 tab-c:1"},
		{"waiting", "1 tab-b:1, 2 tab-a:3"},
		{"order", "1 tab-a:4"},
		{"choice", "1 tab-b:1"},
		{"choice-late", "3 tab-a:2, 0 tab-c:1"},
		{"choice-empty", "1 tab-b:1"},
		{"taken-back", " tab-a:3"},
		{"signed", "3 tab-a:2"},
		{"amendment", "2 tab-b:1"},
		{"amendments-apart", "2 tab-b:1, 1 tab-c:1"},
		{"unknown", ""},
		{"replaces", "2 tab-b:1, 0 tab-c:2"},
		{"replaces-named-only", "0 tab-b:1, 2 tab-c:1"},
		{"replaces-before", "2 tab-b:1, 0 tab-a:2"},
		{"seen-in-copy", "0 tab-c:1, 2 tab-b:1"},
		{"seen-of-another-log", "0 tab-a:2, 2 tab-b:1"},
		{"seen-without-log", "0 tab-c:1, 2 tab-b:1"},
		{"seen-waiting", "0 tab-c:1, 2 tab-b:1"},
		{"choice-kept-gone", "0 tab-a:2, 4 tab-b:2"},
		{"choice-kept-gone-before", "4 tab-b:2"},
		{"amendment-replaces", "0 tab-c:1, 2 tab-b:1"},
	}
	for _, tt := range tests {
		t.Run(tt.vector, func(t *testing.T) {
			v, entries := loadVector(t, tt.vector+".json")
			visit, err := record.FoldVisit(entries, v.logs())
			if err != nil {
				t.Fatal(err)
			}
			if got := strings.Join(standing(visit, "pos-pelvis"), ", "); got != tt.want {
				t.Errorf("pos-pelvis: got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestReadingsAddUp(t *testing.T) {
	tests := []struct {
		vector   string
		readings string
		unknown  int
	}{
		{"readings", "tab-a:2 tab-b:1 tab-a:3", 0},
		{"late-reading", "tab-a:2 tab-b:1", 0},
		{"twice", "tab-a:2", 0},
		{"slips", "tab-a:2=leaned with the trunk tab-a:3 tab-a:7=wrong site", 0},
		{"signed", "", 0},
		{"unknown", "", 3},
	}
	for _, tt := range tests {
		t.Run(tt.vector, func(t *testing.T) {
			_, entries := loadVector(t, tt.vector+".json")
			visit, err := record.FoldVisit(entries, model.Logs{})
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, r := range visit.Readings {
				word := string(r.Ref)
				if r.Slip != "" {
					word += "=" + r.Slip
				}
				got = append(got, word)
			}
			if strings.Join(got, " ") != tt.readings || visit.Unknown != tt.unknown {
				t.Errorf("got %v and %d unknown, want %s and %d", got, visit.Unknown, tt.readings, tt.unknown)
			}
		})
	}
}

func TestFoldNamesABrokenEntry(t *testing.T) {
	_, err := record.FoldVisit([]model.Entry{{Pos: 7, Raw: []byte(`{"tablet":`)}}, model.Logs{})
	if err == nil || !strings.Contains(err.Error(), "position 7") {
		t.Errorf("got %v, want an error that names position 7", err)
	}
}
