package intake_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/storetest"
	"doorsill/internal/validation"
	"doorsill/internal/verify"
)

// unreadBefore keeps what waits on a tablet as a server leaves it that could not
// read it: set aside, with the roles that its person had.
func (t *tablet) unreadBefore(roles map[string]string) {
	t.Helper()
	t.update(func(w store.Writer) error {
		var err error
		for ; t.sent < int64(len(t.lines)); t.sent++ {
			_, bad := w.Quarantine(store.Quarantined{
				Tablet: t.id, N: t.sent + 1, Person: t.person, Team: "north", Roles: roles, Code: validation.CodeUnknownSchema,
				Hint: "Not known yet.", Received: t.now().Format(store.TimeLayout), Raw: t.lines[t.sent],
			})
			err = errors.Join(err, bad)
		}
		return errors.Join(err, w.SetTablet(store.Tablet{ID: t.id, Person: t.person, Ack: t.sent}))
	})
}

// verified compares all that the store has with its log.
func (h *service) verified() {
	h.Helper()
	report, err := verify.Store(context.Background(), h.store, append(authoring.StandardVersions(), h.older))
	if err = errors.Join(err, storetest.Check(h.store)); err != nil {
		h.Error(err)
	}
	for _, fault := range report.Faults {
		if !strings.HasPrefix(fault.Where, "team ") { // these teams have no people
			h.Errorf("%+v", fault)
		}
	}
}

// standing says of each entry that was set aside where it is, or why it is not.
func (h *service) standing() string {
	h.Helper()
	var all []string
	for _, q := range h.quarantine(store.QuarantineFilter{}) {
		word := q.Code
		if q.Pos != 0 {
			word = fmt.Sprint(q.Pos)
		}
		all = append(all, fmt.Sprintf("%s:%d %s", q.Tablet, q.N, word))
	}
	return strings.Join(all, ", ")
}

// TestAServerThatLearnsASchema checks what it could not read: each entry is
// placed once, in the order in which all came, or has its true verdict. Roles are
// those of then.
func TestAServerThatLearnsASchema(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2")) // 3
	marit.openClient("c2", "north")                                    // 4
	marit.write(model.KindAnswerGiven, "v1", level("pos-nose", "2"))   // 5
	clinicians := map[string]string{"north": model.RoleClinician}
	marit.unreadBefore(clinicians)
	ansel := h.tablet("tab-a", "ansel")
	ansel.write(model.KindVisitSigned, "v1", signature())
	ansel.write(model.KindAnswerGiven, "v1", level("pos-trunk", "2"))
	ansel.unreadBefore(map[string]string{"north": model.RoleAssistant})
	left := h.tablet("tab-x", "xenia") // who works nowhere by now
	left.write(model.KindAnswerGiven, "v1", level("pos-head", "1"))
	left.unreadBefore(clinicians)
	later := h.tablet("tab-y", "yorick") // who worked nowhere then
	later.write(model.KindAnswerGiven, "v1", level("pos-head", "0"))
	later.unreadBefore(map[string]string{})
	h.update(func(w store.Writer) error {
		return w.SetMembership(store.Membership{Person: "yorick", Team: "north", Role: model.RoleClinician})
	})
	early := marit.event(model.KindVisitStarted, "v2", started(authoring.Standard(), "c2", "north")) // 6
	early.At = "2026-03-05T09:00:00.000Z"                                                            // a clock that is ahead: it began when the server first heard of it
	marit.lines = append(marit.lines, lineOf(early))
	marit.unreadBefore(clinicians)
	settled := h.tablet("tab-d", "davit")
	settled.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "4"))
	settled.unreadBefore(clinicians)
	if _, err := h.intake.Settle(context.Background(), caller("lena"), 9, "entered again"); err != nil {
		t.Fatal(err)
	}
	want := "tab-m:3 3, tab-m:4 4, tab-m:5 unknown-item, tab-a:1 not-allowed, tab-a:2 5, tab-x:1 6, tab-y:1 other-team, tab-m:6 7, tab-d:1 unknown-schema"
	h.minutes.Store(90)
	for range 2 {
		if err := h.intake.Judge(context.Background()); err != nil {
			t.Fatal(err)
		}
		if got := h.standing(); got != want {
			t.Fatalf("got  %s\nwant %s", got, want)
		}
		h.verified()
		h.restart(h.store)
		t.Cleanup(h.intake.Close)
	}
	if _, err := h.intake.Settle(context.Background(), caller("lena"), 1, "entered again"); !errors.Is(err, intake.ErrTakenIn) {
		t.Errorf("settling what has a place: %v", err)
	}
	if got := len(h.visit("v1").Answers); got != 3 {
		t.Errorf("%d answers stand, want 3", got)
	}
	marit.sent = 2
	if got, want := verdicts(marit.send()), "3 known, 4 known, 5 quarantined unknown-item, 6 known"; got != want {
		t.Errorf("sent again: %s, want %s", got, want)
	}
	marit.startVisit("v3", "c2", "north")
	marit.write(model.KindAnswerGiven, "v2", level("pos-pelvis", "2"))
	marit.sendAll()
	h.verified()
}

