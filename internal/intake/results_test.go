package intake_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// later is a minute on: what is sent then comes in another commit.
func (h *service) later() { h.minutes.Add(1) }

// TestWhatTheCaseloadShowsOfAVisit: what is open, the level, and the decision
// against it where that stands.
func TestWhatTheCaseloadShowsOfAVisit(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	decide := func(wanted string) {
		marit.write(model.KindOverrideMade, "v1", model.OverrideMade{Level: wanted, Reason: "other", Text: "seen at home", From: "2026-03-02"})
	}
	expect := func(name, level, effective string, override bool, stops, limits int) {
		t.Helper()
		h.later()
		marit.sendAll()
		line := h.summary("c1")
		if line.Level != level || line.Effective != effective || line.Override != override || line.Stops != stops || line.Limits != limits || line.Interim {
			t.Errorf("%s: %+v", name, line)
		}
	}
	marit.write(model.KindAnswerGiven, "v1", level("pos-trunk", "0"))   // STOP
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "0"))  // STOP-CONTROL
	marit.write(model.KindAnswerGiven, "v1", level("hnd-limits", "no")) // LIMIT to Practise
	expect("three effects", "pause", "pause", false, 2, 1)
	marit.write(model.KindAnswerGiven, "v1", level("pos-trunk", "3"))
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "3"))
	marit.write(model.KindAnswerGiven, "v1", level("mnt-stop", "yes"))
	expect("a stop that was shown", "none", "none", false, 0, 1)
	decide("practise")
	expect("a decision where there is no level yet", "none", "none", false, 0, 1)
	marit.beforeMoving("v1")
	decide("practise")
	expect("what must be known before moving", "practise", "practise", true, 0, 1)
	decide("pause")
	expect("a decision for less", "practise", "pause", true, 0, 1)
	decide("home-ground")
	expect("a decision for too much", "practise", "practise", false, 0, 1)
}

// beforeMoving answers at its best what must be known before moving, and chooses
// a control.
func (t *tablet) beforeMoving(visit string) {
	for _, id := range []string{"pos-trunk", "pos-head", "pos-feet", "pos-lines", "saf-episodes", "saf-drowsy", "saf-wish", "eqp-brake", "eqp-centre"} {
		t.write(model.KindAnswerGiven, visit, level(id, "3"))
	}
	t.write(model.KindSetupChosen, visit, model.SetupChosen{Class: "small", Site: "chin", StartGF: 20, OperateGF: 50, TravelMM: 12, Needed: model.Directions()})
}

// signed is a visit that was signed with the result that it had, or with another.
func (h *service) signed(marit *tablet, right bool) {
	h.Helper()
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "0"))
	marit.sendAll()
	h.later()
	body := signature()
	if right {
		stored := h.result("v1")
		body.Level, body.Result, body.Format = stored.Brief.Level, stored.SHA256, stored.Format
	}
	marit.write(model.KindVisitSigned, "v1", body)
}

// amend changes an answer after the signature, and so the result.
func (t *tablet) amend(to string) {
	t.Helper()
	t.write(model.KindAmendmentMade, "v1", model.AmendmentMade{Reason: "late", Kind: model.KindAnswerGiven, Change: mustJSON(level("pos-pelvis", to))})
}

