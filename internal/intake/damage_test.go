package intake_test

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
	"doorsill/internal/validation"
)

// hurt is a store in which one kind of record is damaged.
type hurt struct {
	store.Store
	what string
}

func (s *hurt) Update(ctx context.Context, fn func(store.Writer) error) error {
	return s.Store.Update(ctx, func(w store.Writer) error { return fn(hurtWriter{w, s.what}) })
}

type hurtWriter struct {
	store.Writer
	what string
}

// unless returns what the store says, unless it is about what is damaged.
func unless[T any](w hurtWriter, what string, read func() (T, error)) (T, error) {
	if w.what == what {
		var none T
		return none, fmt.Errorf("read %s: %w", what, store.ErrDamaged)
	}
	return read()
}

func (w hurtWriter) Head() (int64, error) { return unless(w, "the head", w.Writer.Head) }

func (w hurtWriter) LogID() (string, error) { return unless(w, "the name of the log", w.Writer.LogID) }

func (w hurtWriter) EntriesOfSubject(id string) ([]model.Entry, error) {
	return unless(w, "what was said of "+id, func() ([]model.Entry, error) { return w.Writer.EntriesOfSubject(id) })
}

func (w hurtWriter) VisitsOfClient(id string) ([]string, error) {
	return unless(w, "the list of visits", func() ([]string, error) { return w.Writer.VisitsOfClient(id) })
}

func (w hurtWriter) Result(id string) (store.Result, error) {
	return unless(w, "the result", func() (store.Result, error) { return w.Writer.Result(id) })
}

func (w hurtWriter) Summary(id string) (store.Summary, error) {
	return unless(w, "the line", func() (store.Summary, error) { return w.Writer.Summary(id) })
}

func (w hurtWriter) Placed(tablet string, n int64) (store.Placed, error) {
	return unless(w, "what is replaced", func() (store.Placed, error) { return w.Writer.Placed(tablet, n) })
}

func (w hurtWriter) QuarantineOpen(by store.QuarantineList, name string) (store.QuarantineCount, error) {
	return unless(w, "the count", func() (store.QuarantineCount, error) { return w.Writer.QuarantineOpen(by, name) })
}

func (w hurtWriter) SetResult(r store.Result) error {
	_, err := unless(w, "the result's key", func() (bool, error) { return true, w.Writer.SetResult(r) })
	return err
}

func (w hurtWriter) SetSummary(s store.Summary) error {
	_, err := unless(w, "the line's key", func() (bool, error) { return true, w.Writer.SetSummary(s) })
	return err
}

// TestDamageToWhatFollowsKeepsNothingOut: what a tablet sends is stored though
// something that is made of it can not be, which is marked and made right by the
// next entry once it can.
func TestDamageToWhatFollowsKeepsNothingOut(t *testing.T) {
	for _, tt := range []struct {
		what    string
		damaged bool // the line says so
		line    bool // and it is on the disk
	}{
		{"nothing", false, true},
		{"what was said of c1", true, true},
		{"the list of visits", true, true},
		{"the line's key", true, false},
		{"the result", false, true},
		{"the result's key", false, true},
	} {
		h := newService(t)
		db, err := bolt.Open(filepath.Join(t.TempDir(), "hurt.db"), bolt.Options{NoSync: true})
		if err != nil {
			t.Fatal(err)
		}
		storetest.Watch(t, db)
		on := &hurt{Store: db}
		h.restart(on)
		t.Cleanup(h.intake.Close)
		h.store = db
		h.update(func(w store.Writer) error { return w.SetTeam(store.Team{ID: "north"}) })
		var told []store.Summary
		h.intake.OnCommit(func(lines []store.Summary) { told = lines })
		a := h.tablet("tab-a", "marit")
		a.openClient("c1", "north")
		a.startVisit("v1", "c1", "north")
		a.send()
		h.restart(on) // which remembers nothing
		h.intake.OnCommit(func(lines []store.Summary) { told = lines })
		on.what = tt.what
		a.write(model.KindVisitNoted, "v1", model.VisitNoted{Fields: map[string]string{"note": "x"}})
		answer := a.send()
		if answer.Ack != 3 {
			t.Errorf("%s: receipt %d", tt.what, answer.Ack)
		}
		if len(told) != 1 || told[0].Client != "c1" || told[0].Damaged != tt.damaged || told[0].Team != "north" {
			t.Errorf("%s: told of %+v", tt.what, told)
		}
		h.view(func(r store.Reader) error {
			line, err := r.Summary("c1")
			if line.Damaged != (tt.damaged && tt.line) || line.Name == "" {
				t.Errorf("%s: stored %+v", tt.what, line)
			}
			return err
		})
		on.what = ""
		if err := h.intake.Remake(context.Background(), []string{"c1", "nobody"}); err != nil {
			t.Error(err)
		}
		if len(told) != 1 || told[0].Damaged || told[0].Visits != 1 {
			t.Errorf("%s, once it is well: told of %+v", tt.what, told)
		}
	}
}

