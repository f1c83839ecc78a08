package intake_test

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
)

// errDisk is what a faulty store returns.
var errDisk = errors.New("the disk does not answer")

// faulty is a store of which one call fails, counted from when it was armed.
type faulty struct {
	store.Store
	calls, failing int
}

// arm has the nth call from now on fail, and none when n is 0.
func (f *faulty) arm(n int) { f.calls, f.failing = 0, n }

// hit says whether the armed call was reached.
func (f *faulty) hit() bool { return f.failing > 0 && f.calls >= f.failing }

func (f *faulty) fault() error {
	if f.calls++; f.calls == f.failing {
		return errDisk
	}
	return nil
}

func (f *faulty) View(ctx context.Context, fn func(store.Reader) error) error {
	return f.Store.View(ctx, func(r store.Reader) error { return fn(faultyReader{r, f}) })
}

func (f *faulty) Update(ctx context.Context, fn func(store.Writer) error) error {
	return f.Store.Update(ctx, func(w store.Writer) error { return fn(faultyWriter{w, faultyReader{w, f}}) })
}

// faultyReader fails in what intake reads.
type faultyReader struct {
	store.Reader
	*faulty
}

// either returns the fault, or what the store says.
func either[T any](f *faulty, read func() (T, error)) (T, error) {
	if err := f.fault(); err != nil {
		var none T
		return none, err
	}
	return read()
}

func (r faultyReader) Placed(tablet string, n int64) (store.Placed, error) {
	return either(r.faulty, func() (store.Placed, error) { return r.Reader.Placed(tablet, n) })
}

func (r faultyReader) EntriesOfSubject(id string) ([]model.Entry, error) {
	return either(r.faulty, func() ([]model.Entry, error) { return r.Reader.EntriesOfSubject(id) })
}

func (r faultyReader) Subject(id string) (store.Subject, error) {
	return either(r.faulty, func() (store.Subject, error) { return r.Reader.Subject(id) })
}

func (r faultyReader) VisitsOfClient(id string) ([]string, error) {
	return either(r.faulty, func() ([]string, error) { return r.Reader.VisitsOfClient(id) })
}

func (r faultyReader) Team(id string) (store.Team, error) {
	return either(r.faulty, func() (store.Team, error) { return r.Reader.Team(id) })
}

func (r faultyReader) Tablet(id string) (store.Tablet, error) {
	return either(r.faulty, func() (store.Tablet, error) { return r.Reader.Tablet(id) })
}

func (r faultyReader) Result(id string) (store.Result, error) {
	return either(r.faulty, func() (store.Result, error) { return r.Reader.Result(id) })
}

func (r faultyReader) Quarantined(id int64) (store.Quarantined, error) {
	return either(r.faulty, func() (store.Quarantined, error) { return r.Reader.Quarantined(id) })
}

func (r faultyReader) QuarantinedOf(f store.QuarantineFilter) ([]store.Quarantined, error) {
	return either(r.faulty, func() ([]store.Quarantined, error) { return r.Reader.QuarantinedOf(f) })
}

func (r faultyReader) QuarantinedAs(tablet string, n int64, raw []byte) (store.Quarantined, error) {
	return either(r.faulty, func() (store.Quarantined, error) { return r.Reader.QuarantinedAs(tablet, n, raw) })
}

func (r faultyReader) QuarantineOpen(by store.QuarantineList, name string) (store.QuarantineCount, error) {
	return either(r.faulty, func() (store.QuarantineCount, error) { return r.Reader.QuarantineOpen(by, name) })
}

func (r faultyReader) QuarantineTeam(tablet, subject string) (string, error) {
	return either(r.faulty, func() (string, error) { return r.Reader.QuarantineTeam(tablet, subject) })
}

func (r faultyReader) MembershipsOfTeam(id string) ([]store.Membership, error) {
	return either(r.faulty, func() ([]store.Membership, error) { return r.Reader.MembershipsOfTeam(id) })
}

// faultyWriter fails in what intake writes too.
type faultyWriter struct {
	store.Writer
	reads faultyReader
}

