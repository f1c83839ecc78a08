package simulation

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	gosync "sync"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine/enginetest"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

var simSame = flag.Int("sim.same", usualRuns, "how many runs to compare with those of before, at most 10000")

const digestFile = "../../testdata/sameness/simulation.txt.gz"

// recordedSteps is how many steps the recorded runs have.
const recordedSteps = 45

// TestRunsEndTheSame plays runs that were played with the code before results had
// a canonical form. Every visit must end as it did then, and its result must say
// the same in the same words.
func TestRunsEndTheSame(t *testing.T) {
	want := digestsOfBefore(t)
	if *simSame > len(want) {
		t.Fatalf("%d runs are recorded, want %d", len(want), *simSame)
	}
	g, list := newGround(t), authoring.Standard()
	const lanes = 2
	var workers gosync.WaitGroup
	for lane := range lanes {
		workers.Go(func() {
			for i := lane; i < *simSame && (*update || !t.Failed()); i += lanes {
				seed := uint64(i) + 1
				w := newWorld(t, g, seed, noMutation)
				w.keysByHand = true
				w.run(script(seed, recordedSteps, 1))
				if err := w.judge(); err != nil {
					t.Errorf("seed %d: %v", seed, err)
				}
				if got := w.digest(list); got != want[i] {
					why := w.endsAnew()
					if why == "" || !*update {
						t.Errorf("seed %d ends otherwise than before (%s): %s, and was %s", seed, why, got, want[i])
					}
					want[i] = got
				}
				w.close()
			}
		})
	}
	workers.Wait()
	t.Logf("%d runs compared", *simSame)
	if *update && !t.Failed() {
		writeDigests(t, want)
	}
}

// endsAnew says why a run may end otherwise than it was recorded: somebody sent
// what the server does not know, which was stored unread then and is set aside now;
// or a bit of a push was flipped, which is refused now also where it made another
// field of a field's name. All others must end as they did.
func (w *world) endsAnew() (why string) {
	if w.net.bent > 0 {
		why = "bent"
	}
	w.server.view(func(r store.Reader) error {
		list, err := r.QuarantinedOf(store.QuarantineFilter{})
		if slices.ContainsFunc(list, func(q store.Quarantined) bool { return q.Code == validation.CodeUnknownSchema }) {
			why = "of an unknown kind"
		}
		return err
	})
	return why
}

func writeDigests(t *testing.T, digests []string) {
	t.Helper()
	var packed bytes.Buffer
	out := gzip.NewWriter(&packed)
	_, err := out.Write([]byte(strings.Join(digests, "\n") + "\n"))
	if err = errors.Join(err, out.Close(), os.WriteFile(digestFile, packed.Bytes(), 0o644)); err != nil {
		t.Fatal(err)
	}
}

// digestsOfBefore are the digests of runs with the seeds from 1, one a line.
func digestsOfBefore(t *testing.T) (digests []string) {
	t.Helper()
	file, err := os.Open(digestFile)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	unpacked, err := gzip.NewReader(file)
	if err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(unpacked)
	for lines.Scan() {
		digests = append(digests, lines.Text())
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return digests
}

// digest is what a run came to: every visit on the server as it was folded, and
// the stored result in words.
func (w *world) digest(list *checklist.Definition) string {
	h := sha256.New()
	v := w.serverState()
	w.server.view(func(r store.Reader) error {
		for _, id := range slices.Sorted(maps.Keys(v.subjects)) {
			if v.subjects[id].Kind != model.SubjectVisit {
				continue
			}
			entries, err := r.EntriesOfSubject(id)
			w.must(err)
			visit, err := record.FoldVisit(entries, v.logs)
			w.must(err)
			withoutReplaced(visit)
			stored, err := r.Result(id)
			w.must(err)
			var result model.Result
			w.must(json.Unmarshal(stored.Body, &result))
			fmt.Fprintf(h, "%s\n%s\n%s\n", id, sortedJSON(w, visit), enginetest.Result(&result, list))
		}
		return nil
	})
	return hex.EncodeToString(h.Sum(nil))[:16]
}

// withoutReplaced leaves out what answers did not name when the runs were recorded.
func withoutReplaced(visit model.Visit) {
	for _, answer := range visit.Answers {
		for i := range answer.Heads {
			answer.Heads[i].Replaces = nil
		}
	}
}

// sortedJSON writes a value with sorted keys, so that the order of a struct's
// fields does not count.
func sortedJSON(w *world, v any) []byte {
	data, err := json.Marshal(v)
	w.must(err)
	var plain any
	w.must(json.Unmarshal(data, &plain))
	data, err = json.Marshal(plain)
	w.must(err)
	return data
}
