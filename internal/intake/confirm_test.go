package intake_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/seal"
	"doorsill/internal/store"
	"doorsill/internal/tablettest"
	"doorsill/internal/validation"
	"doorsill/internal/verify"
)

// inFile has an envelope imported as the author's, from a file.
func (h *service) inFile(key *seal.Key, person string, e seal.Envelope) intake.PushAnswer {
	h.Helper()
	answer, err := intake.NewEnvelopes(key, h.intake).Import(context.Background(), caller(person), e)
	if err != nil {
		h.Fatal(err)
	}
	return answer
}

// confirmed confirms as somebody and says what became of it.
func (h *service) confirmed(who account.Caller, reason string, ids ...int64) string {
	h.Helper()
	answer, err := h.intake.Confirm(context.Background(), who, ids, reason)
	var invalid *validation.Error
	var push *intake.PushError
	switch {
	case errors.As(err, &invalid):
		return "invalid " + invalid.Path
	case errors.As(err, &push):
		return push.Code
	case errors.Is(err, account.ErrNotAllowed):
		return "not allowed"
	case errors.Is(err, intake.ErrAuthorIsHere):
		return "author is here"
	case errors.Is(err, account.ErrSignedOut):
		return "signed out"
	case err != nil:
		h.Fatal(err)
	}
	return fmt.Sprintf("%s; ack %d", verdicts(answer), answer.Ack)
}

// people gives everybody an open account.
func (h *service) people() {
	h.Helper()
	h.update(func(w store.Writer) error {
		var err error
		for _, id := range []string{"marit", "davit", "lena", "ansel", "sora"} {
			err = errors.Join(err, w.SetPerson(store.Person{ID: id, Name: id, Login: id, Active: true, Created: "2026-01-05T08:00:00.000Z"}))
		}
		return err
	})
}

// unsigned is Marit's client and visit, and two answers that came in a file that
// nothing signed: entries 1 and 2 in quarantine, numbers 3 and 4 of the tablet.
func unsigned(t *testing.T) (*service, *tablet, *seal.Key) {
	h, key := newService(t), newKey(t)
	h.people()
	marit := h.visited()
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	marit.write(model.KindAnswerGiven, "v1", level("pos-trunk", "1"))
	if got, want := verdicts(h.inFile(key, "marit", marit.sealed(key, 3))), "3 quarantined unsigned, 4 quarantined unsigned"; got != want {
		t.Fatalf("%s, want %s", got, want)
	}
	return h, marit, key
}

// TestWhatCameUnsignedCountsOnceItsAuthorConfirmsIt, and once only.
func TestWhatCameUnsignedCountsOnceItsAuthorConfirmsIt(t *testing.T) {
	h, marit, key := unsigned(t)
	h.view(func(r store.Reader) error {
		head, err := r.Head()
		if err != nil {
			return err
		}
		if tablet, err := r.Tablet("tab-m"); err != nil || tablet.Ack != 2 || head != 2 {
			t.Errorf("receipt %d, head %d, %v: an unsigned entry moved them", tablet.Ack, head, err)
		}
		return nil
	})
	if got := len(h.visit("v1").Answers); got != 0 {
		t.Errorf("%d answers count", got)
	}
	// The same file again is no more.
	h.inFile(key, "marit", marit.sealed(key, 3))
	if kept := h.quarantine(store.QuarantineFilter{}); len(kept) != 2 || kept[0].Client != "c1" || kept[0].Team != "north" {
		t.Fatalf("kept %+v", kept)
	}
	if got, want := h.confirmed(caller("marit"), "", 2), intake.CodeGap; got != want {
		t.Errorf("the second before the first: %s, want %s", got, want)
	}
	if got, want := h.confirmed(caller("marit"), "", 2, 1, 2), "3 stored, 4 stored; ack 4"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got := len(h.visit("v1").Answers); got != 2 {
		t.Errorf("%d answers count, want 2", got)
	}
	if got := h.summary("c1").Quarantined; got != 0 {
		t.Errorf("the caseload counts %d set aside", got)
	}
	for _, q := range h.quarantine(store.QuarantineFilter{}) {
		if q.Settled == nil || !q.Settled.Confirmed || q.Settled.By != "marit" || q.Settled.At == "" {
			t.Errorf("entry %d: %+v", q.ID, q.Settled)
		}
	}
	if got, want := h.confirmed(caller("marit"), "", 1), "invalid entries"; got != want {
		t.Errorf("again: %s, want %s", got, want)
	}
	// What the tablet sends itself, and the file, are known now.
	if got, want := verdicts(marit.send()), "3 known, 4 known"; got != want {
		t.Errorf("the tablet: %s, want %s", got, want)
	}
	if got, want := verdicts(h.inFile(key, "marit", marit.sealed(key, 3))), "3 known, 4 known"; got != want {
		t.Errorf("the file: %s, want %s", got, want)
	}
	report, err := verify.Store(context.Background(), h.store, append(authoring.StandardVersions(), h.older))
	if err != nil || len(report.Faults) != 0 {
		t.Errorf("verify: %v, %v", report.Faults, err)
	}
}