// TestNobodyGainsARoleForWhatCameBefore: who worked nowhere when an entry came has
// no role for it, wherever they work by now.
func TestNobodyGainsARoleForWhatCameBefore(t *testing.T) {
	h := newService(t)
	marit, yorick := h.visited(), h.tablet("tab-y", "yorick")
	yorick.write(model.KindAnswerGiven, "v9", level("pos-pelvis", "2"))
	if got := verdicts(yorick.send()); got != "1 quarantined subject" {
		t.Fatal(got)
	}
	marit.startVisit("v9", "c1", "north")
	marit.sendAll()
	h.update(func(w store.Writer) error {
		return w.SetMembership(store.Membership{Person: "yorick", Team: "north", Role: model.RoleClinician})
	})
	if err := h.intake.Judge(context.Background()); err != nil || h.standing() != "tab-y:1 other-team" {
		t.Errorf("%s, %v", h.standing(), err)
	}
}

// TestAServerThatLearnsAChecklist takes in the whole visit, whose start it could
// not take and whose answers were about nothing therefore.
func TestAServerThatLearnsAChecklist(t *testing.T) {
	h := newService(t)
	h.intake.Close()
	h.intake = intake.New(h.store, authoring.StandardVersions(), h.now)
	marit := h.visited()
	marit.write(model.KindVisitStarted, "v9", started(h.older, "c1", "north"))
	marit.write(model.KindAnswerGiven, "v9", level("pos-hips", "2"))
	marit.write(model.KindAnswerGiven, "v9", level("pos-hips", "1"))
	marit.write(model.KindAnswerGiven, "v9", level("pos-nose", "1"))
	if got, want := verdicts(marit.send()), "3 quarantined other-checklist, 4 quarantined subject, 5 quarantined subject, 6 quarantined subject"; got != want {
		t.Fatalf("got %s", got)
	}
	if err := h.intake.Judge(context.Background()); err != nil || h.standing() != "tab-m:3 other-checklist, tab-m:4 subject, tab-m:5 subject, tab-m:6 subject" {
		t.Fatalf("before anything was learnt: %s, %v", h.standing(), err)
	}
	h.restart(h.store)
	t.Cleanup(h.intake.Close)
	if err := h.intake.Judge(context.Background()); err != nil || h.standing() != "tab-m:3 3, tab-m:4 4, tab-m:5 5, tab-m:6 unknown-item" {
		t.Errorf("afterwards: %s, %v", h.standing(), err)
	}
	if heads := h.visit("v9").Answers[0].Heads; len(heads) != 1 || heads[0].Level != "1" {
		t.Errorf("the answer: %+v", heads)
	}
	if line := h.summary("c1"); line.Quarantined != 0 || line.Visits != 2 {
		t.Errorf("the caseload: %+v", line)
	}
	h.verified()
}

// TestWhatItsAuthorWentBeyondIsNotPlaced: behind the later answer of the same
// tablet the older one would count. Readings stand beside one another.
func TestWhatItsAuthorWentBeyondIsNotPlaced(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "4"))
	marit.write(model.KindAnswerGiven, "v1", level("pos-trunk", "3"))
	marit.write(model.KindReadingTaken, "v1", force("chin", "forward", 80, "gf"))
	marit.write(model.KindPlanAgreed, "v1", model.PlanAgreed{Note: "soon"})
	marit.unreadBefore(map[string]string{"north": model.RoleClinician})
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "0"))
	marit.write(model.KindReadingTaken, "v1", force("chin", "forward", 90, "gf"))
	marit.write(model.KindPlanAgreed, "v1", model.PlanAgreed{Note: "later"})
	marit.sendAll()
	if err := h.intake.Judge(context.Background()); err != nil {
		t.Fatal(err)
	}
	if got, want := h.standing(), "tab-m:3 overtaken, tab-m:4 6, tab-m:5 7, tab-m:6 overtaken"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if v := h.visit("v1"); v.Answers[0].Heads[0].Level != "0" || v.Plan.Note != "later" {
		t.Errorf("the older counts: %+v, %+v", v.Answers, v.Plan)
	}
	h.verified()
}

// TestJudgingThatIsInterrupted goes on where it was, and places nothing twice.
func TestJudgingThatIsInterrupted(t *testing.T) {
	h, f := newFaulty(t)
	lena := h.tablet("tab-l", "lena")
	lena.openClient("c1", "north")
	lena.sendAll()
	for i := range 5 {
		lena.openClient(fmt.Sprintf("more-%d", i), "north")
	}
	lena.unreadBefore(map[string]string{"north": model.RoleLead})
	faults := 0
	for n := 1; ; n++ {
		f.arm(n)
		err := h.intake.Judge(context.Background())
		if !f.hit() {
			if err != nil {
				t.Fatal(err)
			}
			break
		}
		faults++
	}
	if got, want := h.standing(), "tab-l:2 2, tab-l:3 3, tab-l:4 4, tab-l:5 5, tab-l:6 6"; got != want || faults == 0 {
		t.Errorf("after %d faults: %s, want %s", faults, got, want)
	}
	h.verified()
}

// TestADamagedEntryKeepsNoOtherOut, and is named as a fault without its content.
func TestADamagedEntryKeepsNoOtherOut(t *testing.T) {
	h, w, marit := newWatched(t)
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	marit.openClient("c2", "north")
	marit.unreadBefore(map[string]string{"north": model.RoleClinician})
	w.torn = map[string]string{"v1": "{"}
	err := h.intake.Judge(context.Background())
	if got, want := h.standing(), "tab-m:3 unknown-schema, tab-m:4 3"; err == nil || !strings.Contains(err.Error(), "1 entries") || got != want {
		t.Fatalf("%s, %v; want %s", got, err, want)
	}
	w.torn = nil
	if err := h.intake.Judge(context.Background()); err != nil || h.standing() != "tab-m:3 4, tab-m:4 3" {
		t.Errorf("afterwards: %s, %v", h.standing(), err)
	}
}