// TestWhatWasShownWhenSigningIsRemembered: an amendment changes the result, and
// not whether it was another when the visit was signed. A replay of the log says
// the same, where it can.
func TestWhatWasShownWhenSigningIsRemembered(t *testing.T) {
	for _, c := range []struct {
		name     string
		do       func(*service, *tablet)
		mismatch bool
		recalled bool
	}{
		{"signed as shown", func(h *service, m *tablet) { h.signed(m, true); m.sendAll() }, false, true},
		{"signed with another result", func(h *service, m *tablet) { h.signed(m, false); m.sendAll() }, true, true},
		{"signed as shown, amended later", func(h *service, m *tablet) {
			h.signed(m, true)
			m.sendAll()
			h.later()
			m.amend("2")
			m.sendAll()
		}, false, true},
		{"amended twice", func(h *service, m *tablet) {
			h.signed(m, true)
			m.sendAll()
			for _, to := range []string{"2", "1"} {
				h.later()
				m.amend(to)
				m.sendAll()
			}
		}, false, true},
		{"amended in one go", func(h *service, m *tablet) {
			h.signed(m, true)
			m.amend("2")
			m.sendAll()
		}, true, false},
		{"signed with another result, amended later", func(h *service, m *tablet) {
			h.signed(m, false)
			m.sendAll()
			h.later()
			m.amend("2")
			m.sendAll()
		}, true, false},
		{"signed with another result, then an entry of a later version", func(h *service, m *tablet) {
			h.signed(m, false)
			m.sendAll()
			h.later()
			m.write("photo-added", "v1", struct{}{})
			m.send()
		}, true, true},
		{"an amendment before it was signed with another result", func(h *service, m *tablet) {
			early := &tablet{service: h, id: "tab-x", person: "marit"}
			early.amend("1")
			h.update(func(w store.Writer) error {
				_, err := w.Append(store.Batch{Tablet: "tab-x", FirstN: 1, Team: "north", Subject: "v1", Received: h.now().Format(store.TimeLayout), Events: early.lines})
				return errors.Join(err, w.SetTablet(store.Tablet{ID: "tab-x", Person: "marit", Ack: 1}))
			})
			h.signed(m, false)
			m.sendAll()
		}, true, true},
	} {
		h := newService(t)
		marit := h.visited()
		c.do(h, marit)
		stored := h.result("v1")
		if stored.Brief.Mismatch != c.mismatch || h.summary("c1").Mismatch != c.mismatch || !stored.Brief.Signed {
			t.Errorf("%s: mismatch %v, want %v", c.name, stored.Brief.Mismatch, c.mismatch)
		}
		h.view(func(r store.Reader) error {
			subject, err := r.Subject("v1")
			if err != nil {
				return err
			}
			got, err := intake.NewReplay(authoring.StandardVersions()).Visit(r, subject)
			if err != nil {
				return err
			}
			if got.Recalled != c.recalled || !got.Pinned || got.Result.SHA256 != stored.SHA256 || c.recalled && got.Result.Brief.Mismatch != c.mismatch {
				t.Errorf("%s: replayed: recalled %v, pinned %v, mismatch %v", c.name, got.Recalled, got.Pinned, got.Result.Brief.Mismatch)
			}
			return nil
		})
	}
}

// TestAReplayWithoutTheChecklist knows what was said and scores nothing.
func TestAReplayWithoutTheChecklist(t *testing.T) {
	h := newService(t)
	h.visited()
	h.view(func(r store.Reader) error {
		subject, err := r.Subject("v1")
		if err != nil {
			return err
		}
		got, err := intake.NewReplay(nil).Visit(r, subject)
		if err != nil || got.Pinned || !got.Recalled || !got.Result.Brief.Unscored || got.Result.Brief.Client != "c1" {
			t.Errorf("%+v, %v", got, err)
		}
		return nil
	})
	_, f := newFaulty(t)
	for call, what := range []string{"stored result", "log"} {
		if err := f.View(t.Context(), func(r store.Reader) error {
			f.arm(call + 1)
			_, err := intake.NewReplay(nil).Visit(r, store.Subject{ID: "v1", Kind: model.SubjectVisit})
			return err
		}); err == nil || !strings.Contains(err.Error(), errDisk.Error()) {
			t.Errorf("the %s can not be read: %v", what, err)
		}
	}
}

// TestWhenAVisitBegan: what its tablet claims, but not later than when the
// server first heard of it.
func TestWhenAVisitBegan(t *testing.T) {
	for _, c := range []struct{ claimed, want time.Duration }{{-48 * time.Hour, -48 * time.Hour}, {0, 0}, {3 * time.Hour, 0}} {
		h := newService(t)
		marit := h.tablet("tab-m", "marit")
		marit.openClient("c1", "north")
		e := marit.event(model.KindVisitStarted, "v1", started(authoring.Standard(), "c1", "north"))
		e.At = opened().Add(c.claimed).Format(store.TimeLayout)
		marit.lines = append(marit.lines, lineOf(e))
		marit.sendAll()
		// What comes later does not move it.
		h.minutes.Store(600)
		marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
		marit.sendAll()
		want := opened().Add(c.want).Format(store.TimeLayout)
		if got := h.result("v1").Brief.Begun; got != want || h.summary("c1").LastVisit != want {
			t.Errorf("claimed %v: begun %s, want %s", c.claimed, got, want)
		}
		h.view(func(r store.Reader) error {
			subject, err := r.Subject("v1")
			if err != nil {
				return err
			}
			replayed, err := intake.NewReplay(authoring.StandardVersions()).Visit(r, subject)
			if got := replayed.Result.Brief.Begun; err != nil || got != want {
				t.Errorf("claimed %v: replayed, begun %s, %v", c.claimed, got, err)
			}
			return nil
		})
	}
}