func (w faultyWriter) Placed(tablet string, n int64) (store.Placed, error) {
	return w.reads.Placed(tablet, n)
}
func (w faultyWriter) EntriesOfSubject(id string) ([]model.Entry, error) {
	return w.reads.EntriesOfSubject(id)
}
func (w faultyWriter) Subject(id string) (store.Subject, error)   { return w.reads.Subject(id) }
func (w faultyWriter) VisitsOfClient(id string) ([]string, error) { return w.reads.VisitsOfClient(id) }
func (w faultyWriter) Team(id string) (store.Team, error)         { return w.reads.Team(id) }
func (w faultyWriter) Tablet(id string) (store.Tablet, error)     { return w.reads.Tablet(id) }
func (w faultyWriter) Result(id string) (store.Result, error)     { return w.reads.Result(id) }
func (w faultyWriter) Quarantined(id int64) (store.Quarantined, error) {
	return w.reads.Quarantined(id)
}
func (w faultyWriter) MembershipsOfTeam(id string) ([]store.Membership, error) {
	return w.reads.MembershipsOfTeam(id)
}
func (w faultyWriter) QuarantinedAs(tablet string, n int64, raw []byte) (store.Quarantined, error) {
	return w.reads.QuarantinedAs(tablet, n, raw)
}
func (w faultyWriter) QuarantineOpen(by store.QuarantineList, name string) (store.QuarantineCount, error) {
	return w.reads.QuarantineOpen(by, name)
}
func (w faultyWriter) QuarantineTeam(tablet, subject string) (string, error) {
	return w.reads.QuarantineTeam(tablet, subject)
}
func (w faultyWriter) QuarantinedOf(f store.QuarantineFilter) ([]store.Quarantined, error) {
	return w.reads.QuarantinedOf(f)
}

func (w faultyWriter) Append(b store.Batch) (int64, error) {
	return either(w.reads.faulty, func() (int64, error) { return w.Writer.Append(b) })
}

func (w faultyWriter) Quarantine(q store.Quarantined) (int64, error) {
	return either(w.reads.faulty, func() (int64, error) { return w.Writer.Quarantine(q) })
}

func (w faultyWriter) AddSubject(s store.Subject) error {
	return errors.Join(w.reads.fault(), w.Writer.AddSubject(s))
}
func (w faultyWriter) SetTablet(t store.Tablet) error {
	return errors.Join(w.reads.fault(), w.Writer.SetTablet(t))
}
func (w faultyWriter) SetResult(r store.Result) error {
	return errors.Join(w.reads.fault(), w.Writer.SetResult(r))
}
func (w faultyWriter) SetSummary(s store.Summary) error {
	return errors.Join(w.reads.fault(), w.Writer.SetSummary(s))
}
func (w faultyWriter) Settle(id int64, s store.Settlement) error {
	return errors.Join(w.reads.fault(), w.Writer.Settle(id, s))
}

