package intake_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// setAside has the store hold so many open entries of a tablet, and moves the
// tablet on.
func (t *tablet) setAside(count int) {
	t.Helper()
	t.update(func(w store.Writer) error {
		var err error
		for range count {
			line := fmt.Appendf(nil, "{%d", len(t.lines))
			t.lines = append(t.lines, line)
			_, bad := w.Quarantine(store.Quarantined{
				Tablet: t.id, N: int64(len(t.lines)), Person: t.person, Team: "north", Code: validation.CodeBrokenJSON,
				Hint: "The entry can not be read.", Received: t.now().Format(store.TimeLayout), Raw: line,
			})
			err = errors.Join(err, bad)
		}
		t.sent = int64(len(t.lines))
		return errors.Join(err, w.SetTablet(store.Tablet{ID: t.id, Person: t.person, Ack: t.sent}))
	})
}

// refusedAt pushes from a number on and wants to be told that too much is set
// aside.
func (t *tablet) refusedAt(from int64) *intake.PushError {
	t.Helper()
	_, err := t.intake.Push(context.Background(), caller(t.person), pushOf("", t.id, from, t.lines[from-1:]))
	var full *intake.PushError
	if !errors.As(err, &full) || full.Code != intake.CodeQuarantineFull {
		t.Fatalf("from %d: %v", from, err)
	}
	return full
}

// TestACopyThatCameUnsignedGivesItsPlaceToTheEntry, also where no more is set aside.
func TestACopyThatCameUnsignedGivesItsPlaceToTheEntry(t *testing.T) {
	h, key := newService(t), newKey(t)
	h.people()
	marit := h.visited()
	marit.write(model.KindAnswerGiven, "v1", level("pos-nose", "2"))
	if got, want := verdicts(h.inFile(key, "marit", marit.sealed(key, 3))), "3 quarantined unsigned"; got != want {
		t.Fatalf("%s, want %s", got, want)
	}
	h.update(func(w store.Writer) (err error) {
		for i := range intake.MostOpenOfTablet - 1 {
			_, bad := w.Quarantine(store.Quarantined{Tablet: marit.id, N: 2, Person: "marit", Team: "north", Code: validation.CodeForked,
				Hint: "The number was used.", Received: h.now().Format(store.TimeLayout), Raw: fmt.Append(nil, i)})
			err = errors.Join(err, bad)
		}
		return err
	})
	if got, want := verdicts(marit.send()), "3 quarantined unknown-item"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if open := h.quarantine(store.QuarantineFilter{Tablet: marit.id, Open: true}); len(open) != intake.MostOpenOfTablet {
		t.Errorf("%d entries are open, want %d", len(open), intake.MostOpenOfTablet)
	}
}

// TestNoMoreIsSetAsideThanSomebodyCanDealWith: what fits before is taken in, the
// tablet is told why the rest is not, and once somebody has dealt with an entry
// it goes on. Nothing is lost and nobody else is held up.
func TestNoMoreIsSetAsideThanSomebodyCanDealWith(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	marit.setAside(intake.MostOpenOfTablet - 1)
	first := marit.sent
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	marit.write(model.KindAnswerGiven, "v1", level("pos-nose", "2"))
	marit.write(model.KindAnswerGiven, "v1", level("pos-trunk", "2"))
	marit.write(model.KindAnswerGiven, "v1", level("pos-ear", "2"))
	marit.write(model.KindAnswerGiven, "v1", level("pos-head", "2"))
	answer := marit.send()
	if got, want := verdicts(answer), fmt.Sprintf("%d stored, %d quarantined unknown-item, %d stored", first+1, first+2, first+3); got != want || answer.Ack != first+3 {
		t.Fatalf("got %s up to %d, want %s", got, answer.Ack, want)
	}
	full := marit.refusedAt(first + 4)
	for _, said := range []string{"2000 entries", "Nothing is lost", "no such question", "ask your lead"} {
		if !strings.Contains(full.Message, said) {
			t.Errorf("%q does not say %q", full.Message, said)
		}
	}
	davit := h.tablet("tab-d", "davit")
	davit.write(model.KindAnswerGiven, "v1", level("pos-nose", "3"))
	davit.write(model.KindAnswerGiven, "v1", level("pos-head", "3"))
	if got, want := verdicts(davit.send()), "1 quarantined unknown-item, 2 stored"; got != want {
		t.Errorf("somebody else's tablet: %s", got)
	}
	if _, err := h.intake.Settle(context.Background(), caller("lena"), 1, "entered again"); err != nil {
		t.Fatal(err)
	}
	if got, want := verdicts(marit.send()), fmt.Sprintf("%d quarantined unknown-item, %d stored", first+4, first+5); got != want {
		t.Errorf("after one was dealt with: %s, want %s", got, want)
	}
}