// TestWhatTheTabletSendsItselfIsAskedNoMore: the copy that came unsigned in a file
// is settled, and stands once.
func TestWhatTheTabletSendsItselfIsAskedNoMore(t *testing.T) {
	h, marit, _ := unsigned(t)
	other := *marit
	other.lines = append([][]byte(nil), marit.lines[:3]...)
	if got, want := verdicts(other.send()), "3 stored"; got != want {
		t.Fatalf("%s, want %s", got, want)
	}
	if open := h.quarantine(store.QuarantineFilter{Open: true}); len(open) != 1 || open[0].N != 4 {
		t.Errorf("open %+v, want number 4 alone", open)
	}
	if got, want := verdicts(marit.send()), "3 known, 4 stored"; got != want {
		t.Fatalf("%s, want %s", got, want)
	}
	for _, q := range h.quarantine(store.QuarantineFilter{}) {
		if q.Settled == nil || !q.Settled.Confirmed || q.Settled.By != "marit" {
			t.Errorf("entry %d: %+v", q.ID, q.Settled)
		}
	}
	if got := h.summary("c1").Quarantined; got != 0 {
		t.Errorf("the caseload counts %d set aside", got)
	}
	if got := len(h.visit("v1").Answers); got != 2 {
		t.Errorf("%d answers count, want 2", got)
	}
}

// TestWhatWasConfirmedStaysConfirmed when the tablet sends it itself as well.
func TestWhatWasConfirmedStaysConfirmed(t *testing.T) {
	h, marit, _ := unsigned(t)
	if got, want := h.confirmed(caller("marit"), "I wrote it.", 1), "3 stored; ack 3"; got != want {
		t.Fatalf("%s, want %s", got, want)
	}
	if got, want := verdicts(marit.send()), "3 known, 4 stored"; got != want {
		t.Fatalf("%s, want %s", got, want)
	}
	notes := map[int64]string{}
	for _, q := range h.quarantine(store.QuarantineFilter{}) {
		notes[q.N] = q.Settled.Note
	}
	if notes[3] != "I wrote it." || notes[4] == "" || notes[4] == notes[3] {
		t.Errorf("settled with %v", notes)
	}
	if got := h.summary("c1").Quarantined; got != 0 {
		t.Errorf("the caseload counts %d set aside", got)
	}
}

// TestWhatIsSetAsideForAnotherReasonStaysOpen when it is sent again.
func TestWhatIsSetAsideForAnotherReasonStaysOpen(t *testing.T) {
	h, marit, _ := unsigned(t)
	other := *marit
	other.lines = append([][]byte(nil), marit.lines[:1]...)
	other.write(model.KindAnswerGiven, "v1", level("pos-head", "2"))
	for range 2 {
		other.sent = 1
		if got, want := verdicts(other.send()), "2 quarantined forked"; got != want {
			t.Fatalf("%s, want %s", got, want)
		}
	}
	if open := h.quarantine(store.QuarantineFilter{Open: true}); len(open) != 3 {
		t.Errorf("%d entries are open, want 3", len(open))
	}
}

