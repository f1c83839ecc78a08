package intake_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
	"doorsill/internal/verify"
)

// storedBefore is the store of testdata/records, written by an earlier version,
// as a file of its own.
func storedBefore(t *testing.T) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "records.db")
	if err := os.WriteFile(path, storetest.Unpacked(t, "../../testdata/records/doorsill-result-1.db.gz"), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// before opens the store of an earlier version with the present one.
func before(t *testing.T) *service {
	t.Helper()
	db, err := bolt.Open(storedBefore(t), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	h := &service{TB: t, store: db}
	h.intake = intake.New(db, authoring.StandardVersions(), h.now)
	t.Cleanup(func() {
		h.intake.Close()
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	return h
}

func (h *service) renew() {
	h.Helper()
	if err := h.intake.Renew(context.Background()); err != nil {
		h.Fatal(err)
	}
}

func (h *service) result(visit string) (result store.Result) {
	h.Helper()
	h.view(func(r store.Reader) (err error) { result, err = r.Result(visit); return err })
	return result
}

func (h *service) verify() verify.Report {
	h.Helper()
	report, err := verify.Store(context.Background(), h.store, authoring.StandardVersions())
	if err != nil {
		h.Fatal(err)
	}
	if !report.Clean() {
		h.Errorf("verify found %+v", report.Faults)
	}
	return report
}

var visitsBefore = []string{"v1", "v2", "v3", "v4", "v5", "v6"}

// shown is what the caseload shows of each client and visit.
func (h *service) shown() string {
	h.Helper()
	var all strings.Builder
	for _, client := range []string{"c1", "c2", "c3", "c4"} {
		all.WriteString(asText(h.TB, h.summary(client)))
	}
	for _, visit := range visitsBefore {
		all.WriteString(asText(h.TB, h.result(visit).Brief))
	}
	return all.String()
}

func asText(t testing.TB, value any) string {
	t.Helper()
	data, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	return string(data) + "\n"
}

// TestWhatWasSignedBeforeStaysVerifiable: the result that a signature names is
// kept, byte for byte, beside the one that is computed now; of what the caseload
// shows only the visit without answers changes, which is no pause any more.
func TestWhatWasSignedBeforeStaysVerifiable(t *testing.T) {
	h := before(t)
	if report := h.verify(); report.OtherFormat != 6 || report.Signatures != (verify.Signatures{Evidence: 3, Other: 1, Unknown: 1}) {
		t.Errorf("before it is renewed: %+v", report)
	}
	shown := h.shown()
	if !strings.Contains(shown, `"level":"practise"`) || !strings.Contains(shown, `"reserve_on":"2026-06-26"`) {
		t.Fatalf("the store is not the one that was made for this:\n%s", shown)
	}
	old := map[string]store.Result{}
	for _, visit := range visitsBefore {
		old[visit] = h.result(visit)
	}
	h.renew()
	shown = strings.ReplaceAll(shown, `"level":"pause","effective":"pause"`, `"level":"none","effective":"none"`)
	if got := h.shown(); got != shown {
		t.Errorf("the caseload shows\n%s\nand showed\n%s", got, shown)
	}
	for _, visit := range visitsBefore {
		was, is := old[visit], h.result(visit)
		if was.Format != model.FirstResultFormat || !bytes.HasPrefix(was.Body, []byte("doorsill-result\t1\t")) {
			t.Fatalf("%s: the store is not the one that was made for this: %s", visit, was.Format)
		}
		if is.Format != model.ResultFormat || !bytes.HasPrefix(is.Body, []byte(`{"format":"doorsill-result/2",`)) || is.Pos != was.Pos {
			t.Errorf("%s was not renewed: %s at %d", visit, is.Format, is.Pos)
		}
		if e := is.Evidence; e == nil || e.Format != was.Format || e.Engine != was.Engine || e.SHA256 != was.SHA256 || !bytes.Equal(e.Body, was.Body) {
			t.Errorf("%s: what was stored before is not kept as it was", visit)
		}
	}
	report := h.verify()
	if report.OtherFormat != 0 || report.OtherEngine != 0 || report.Signatures != (verify.Signatures{Evidence: 3, Other: 1, Unknown: 1}) {
		t.Errorf("after it was renewed: %+v", report)
	}
}

// TestRenewingTwiceChangesNothing, nor does it read results once all are renewed.
func TestRenewingTwiceChangesNothing(t *testing.T) {
	h := before(t)
	h.renew()
	want := asText(t, h.result("v1"))
	h.minutes.Add(10)
	h.renew()
	if got := asText(t, h.result("v1")); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	// Once it is noted that all are renewed, none is looked at again.
	old := store.Result{Visit: "v1", Format: model.FirstResultFormat, Body: []byte("doorsill-result\t1\n")}
	h.update(func(w store.Writer) error {
		if got, err := w.ResultFormat(); err != nil || got != model.ResultFormat {
			t.Errorf("results are said to be of %q (%v)", got, err)
		}
		return w.SetResult(old)
	})
	h.renew()
	if got := h.result("v1"); got.Format != old.Format {
		t.Errorf("results were read again: v1 is of %q", got.Format)
	}
}

// TestRenewingGoesOnAfterItWasStopped: some visits are renewed, the server ends.
func TestRenewingGoesOnAfterItWasStopped(t *testing.T) {
	h := before(t)
	stopped, stop := context.WithCancel(context.Background())
	h.intake.OnCommit(func([]store.Summary) { stop() })
	if err := h.intake.Renew(stopped); !errors.Is(err, context.Canceled) {
		t.Fatalf("it was not stopped: %v", err)
	}
	h.view(func(r store.Reader) error {
		if got, err := r.ResultFormat(); err != nil || got != "" {
			t.Errorf("results are said to be of %q (%v)", got, err)
		}
		return nil
	})
	h.verify()
	h.renew()
	if report := h.verify(); report.OtherFormat != 0 || report.Signatures.Evidence != 3 {
		t.Errorf("after it went on: %+v", report)
	}
}

// TestAResultStandsWhenItCannotBeComputedAnew: the level of a visit that the
// engine cannot score any more does not vanish from the caseload.
func TestAResultStandsWhenItCannotBeComputedAnew(t *testing.T) {
	h := before(t)
	h.intake.Stumble()
	shown, was := h.shown(), asText(t, h.result("v1"))
	h.renew()
	if got := h.shown(); got != shown {
		t.Errorf("the caseload shows\n%s\nand showed\n%s", got, shown)
	}
	if got := asText(t, h.result("v1")); got != was {
		t.Errorf("the result is %s and was %s", got, was)
	}
}

// TestRenewingSaysThatTheDiskIsFull and leaves what is there.
func TestRenewingSaysThatTheDiskIsFull(t *testing.T) {
	h := before(t)
	shown := h.shown()
	full := intake.New(fullStore{h.store}, authoring.StandardVersions(), h.now)
	defer full.Close()
	if err := full.Renew(context.Background()); !errors.Is(err, store.ErrFull) {
		t.Errorf("got %v, want %v", err, store.ErrFull)
	}
	if got := h.shown(); got != shown {
		t.Errorf("the caseload shows\n%s\nand showed\n%s", got, shown)
	}
}

// fullStore has no space.
type fullStore struct{ store.Store }

func (fullStore) Update(context.Context, func(store.Writer) error) error { return store.ErrFull }

// TestAVisitThatCannotBeReadHoldsUpNoOther: all others are renewed, nothing of
// what stands in it is told, and the next start tries again.
func TestAVisitThatCannotBeReadHoldsUpNoOther(t *testing.T) {
	h := before(t)
	in := intake.New(tornStore{h.store}, authoring.StandardVersions(), h.now)
	defer in.Close()
	err := in.Renew(context.Background())
	if err == nil || err.Error() != "renew results: 1 of 6 visits cannot be read; verify says which" {
		t.Errorf("got %v", err)
	}
	for _, visit := range visitsBefore {
		if got, renewed := h.result(visit).Format, visit != "v2"; (got == model.ResultFormat) != renewed {
			t.Errorf("%s is of %q", visit, got)
		}
	}
	h.renew()
	if got := h.result("v2").Format; got != model.ResultFormat {
		t.Errorf("v2 is still of %q", got)
	}
}

// tornStore cannot read the entries of v2 while it is written to.
type tornStore struct{ store.Store }

func (s tornStore) Update(ctx context.Context, fn func(store.Writer) error) error {
	return s.Store.Update(ctx, func(w store.Writer) error { return fn(tornWriter{w}) })
}

type tornWriter struct{ store.Writer }

func (w tornWriter) EntriesOfSubject(subject string) ([]model.Entry, error) {
	if subject == "v2" {
		return nil, errors.New("what somebody entered")
	}
	return w.Writer.EntriesOfSubject(subject)
}