// TestASecondRatingForetellsNothing: only the first visit of a trial gives its
// measures to the forecast.
func TestASecondRatingForetellsNothing(t *testing.T) {
	h := newService(t)
	h.visited()
	davit := h.tablet("tab-d", "davit")
	second := started(authoring.Standard(), "c1", "north")
	second.SecondOf = "v1"
	davit.write(model.KindVisitStarted, "v2", second)
	davit.sendAll()
	if first, second := h.result("v1").Brief, h.result("v2").Brief; first.Second || first.Measures == nil || !second.Second || second.Measures != nil {
		t.Errorf("first %+v, second %+v", first, second)
	}
}

// TestWhenTheControlIsExpected: the wait that was last named, from its own
// visit on, unless a later visit has passed that day.
func TestWhenTheControlIsExpected(t *testing.T) {
	day := func(n int) int64 { return int64(n) * 24 * 60 }
	for _, c := range []struct {
		name  string
		weeks float64
		later int // days after the first visit, 0 for no second
		want  string
	}{
		{"twelve weeks", 12, 0, "2026-05-25"}, // 84 days after 2 March 2026
		{"half a week", 0.5, 0, "2026-03-06"}, // 3.5 days, a half rounded up
		{"at once", 0, 0, "2026-03-02"},
		{"a second visit on that day", 2, 14, "2026-03-16"},
		{"a second visit the day after", 2, 15, ""},
	} {
		h := newService(t)
		marit := h.visited()
		marit.write(model.KindNeedsNoted, "v1", map[string]float64{"wait_weeks": c.weeks})
		marit.sendAll()
		if c.later > 0 {
			h.minutes.Store(day(c.later))
			marit.startVisit("v2", "c1", "north")
			marit.sendAll()
		}
		if got := h.summary("c1").ExpectedOn; got != c.want {
			t.Errorf("%s: expected on %q, want %q", c.name, got, c.want)
		}
	}
}

// TestNobodyIsToldOfNothing: a commit that changed no line tells nobody, and a
// visit that was scored is not said to be unscored.
func TestNobodyIsToldOfNothing(t *testing.T) {
	h := newService(t)
	told, unscored := 0, 0
	h.intake.OnCommit(func(changed []store.Summary) { told++ })
	h.intake.OnUnscored(func(string, string) { unscored++ })
	lead := h.tablet("tab-l", "lena")
	lead.write(model.KindControlListed, "k1", listed("north"))
	lead.sendAll()
	if told != 0 {
		t.Errorf("told %d times of a control", told)
	}
	h.visited()
	if told != 1 || unscored != 0 {
		t.Errorf("told %d times, %d visits unscored", told, unscored)
	}
}

// TestTheMarkOutlivesTheEngine: whether a visit was signed as shown is known from
// its first signed result, also when a later entry comes and the engine cannot
// score the visit any more.
func TestTheMarkOutlivesTheEngine(t *testing.T) {
	for _, right := range []bool{true, false} {
		h := newService(t)
		marit := h.visited()
		h.signed(marit, right)
		marit.sendAll()
		h.restart(h.store)
		defer h.intake.Close()
		h.intake.Stumble()
		marit.amend("2")
		marit.sendAll()
		got := h.result("v1")
		if got.Pos != 5 || !got.Brief.Unscored || len(got.Body) != 0 || got.Brief.Measures != nil {
			t.Errorf("of what the engine cannot score there is %+v", got)
		}
		if got.Brief.Mismatch == right {
			t.Errorf("signed as shown %v, marked %v", right, got.Brief.Mismatch)
		}
	}
}