// TestAForgedFileTakesNothingFromTheTablet: its numbers stay the tablet's, and
// what was forged is refused by whoever looks at it.
func TestAForgedFileTakesNothingFromTheTablet(t *testing.T) {
	h, key := newService(t), newKey(t)
	h.people()
	marit := h.visited()
	marit.keyed("marit")
	forged := *marit
	forged.lines = append([][]byte(nil), marit.lines...)
	forged.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "0"))
	forged.write(model.KindVisitSigned, "v1", signature())
	e := forged.sealed(key, 3)
	e.Signature = tablettest.NewSigner("somebody").Sign(e.Statement())
	if got, want := verdicts(h.inFile(key, "marit", e)), "3 quarantined unsigned, 4 quarantined unsigned"; got != want {
		t.Fatalf("%s, want %s", got, want)
	}
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "3"))
	body := pushOf("", "tab-m", 3, marit.lines[2:])
	answer, err := h.intake.PushSigned(context.Background(), caller("marit"), body, signedAs(tablettest.NewSigner("marit"), body))
	if got, want := verdicts(answer), "3 stored"; err != nil || got != want {
		t.Errorf("%s, %v, want %s", got, err, want)
	}
	if got := h.visit("v1").Answers[0].Heads[0].Level; got != "3" {
		t.Errorf("level %s", got)
	}
	// Who confirms it all the same gets the verdict of any second use of a number.
	if got, want := h.confirmed(caller("marit"), "", 1), "3 quarantined forked; ack 3"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestASignedFileIsTakenIn, whoever brings it; from the author's own session also
// that of a tablet without a key.
func TestASignedFileIsTakenIn(t *testing.T) {
	for name, c := range map[string]struct {
		keyed, signed, inFile bool
		want                  string
	}{
		"signed, in a file":                  {true, true, true, "3 stored"},
		"signed, from the author":            {true, true, false, "3 stored"},
		"unsigned, in a file":                {true, false, true, "3 quarantined unsigned"},
		"unsigned, from the author":          {true, false, false, "3 quarantined unsigned"},
		"without a key, in a file":           {false, false, true, "3 quarantined unsigned"},
		"without a key, from the author":     {false, false, false, "3 stored"},
		"signed without a key, in a file":    {false, true, true, "3 quarantined unsigned"},
		"signed without a key by the author": {false, true, false, "3 stored"},
	} {
		h, key := newService(t), newKey(t)
		marit := h.visited()
		marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
		e := marit.sealed(key, 3)
		if c.keyed {
			marit.keyed("marit")
		}
		if c.signed {
			e.Signature = tablettest.NewSigner("marit").Sign(e.Statement())
		}
		take := intake.NewEnvelopes(key, h.intake).Push
		if c.inFile {
			take = intake.NewEnvelopes(key, h.intake).Import
		}
		answer, err := take(context.Background(), caller("marit"), e)
		if got := verdicts(answer); err != nil || got != c.want {
			t.Errorf("%s: %s, %v, want %s", name, got, err, c.want)
		}
	}
}

// TestWhoMayConfirm: the author; the lead of the entries' team once the author is
// gone, with a reason; nobody else.
func TestWhoMayConfirm(t *testing.T) {
	closed := func(w store.Writer) error {
		p, err := w.Person("marit")
		p.Active = false
		return errors.Join(err, w.SetPerson(p))
	}
	left := func(w store.Writer) error { return w.RemoveMembership("marit", "north") }
	moved := func(w store.Writer) error {
		return errors.Join(left(w), w.SetMembership(store.Membership{Person: "marit", Team: "south", Role: model.RoleClinician}))
	}
	southLead := account.Caller{Person: "sibyl", Teams: map[string]string{"south": model.RoleLead}}
	const why = "She told me on the telephone"
	for _, c := range []struct {
		name   string
		change func(store.Writer) error
		who    account.Caller
		reason string
		want   string
	}{
		{"nobody", nil, account.Caller{}, why, "signed out"},
		{"a colleague", nil, caller("davit"), why, "not allowed"},
		{"an assistant", nil, caller("ansel"), why, "not allowed"},
		{"the lead of another team", left, southLead, why, "not allowed"},
		{"an admin", left, account.Caller{Person: "adm", Admin: true}, why, "not allowed"},
		{"the lead while the author is here", nil, caller("lena"), why, "author is here"},
		{"a colleague after the author left", left, caller("davit"), why, "not allowed"},
		{"the lead without a reason", left, caller("lena"), "  ", "invalid reason"},
		{"the lead after the author left", left, caller("lena"), why, "3 stored, 4 stored; ack 4"},
		{"the lead after the account was closed", closed, caller("lena"), why, "3 stored, 4 stored; ack 4"},
		{"the lead after the author moved", moved, caller("lena"), why, "3 stored, 4 stored; ack 4"},
		{"the author", nil, caller("marit"), "", "3 stored, 4 stored; ack 4"},
		{"the author after a move: judged as any late entry", moved, account.Caller{Person: "marit", Teams: map[string]string{"south": model.RoleClinician}}, "",
			"3 quarantined other-team, 4 quarantined other-team; ack 4"},
		{"too long a reason", left, caller("lena"), strings.Repeat("x", 20_001), "invalid reason"},
	} {
		h, _, _ := unsigned(t)
		if c.change != nil {
			h.update(c.change)
		}
		if got := h.confirmed(c.who, c.reason, 1, 2); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		settled := h.quarantine(store.QuarantineFilter{})[0].Settled
		if (settled != nil) != strings.Contains(c.want, "ack") || settled != nil && (settled.By != c.who.Person || settled.Note != strings.TrimSpace(c.reason)) {
			t.Errorf("%s: settled %+v", c.name, settled)
		}
	}
}