// TestAForkedEntryThatIsNotKeptIsNotAcknowledged although its number was before.
func TestAForkedEntryThatIsNotKeptIsNotAcknowledged(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	marit.setAside(intake.MostOpenOfTablet - 1)
	copied := *marit
	copied.lines = [][]byte{marit.lines[0], []byte(`{"forked":1}`), []byte(`{"forked":2}`), marit.lines[3]}
	copied.sent = 0
	answer := copied.send()
	if got, want := verdicts(answer), "1 known, 2 quarantined forked"; got != want || answer.Ack != 2 {
		t.Fatalf("got %s up to %d, want %s", got, answer.Ack, want)
	}
	copied.refusedAt(3)
	h.view(func(r store.Reader) error {
		tablet, err := r.Tablet("tab-m")
		if tablet.Ack != marit.sent {
			t.Errorf("the tablet's receipt became %d, was %d", tablet.Ack, marit.sent)
		}
		return err
	})
	if _, err := h.intake.Settle(context.Background(), caller("lena"), 1, "entered again"); err != nil {
		t.Fatal(err)
	}
	answer = copied.send()
	if got, want := verdicts(answer), "3 quarantined forked, 4 quarantined broken-json"; got != want || answer.Ack != marit.sent {
		t.Errorf("got %s up to %d, want %s up to %d", got, answer.Ack, want, marit.sent)
	}
}

// TestSeveralTabletsOfOnePerson do not add up to more.
func TestSeveralTabletsOfOnePerson(t *testing.T) {
	h := newService(t)
	for i, count := range []int{intake.MostOpenOfTablet, intake.MostOpenOfTablet, intake.MostOpenOfPerson - 2*intake.MostOpenOfTablet} {
		h.tablet(fmt.Sprintf("tab-%d", i), "marit").setAside(count)
	}
	last := h.tablet("tab-last", "marit")
	last.lines = append(last.lines, []byte("{"))
	if full := last.refusedAt(1); !strings.Contains(full.Want, "one person") {
		t.Errorf("%+v", full)
	}
	other := h.tablet("tab-other", "davit")
	other.lines = append(other.lines, []byte("{"))
	if got, want := verdicts(other.send()), "1 quarantined broken-json"; got != want {
		t.Errorf("somebody else: %s", got)
	}
}

// TestLargeEntriesAreFewer: what is set aside of a person has a bound in bytes.
func TestLargeEntriesAreFewer(t *testing.T) {
	h := newService(t)
	marit := h.tablet("tab-m", "marit")
	large := []byte(strings.Repeat("x", 1<<20))
	h.update(func(w store.Writer) error {
		var err error
		for n := range int64(intake.MostOpenBytes >> 20) {
			_, bad := w.Quarantine(store.Quarantined{Tablet: "tab-m", N: n + 1, Person: "marit", Code: validation.CodeOutOfRange, Hint: "too long", Received: "2026-03-02T09:00:00.000Z", Raw: large})
			err = errors.Join(err, bad)
		}
		return errors.Join(err, w.SetTablet(store.Tablet{ID: "tab-m", Person: "marit", Ack: intake.MostOpenBytes >> 20}))
	})
	for range intake.MostOpenBytes>>20 + 1 {
		marit.lines = append(marit.lines, []byte("{"))
	}
	if full := marit.refusedAt(intake.MostOpenBytes>>20 + 1); full.Want != "at most 64 MiB in open entries of one person" {
		t.Errorf("%+v", full)
	}
}

// TestWhatIsSetAsideCostsTheSame however much was before: the writer asks the
// store equally often, and no question of its has an answer that grows.
func TestWhatIsSetAsideCostsTheSame(t *testing.T) {
	h, f := newFaulty(t)
	calls := func(before int) int {
		lena := h.tablet(fmt.Sprintf("tab-%d", before), "lena")
		lena.openClient(fmt.Sprintf("c-%d", before), "north")
		lena.sendAll()
		lena.setAside(before)
		for i := range 10 {
			lena.write(model.KindAnswerGiven, fmt.Sprintf("c-%d", before), level("pos-pelvis", "2"))
			lena.lines = append(lena.lines, []byte("{"), []byte(fmt.Sprintf(`{"about":%d}`, i)))
		}
		f.arm(0)
		lena.send()
		return f.calls
	}
	if few, many := calls(1), calls(1_000); few != many || few < 30 {
		t.Errorf("the store is asked %d times with 1 entry set aside before and %d times with 1,000", few, many)
	}
}

// TestNobodysVisitIsReadForARefusal: folding visits takes the writer's time, and
// who may say nothing of them could name many.
func TestNobodysVisitIsReadForARefusal(t *testing.T) {
	h, w, _ := newWatched(t)
	sora := h.tablet("tab-s", "sora")
	ansel := h.tablet("tab-a", "ansel")
	sora.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	ansel.write(model.KindVisitSigned, "v1", signature())
	if got := verdicts(sora.send()) + ", " + verdicts(ansel.send()); got != "1 quarantined other-team, 1 quarantined not-allowed" {
		t.Errorf("got %s", got)
	}
	if got := w.asked["entries of v1"]; got != 0 {
		t.Errorf("the visit was read %d times", got)
	}
}