// TestADamagedCountKeepsNothingOut: what must be set aside is, and what follows it
// is taken in.
func TestADamagedCountKeepsNothingOut(t *testing.T) {
	h := newService(t)
	on := &hurt{Store: h.store, what: "the count"}
	marit := h.visited()
	h.restart(on)
	t.Cleanup(h.intake.Close)
	marit.write(model.KindAnswerGiven, "v1", level("pos-nose", "2"))
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	if got, want := verdicts(marit.send()), "3 quarantined unknown-item, 4 stored"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// TestDamageToTheLogIsSaid, and nothing is taken in.
func TestDamageToTheLogIsSaid(t *testing.T) {
	for _, what := range []string{"the head", "the name of the log"} {
		h := newService(t)
		a := h.tablet("tab-a", "marit")
		a.openClient("c1", "north")
		a.startVisit("v1", "c1", "north")
		a.send()
		h.restart(&hurt{Store: h.store, what: what})
		t.Cleanup(h.intake.Close)
		a.write(model.KindVisitNoted, "v1", model.VisitNoted{Fields: map[string]string{"note": "x"}})
		body := pushOf("", a.id, a.sent+1, a.lines[a.sent:])
		if _, err := h.intake.Push(context.Background(), caller("marit"), body); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("%s: %v", what, err)
		}
		h.view(func(r store.Reader) error {
			if head := storetest.Head(t, r); head != 2 {
				t.Errorf("%s: the log ends at %d", what, head)
			}
			return nil
		})
	}
}

// TestAVisitThatCanNotBeReadKeepsNothingElseOut: what is said of it is set aside,
// what is said of others stands, and once it can be read so does the rest.
func TestAVisitThatCanNotBeReadKeepsNothingElseOut(t *testing.T) {
	h := newService(t)
	a := h.tablet("tab-a", "marit")
	a.openClient("c1", "north")
	a.startVisit("v1", "c1", "north")
	a.startVisit("v2", "c1", "north")
	a.send()
	if err := h.intake.Judge(t.Context()); err != nil { // as a server does when it starts
		t.Fatal(err)
	}
	on := &hurt{Store: h.store, what: "what was said of v1"}
	h.restart(on)
	t.Cleanup(func() { h.intake.Close() })
	note := func(visit, text string) {
		a.write(model.KindVisitNoted, visit, model.VisitNoted{Fields: map[string]string{"note": text}})
	}
	note("v1", "first")
	note("v2", "between")
	note("v1", "last")
	first := a.sent
	verdicts := func(answer intake.PushAnswer) (all string) {
		for _, v := range answer.Verdicts {
			all += fmt.Sprintf("%d %s %s; ", v.N, v.Verdict, v.Code)
		}
		return all
	}
	const want = "4 quarantined unreadable; 5 stored ; 6 quarantined unreadable; "
	if answer := a.send(); answer.Ack != 6 || verdicts(answer) != want {
		t.Errorf("receipt %d: %s", answer.Ack, verdicts(answer))
	}
	again, err := h.intake.Push(t.Context(), caller("marit"), pushOf("", a.id, first+1, a.lines[first:]))
	if known := strings.Replace(want, "stored", "known", 1); err != nil || verdicts(again) != known {
		t.Errorf("sent again: %v: %s", err, verdicts(again))
	}
	events := func() (count int) {
		h.view(func(r store.Reader) error {
			entries, err := r.EntriesOfSubject("v1")
			count = len(entries)
			return err
		})
		return count
	}
	for _, damaged := range []bool{true, false} {
		if !damaged {
			on.what = ""
		}
		h.restart(on)
		if err := h.intake.Judge(t.Context()); (err != nil) != damaged {
			t.Errorf("damaged %v: judged: %v", damaged, err)
		}
		if got, want := events(), map[bool]int{true: 1, false: 3}[damaged]; got != want {
			t.Errorf("damaged %v: %d entries in the log, want %d", damaged, got, want)
		}
	}
	if got := h.result("v1"); got.Pos != 6 || got.Brief.Unscored {
		t.Errorf("the result is %+v", got.Brief)
	}
}