// TestWhatCanNotBeConfirmed names what is wrong.
func TestWhatCanNotBeConfirmed(t *testing.T) {
	h, marit, key := unsigned(t)
	davit := h.tablet("tab-d", "davit")
	davit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "1"))
	h.inFile(key, "davit", davit.sealed(key, 1)) // entry 3
	marit.sent = 2
	marit.lines = append(marit.lines[:2:2], []byte("{"))
	marit.send() // entry 4
	for _, c := range []struct {
		name string
		ids  []int64
		want string
	}{
		{"nothing", nil, "invalid entries"},
		{"too many", make([]int64, intake.MostConfirmed+1), "invalid entries"},
		{"one that is not there", []int64{99}, "not allowed"},
		{"a colleague's", []int64{3}, "not allowed"},
		{"an own one and a colleague's", []int64{1, 3}, "not allowed"},
		{"one that is not unsigned", []int64{4}, "invalid entries"},
	} {
		if got := h.confirmed(caller("marit"), "", c.ids...); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	if kept := h.quarantine(store.QuarantineFilter{Open: true}); len(kept) != 4 {
		t.Errorf("%d are open, want 4", len(kept))
	}
	// What the lead has dealt with otherwise is not confirmed afterwards.
	if _, err := h.intake.Settle(context.Background(), caller("lena"), 1, "somebody else wrote this"); err != nil {
		t.Fatal(err)
	}
	if got, want := h.confirmed(caller("marit"), "", 1), "invalid entries"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestWhatWasTakenInIsNotSettled: who confirmed an entry and why stays, also where
// the lead looks at a list from before.
func TestWhatWasTakenInIsNotSettled(t *testing.T) {
	h, _, _ := unsigned(t)
	if got := h.confirmed(caller("marit"), "I wrote it.", 1); got == "invalid entries" {
		t.Fatal(got)
	}
	if _, err := h.intake.Settle(context.Background(), caller("lena"), 1, "somebody else wrote this"); !errors.Is(err, intake.ErrTakenIn) {
		t.Errorf("settled: %v", err)
	}
	for _, q := range h.quarantine(store.QuarantineFilter{}) {
		if q.ID == 1 && (!q.Settled.Confirmed || q.Settled.By != "marit" || q.Settled.Note != "I wrote it.") {
			t.Errorf("%+v", q.Settled)
		}
	}
}

// TestForgedFilesLeaveRoom: however much comes unsigned, the tablet's own entries
// can still be set aside, and what waits can still be confirmed.
func TestForgedFilesLeaveRoom(t *testing.T) {
	h, key := newService(t), newKey(t)
	h.people()
	marit := h.visited()
	forged := *marit
	for range intake.MostOpenOfTablet {
		forged.lines = append(forged.lines, []byte(`{"forged":1}`))
	}
	way, taken := intake.NewEnvelopes(key, h.intake), 0
	for from := 3; from <= len(forged.lines); from += 500 {
		part := forged
		part.lines = forged.lines[:min(from+499, len(forged.lines))]
		answer, err := way.Import(context.Background(), caller("marit"), part.sealed(key, int64(from)))
		var full *intake.PushError
		if err != nil && (!errors.As(err, &full) || full.Code != intake.CodeQuarantineFull) {
			t.Fatal(err)
		}
		taken += len(answer.Verdicts)
	}
	if taken != intake.MostOpenOfTablet/2 {
		t.Errorf("%d were set aside, want %d", taken, intake.MostOpenOfTablet/2)
	}
	marit.lines = append(marit.lines, []byte("{"))
	if got, want := verdicts(marit.send()), "3 quarantined broken-json"; got != want {
		t.Errorf("the tablet's own: %s, want %s", got, want)
	}
	if got, want := h.confirmed(caller("marit"), "", 2), "4 quarantined required; ack 4"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
