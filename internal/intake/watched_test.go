package intake_test

import (
	"context"
	"errors"
	"reflect"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// watched is a store that notes what it is asked while it is written to, and can
// be made to answer otherwise.
type watched struct {
	store.Store
	batches []store.Batch
	// asked counts lists that were read.
	asked map[string]int
	// shift is added to each position that is given.
	shift int64
	// torn is what stands for the last entry about a subject.
	torn map[string]string
	// damaged is the visit whose result cannot be read until it is written anew.
	damaged string
}

func (w *watched) Update(ctx context.Context, fn func(store.Writer) error) error {
	return w.Store.Update(ctx, func(to store.Writer) error { return fn(watchedWriter{to, w}) })
}

type watchedWriter struct {
	store.Writer
	*watched
}

func (w watchedWriter) Append(b store.Batch) (int64, error) {
	w.batches = append(w.batches, b)
	pos, err := w.Writer.Append(b)
	return pos + w.shift, err
}

func (w watchedWriter) EntriesOfSubject(id string) ([]model.Entry, error) {
	w.asked["entries of "+id]++
	entries, err := w.Writer.EntriesOfSubject(id)
	if line, there := w.torn[id]; there && len(entries) > 0 {
		entries[len(entries)-1].Raw = []byte(line)
	}
	return entries, err
}

func (w watchedWriter) QuarantinedOf(f store.QuarantineFilter) ([]store.Quarantined, error) {
	w.asked["set aside"]++
	return w.Writer.QuarantinedOf(f)
}

func (w watchedWriter) Result(visit string) (store.Result, error) {
	result, err := w.Writer.Result(visit)
	if visit == w.damaged {
		return result, errors.Join(err, store.ErrDamaged)
	}
	return result, err
}

func (w watchedWriter) SetResult(r store.Result) error {
	if r.Visit == w.damaged {
		w.damaged = ""
	}
	return w.Writer.SetResult(r)
}

// newWatched is a service with a client and a visit of Marit's, of which its
// intake remembers nothing.
func newWatched(t *testing.T) (*service, *watched, *tablet) {
	t.Helper()
	h := newService(t)
	marit := h.visited()
	w := &watched{Store: h.store, asked: map[string]int{}}
	h.restart(w)
	t.Cleanup(func() { h.intake.Close() })
	return h, w, marit
}

// TestEntriesThatFollowOneAnotherAreOneBatch as long as they are about one
// subject and none of them is set aside.
func TestEntriesThatFollowOneAnotherAreOneBatch(t *testing.T) {
	_, w, marit := newWatched(t)
	marit.write(model.KindClientChanged, "c1", model.ClientChanged{Fields: map[string]string{"reason": "fall"}})
	marit.startVisit("v2", "c1", "north")
	for _, item := range []string{"pos-pelvis", "pos-trunk", "pos-nose", "pos-pelvis"} {
		marit.write(model.KindAnswerGiven, "v2", level(item, "2"))
	}
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	marit.send()
	type batch struct {
		subject string
		first   int64
		events  int
	}
	var got []batch
	for _, b := range w.batches {
		got = append(got, batch{b.Subject, b.FirstN, len(b.Events)})
	}
	if want := []batch{{"c1", 3, 1}, {"v2", 4, 3}, {"v2", 8, 1}, {"v1", 9, 1}}; !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// TestAPositionThatWasNotExpected: the verdicts would name other entries, so
// nothing is taken in.
func TestAPositionThatWasNotExpected(t *testing.T) {
	h, w, marit := newWatched(t)
	before := h.whole()
	w.shift = 1
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	_, err := h.intake.Push(t.Context(), caller("marit"), pushOf("", "tab-m", 3, marit.lines[2:]))
	if !errors.Is(err, store.ErrOrder) || h.whole() != before {
		t.Errorf("%v; the store holds %s", err, h.whole())
	}
}

// TestWhatIsReadOnce: a visit in progress, once for all pushes that follow one
// another. What was set aside before and what was said of a control are not read
// at all.
func TestWhatIsReadOnce(t *testing.T) {
	h, w, marit := newWatched(t)
	for range 3 {
		marit.write(model.KindAnswerGiven, "v9", level("pos-pelvis", "2"))
		marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	}
	marit.send()
	if got := w.asked["set aside"]; got != 0 {
		t.Errorf("what was set aside was read %d times", got)
	}
	for range 3 {
		marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
		marit.sendAll()
	}
	if got := w.asked["entries of v1"]; got != 1 {
		t.Errorf("the visit was read %d times", got)
	}
	lead := h.tablet("tab-l", "lena")
	for range 2 {
		lead.write(model.KindControlListed, "k1", listed("north"))
		lead.sendAll()
		h.restart(w)
	}
	if got := w.asked["entries of k1"]; got != 0 {
		t.Errorf("the control was read %d times", got)
	}
}

// TestADamagedResultIsComputedAnew when its visit goes on.
func TestADamagedResultIsComputedAnew(t *testing.T) {
	h, w, marit := newWatched(t)
	w.damaged = "v1"
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	marit.sendAll()
	if got := h.result("v1"); got.Pos != 3 || got.Brief.Unscored || w.damaged != "" {
		t.Errorf("%+v", got)
	}
}

// TestADamagedResultHoldsUpNothing: neither an amendment of its own visit nor
// what is said of another visit of the client, whose line counts it as one
// without a score.
func TestADamagedResultHoldsUpNothing(t *testing.T) {
	h, w, marit := newWatched(t)
	h.signed(marit, true)
	marit.sendAll()
	marit.startVisit("v2", "c1", "north")
	w.damaged = "v1"
	marit.sendAll()
	if got := h.summary("c1"); got.Visits != 2 || got.Unscored != 1 {
		t.Errorf("of two visits, one damaged: %+v", got)
	}
	marit.amend("2")
	marit.sendAll()
	if got := h.result("v1"); got.Brief.Unscored || w.damaged != "" {
		t.Errorf("after the amendment: %+v", got.Brief)
	}
	if got := h.summary("c1"); got.Visits != 2 || got.Unscored != 0 {
		t.Errorf("after the amendment: %+v", got)
	}
}

// TestEntriesInTheLogThatCannotBeRead: what is no event makes its visit and its
// client a fault, of which nothing is taken in. A body that cannot be read adds
// one to what is unknown (PROTOCOL.md, section 3).
func TestEntriesInTheLogThatCannotBeRead(t *testing.T) {
	for _, c := range []struct {
		name, subject, line string
		fault               bool
	}{
		{"a visit's", "v1", "{", true},
		{"a client's", "c1", "{", true},
		{"a body", "v1", `{"tablet":"tab-m","n":3,"kind":"answer-given","subject":"v1","author":"marit","at":"2026-03-02T09:00:00.000Z","zone":"UTC","schema":1,"seen":0,"body":{"item":3}}`, false},
	} {
		h, w, marit := newWatched(t)
		marit.write(model.KindAnswerGiven, "v1", level("pos-trunk", "2"))
		marit.sendAll()
		h.restart(w)
		before := h.whole()
		w.torn = map[string]string{c.subject: c.line}
		marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
		_, err := h.intake.Push(t.Context(), caller("marit"), pushOf("", "tab-m", 4, marit.lines[3:]))
		var bad *validation.Error
		if errors.As(err, &bad) != c.fault || c.fault && (bad.Code != validation.CodeBrokenJSON || h.whole() != before) {
			t.Errorf("%s: %v; the store holds %s", c.name, err, h.whole())
		}
		if got := h.summary("c1").Unknown; !c.fault && got != 1 {
			t.Errorf("%s: %d unknown", c.name, got)
		}
	}
}

// TestAVisitWhoseClientIsNotThere takes its entries all the same.
func TestAVisitWhoseClientIsNotThere(t *testing.T) {
	h, _, marit := newWatched(t)
	h.update(func(w store.Writer) error {
		return w.AddSubject(store.Subject{ID: "v-lost", Kind: model.SubjectVisit, Team: "north", Client: "c-lost", Checklist: authoring.Standard().Hash()})
	})
	marit.write(model.KindAnswerGiven, "v-lost", level("pos-pelvis", "2"))
	marit.sendAll()
}
