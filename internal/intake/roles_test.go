package intake_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

func TestRoles(t *testing.T) {
	tests := []struct {
		person string
		kind   string
		body   any
		want   string
	}{
		{"ansel", model.KindAnswerGiven, level("pos-pelvis", "2"), "stored"},
		{"ansel", model.KindReadingTaken, force("chin", "forward", 80, "gf"), "stored"},
		{"ansel", model.KindVisitNoted, model.VisitNoted{Fields: map[string]string{"note": "x"}}, "stored"},
		{"ansel", model.KindReadingMarked, model.ReadingMarked{Reading: "tab-m:3", Slip: true, Reason: "x"}, "quarantined not-allowed"},
		{"ansel", model.KindReadingMoved, model.ReadingMoved{Reading: "tab-m:3", Direction: "left", State: "rested"}, "quarantined not-allowed"},
		{"davit", model.KindReadingMoved, model.ReadingMoved{Reading: "tab-m:3", Direction: "left", State: "rested"}, "stored"},
		{"ansel", model.KindVisitSigned, signature(), "quarantined not-allowed"},
		{"ansel", model.KindPlanAgreed, model.PlanAgreed{}, "quarantined not-allowed"},
		{"ansel", "photo-added", struct{}{}, "quarantined not-allowed"},
		{"davit", model.KindReadingMarked, model.ReadingMarked{Reading: "tab-m:3", Slip: true, Reason: "x"}, "stored"},
		{"davit", model.KindVisitSigned, signature(), "stored"},
		{"davit", "photo-added", struct{}{}, "quarantined unknown-schema"},
		{"ansel", model.KindChairMeasured, model.ChairMeasured{LengthMM: 1100, WidthMM: 640, Drive: "mid", AheadMM: 600}, "stored"},
		{"ansel", model.KindPlaceMeasured, model.PlaceMeasured{Place: "p1", Kind: "door", Name: "hall", WidthMM: 815}, "stored"},
		{"ansel", model.KindMountNoted, model.MountNoted{Kind: "fixed", FixedTo: "seat"}, "stored"},
		{"ansel", model.KindKitPacked, model.KitPacked{}, "quarantined not-allowed"},
		{"ansel", model.KindNeedsNoted, model.NeedsNoted{Base: "stable"}, "quarantined not-allowed"},
		{"ansel", model.KindSettingChanged, model.SettingChanged{Key: "power", Before: "1", After: "2", Why: "x"}, "quarantined not-allowed"},
		{"davit", model.KindKitPacked, model.KitPacked{}, "stored"},
		{"davit", model.KindNeedsNoted, model.NeedsNoted{Base: "stable"}, "stored"},
		{"davit", model.KindSettingChanged, model.SettingChanged{Key: "power", Before: "1", After: "2", Why: "x"}, "stored"},
		{"lena", model.KindPlanAgreed, model.PlanAgreed{}, "stored"},
		{"sora", model.KindAnswerGiven, level("pos-pelvis", "2"), "quarantined other-team"},
		{"nemo", model.KindAnswerGiven, level("pos-pelvis", "2"), "quarantined other-team"},
	}
	for _, tt := range tests {
		t.Run(tt.person+" "+tt.kind, func(t *testing.T) {
			h := newService(t)
			marit := h.visited()
			marit.write(model.KindReadingTaken, "v1", force("chin", "forward", 90, "gf"))
			marit.sendAll()
			other := h.tablet("tab-o", tt.person)
			other.write(tt.kind, "v1", tt.body)
			if got, want := verdicts(other.send()), "1 "+tt.want; got != want {
				t.Errorf("got %s, want %s", got, want)
			}
			if strings.HasPrefix(tt.want, "quarantined") {
				if kept := h.quarantine(store.QuarantineFilter{Team: "north"}); len(kept) != 1 {
					t.Errorf("the lead of the visit's team sees %d entries", len(kept))
				}
			}
		})
	}
	h := newService(t)
	h.visited()
	if _, err := h.intake.Push(context.Background(), account.Caller{}, strings.NewReader("")); !errors.Is(err, account.ErrSignedOut) {
		t.Errorf("nobody: got %v", err)
	}
}

