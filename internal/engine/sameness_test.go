package engine_test

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/engine/enginetest"
)

// sameness holds what this engine's predecessor, which read and wrote lines of
// text, answered: digests of the results of a thousand random visits, and a few
// thousand of its smaller answers in full.
const sameness = "../../testdata/sameness"

var dump = flag.String("sameness.dump", "", "write the results of random visits that differ into this folder")

func TestRandomVisitsGetTheSameResults(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(sameness, "visits.txt"))
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Fields(string(data))
	if len(want) != 1000 {
		t.Fatalf("%d digests, want 1000", len(want))
	}
	list := authoring.Standard()
	scorer := engine.New(list)
	differ := 0
	for seed := range uint64(len(want)) {
		visit := randomVisit(seed)
		result, err := scorer.Score(&visit)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		text := enginetest.Result(&result, list)
		if digest(text) == want[seed] {
			continue
		}
		if differ++; differ < 10 {
			t.Errorf("the visit of seed %d gets another result", seed)
		}
		if *dump != "" {
			if err := os.WriteFile(filepath.Join(*dump, fmt.Sprintf("%04d.txt", seed)), text, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	if differ > 0 {
		t.Errorf("%d of %d results differ", differ, len(want))
	}
}

// digest is the first half of a SHA-256 that suffices to tell results apart.
func digest(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}

// answers are the calls by their names of before.
var answers = map[string]func(in string) string{
	"trend":      enginetest.Trend,
	"agreement":  enginetest.Agreement,
	"repeats":    enginetest.Repeats,
	"run":        enginetest.Run,
	"convert":    enginetest.Convert,
	"advice":     enginetest.Advice,
	"plan":       enginetest.Plan,
	"plausible":  enginetest.Plausible,
	"thresholds": func(string) string { return enginetest.Thresholds() },
}

func TestSmallerQuestionsGetTheSameAnswers(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(sameness, "calls.jsonl.gz"))
	if err != nil {
		t.Fatal(err)
	}
	unzipped, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	for dec := json.NewDecoder(unzipped); ; {
		var c struct{ Call, In, Out string }
		if err := dec.Decode(&c); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		count[c.Call]++
		if got := firstDifference(answers[c.Call](c.In), c.Out); got != "" {
			t.Errorf("%s %q: %s", c.Call, c.In, got)
		}
	}
	for call := range answers {
		if count[call] == 0 {
			t.Errorf("no recorded answer of %s", call)
		}
	}
}