// newFaulty is a service on a faulty store that is not armed yet.
func newFaulty(t *testing.T) (*service, *faulty) {
	t.Helper()
	h := newService(t)
	db, err := bolt.Open(filepath.Join(t.TempDir(), "faulty.db"), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	storetest.Watch(t, db)
	f := &faulty{Store: db}
	h.restart(f)
	t.Cleanup(func() { h.intake.Close() })
	h.store = db
	h.update(func(w store.Writer) error {
		return errors.Join(w.SetTeam(store.Team{ID: "north", Name: "North"}),
			w.SetMembership(store.Membership{Person: "lena", Team: "north", Role: model.RoleLead}),
			w.SetMembership(store.Membership{Person: "davit", Team: "north", Role: model.RoleClinician}))
	})
	return h, f
}

// restart has an intake that remembers nothing, on a store.
func (h *service) restart(on store.Store) {
	h.intake.Close()
	h.intake = intake.New(on, append(authoring.StandardVersions(), h.older), h.now)
}

// whole is all that a push can have changed, as text.
func (h *service) whole() string {
	h.Helper()
	text := ""
	h.view(func(r store.Reader) error {
		entries, err := r.Entries(0, 1000)
		tablets, err2 := r.Tablets()
		kept, err3 := r.QuarantinedOf(store.QuarantineFilter{})
		text = fmt.Sprintf("%d entries, tablets %+v, %d set aside", len(entries), tablets, len(kept))
		for i := range kept {
			text += fmt.Sprintf(" %v", kept[i].Settled)
		}
		for line, err := range r.Summaries("") {
			if err != nil {
				return err
			}
			result, _ := r.Result(line.Visit)
			text += fmt.Sprintf("\n%+v\n%s", line, result.SHA256)
		}
		return errors.Join(err, err2, err3)
	})
	return text
}

// TestAFaultOfTheStoreTakesNothingIn has each call of the store fail once in
// each thing that a tablet and a lead can do: they are told of a fault, nothing
// of it is in the store, and once the disk answers it can be done again. An
// intake that was just started has to read more.
func TestAFaultOfTheStoreTakesNothingIn(t *testing.T) {
	t.Run("going on", func(t *testing.T) { failEachCall(t, false) })
	t.Run("just started", func(t *testing.T) { failEachCall(t, true) })
}

func failEachCall(t *testing.T, justStarted bool) {
	h, f := newFaulty(t)
	ctx := context.Background()
	lena, davit, spare := h.tablet("tab-l", "lena"), h.tablet("tab-d", "davit"), h.tablet("tab-e", "davit")
	push := func(on *tablet, from int) func() error {
		return func() error {
			_, err := h.intake.Push(ctx, caller(on.person), pushOf("", on.id, int64(from), on.lines[from-1:]))
			return err
		}
	}
	steps := []struct {
		name string
		do   func() error
	}{
		{"a client, a visit, a control, and entries that can not stand", push(lena, 1)},
		{"nothing new", push(lena, 1)},
		{"a second rating", push(davit, 1)},
		{"an answer in it", push(spare, 1)},
		{"an assignment", func() error { _, err := h.intake.Assign(ctx, caller("lena"), "c1", 0, "davit", "active"); return err }},
		{"a second assignment", func() error { _, err := h.intake.Assign(ctx, caller("lena"), "c1", 1, "", "hold"); return err }},
		{"a settlement", func() error { _, err := h.intake.Settle(ctx, caller("lena"), 1, "asked on the phone"); return err }},
		{"a settlement of what has no client", func() error { _, err := h.intake.Settle(ctx, caller("lena"), 2, "asked"); return err }},
	}
	lena.openClient("c1", "north")
	lena.startVisit("v1", "c1", "north")
	lena.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	lena.write(model.KindAnswerGiven, "v1", level("pos-nose", "2"))
	lena.write(model.KindAnswerGiven, "v9", level("pos-pelvis", "2"))
	lena.write(model.KindControlListed, "k1", listed("north"))
	lena.write(model.KindAnswerGiven, "v1", level("pos-trunk", "2"))
	lena.write(model.KindVisitSigned, "v1", signature())
	lena.write(model.KindAmendmentMade, "v1", model.AmendmentMade{Reason: "late", Kind: model.KindPlanAgreed, Change: mustJSON(model.PlanAgreed{Note: "soon"})})
	second := started(authoring.Standard(), "c1", "north")
	second.SecondOf = "v1"
	davit.write(model.KindVisitStarted, "v2", second)
	spare.write(model.KindAnswerGiven, "v2", level("pos-pelvis", "2"))
	faults := 0
	for _, step := range steps {
		before := h.whole()
		for n := 1; ; n++ {
			if justStarted {
				h.restart(f)
			}
			f.arm(n)
			err := step.do()
			if !f.hit() {
				if err != nil {
					t.Fatalf("%s: %v without a fault", step.name, err)
				}
				break
			}
			faults++
			if !errors.Is(err, errDisk) {
				t.Errorf("%s: call %d of the store fails, and %v is said", step.name, n, err)
			}
			if after := h.whole(); after != before {
				t.Fatalf("%s: call %d of the store fails, and it became\n%s\nwas\n%s", step.name, n, after, before)
			}
		}
	}
	if faults < 60 {
		t.Errorf("only %d faults: hardly any call was tried", faults)
	}
}

// TestAFaultAmongRepeatedEntries: looking up what came before fails, for an
// entry that is the same, one that was set aside and one that is another.
func TestAFaultAmongRepeatedEntries(t *testing.T) {
	h, f := newFaulty(t)
	lena := h.tablet("tab-l", "lena")
	lena.openClient("c1", "north")
	lena.lines = append(lena.lines, []byte("{"))
	lena.send()
	again := [][]byte{lena.lines[0], []byte("["), []byte("{}")} // known, forked, new
	for n := 1; ; n++ {
		before := h.whole()
		f.arm(n)
		_, err := h.intake.Push(context.Background(), caller("lena"), pushOf("", "tab-l", 1, again))
		if !f.hit() {
			if err != nil || n < 5 {
				t.Fatalf("%v after %d faults", err, n-1)
			}
			break
		}
		if !errors.Is(err, errDisk) || h.whole() != before {
			t.Errorf("call %d fails: %v", n, err)
		}
	}
}