// TestAnAssistantOpensNothing: who may open a client and start a visit are
// clinicians and leads (PROTOCOL.md, section 2).
func TestAnAssistantOpensNothing(t *testing.T) {
	for person, want := range map[string]string{"ansel": "quarantined not-allowed", "davit": "stored", "lena": "stored"} {
		h := newService(t)
		h.visited()
		other := h.tablet("tab-o", person)
		other.openClient("c2", "north")
		other.startVisit("v2", "c1", "north")
		if got := verdicts(other.send()); got != "1 "+want+", 2 "+want {
			t.Errorf("%s: %s, want %s", person, got, want)
		}
	}
}

// A run that was saved by mistake is set aside and counts no more; an assistant
// sets aside only their own.
func TestRunSetAside(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	hers := marit.write(model.KindRunTimed, "v1", model.RunTimed{Place: "indoors", State: "rested", Seconds: 600, Metres: 60, People: 1})
	marit.sendAll()
	ansel := h.tablet("tab-o", "ansel")
	his := ansel.write(model.KindRunTimed, "v1", model.RunTimed{Place: "indoors", State: "rested", Seconds: 600, Metres: 60})
	ansel.write(model.KindRunMarked, "v1", model.RunMarked{Run: hers, Slip: true, Reason: "x"})
	ansel.write(model.KindRunMarked, "v1", model.RunMarked{Run: his, Slip: true, Reason: "saved twice"})
	if got, want := verdicts(ansel.send()), "1 stored, 2 quarantined not-allowed, 3 stored"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	marit.write(model.KindRunMarked, "v1", model.RunMarked{Run: hers, Slip: true, Reason: "another person drove"})
	marit.sendAll()
	runs := h.visit("v1").Runs
	if len(runs) != 2 || runs[0].Slip != "another person drove" || runs[1].Slip != "saved twice" {
		t.Errorf("the record holds %+v", runs)
	}
	h.view(func(r store.Reader) error {
		result, err := r.Result("v1")
		if err != nil || !strings.Contains(string(result.Body), `"code":"trial.no-run"`) {
			t.Errorf("runs that were set aside still count: %v", err)
		}
		return nil
	})
}

// Somebody who left the team while away sends a whole new client: it is kept
// where the team's lead sees it.
func TestRemovedPersonSyncs(t *testing.T) {
	h := newService(t)
	gone := h.tablet("tab-g", "nemo")
	gone.openClient("c7", "north")
	gone.startVisit("v7", "c7", "north")
	gone.write(model.KindAnswerGiven, "v7", level("pos-pelvis", "2"))
	if got, want := verdicts(gone.send()), "1 quarantined other-team, 2 quarantined subject, 3 quarantined subject"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if kept := h.quarantine(store.QuarantineFilter{Team: "north", Open: true}); len(kept) != 3 {
		t.Errorf("the lead sees %d of 3 entries", len(kept))
	}
}

// TestMoveLeavesAReadingAsItMayBe: a force has a direction, wherever it is moved.
func TestMoveLeavesAReadingAsItMayBe(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	marit.write(model.KindReadingTaken, "v1", force("chin", "forward", 90, "gf"))
	marit.write(model.KindReadingMoved, "v1", model.ReadingMoved{Reading: "tab-m:3", State: "tired"})
	marit.write(model.KindReadingMoved, "v1", model.ReadingMoved{Reading: "tab-m:3", Direction: "left", State: "tired", Supported: true})
	verdicts := marit.send().Verdicts
	refused, moved := verdicts[len(verdicts)-2], verdicts[len(verdicts)-1]
	if refused.Verdict != intake.Quarantined || refused.Field != "body.direction" || moved.Verdict != intake.Stored {
		t.Errorf("got %+v and %+v", refused, moved)
	}
}