// TestASecondRatingOfAVisitThatCanNotBeReadWaits: no check of it is passed over.
func TestASecondRatingOfAVisitThatCanNotBeReadWaits(t *testing.T) {
	h := newService(t)
	a, b := h.tablet("tab-a", "marit"), h.tablet("tab-b", "lena")
	a.openClient("c1", "north")
	a.startVisit("v1", "c1", "north")
	a.send()
	on := &hurt{Store: h.store, what: "what was said of v1"}
	h.restart(on)
	t.Cleanup(func() { h.intake.Close() })
	start := started(authoring.Standard(), "c1", "north")
	start.SecondOf = "v1"
	b.write(model.KindVisitStarted, "v2", start)
	second := b.send().Verdicts[0]
	if second.Verdict != intake.Quarantined || second.Code != validation.CodeUnreadable {
		t.Errorf("got %+v", second)
	}
	on.what = ""
	a.write(model.KindVisitNoted, "v1", model.VisitNoted{Fields: map[string]string{"note": "x"}})
	if got := a.send().Verdicts[0]; got.Verdict != intake.Stored {
		t.Errorf("once it could be read again: %+v", got)
	}
	on.what = "what was said of v1"
	for _, damaged := range []bool{true, false} {
		if !damaged {
			on.what = ""
		}
		h.restart(on)
		if err := h.intake.Judge(t.Context()); (err != nil) != damaged {
			t.Errorf("damaged %v: judged: %v", damaged, err)
		}
	}
	if got := h.summary("c1"); got.Visits != 2 || got.Quarantined != 0 {
		t.Errorf("%d visits, %d entries set aside", got.Visits, got.Quarantined)
	}
}

// TestAnAnswerThatReplacesWhatCanNotBeReadWaits: it may be no answer.
func TestAnAnswerThatReplacesWhatCanNotBeReadWaits(t *testing.T) {
	h := newService(t)
	a := h.tablet("tab-a", "marit")
	a.openClient("c1", "north")
	a.startVisit("v1", "c1", "north")
	a.send()
	h.restart(&hurt{Store: h.store, what: "what is replaced"})
	t.Cleanup(func() { h.intake.Close() })
	answer := level("pos-pelvis", "3")
	answer.Replaces = []model.Ref{model.MakeRef("tab-b", 9)}
	a.write(model.KindAnswerGiven, "v1", answer)
	a.write(model.KindVisitNoted, "v1", model.VisitNoted{Fields: map[string]string{"note": "x"}})
	got := a.send().Verdicts
	if got[0].Code != validation.CodeUnreadable || got[1].Verdict != intake.Stored {
		t.Errorf("got %+v", got)
	}
}
