package intake_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/record"
	"doorsill/internal/store"
)

func TestRoles(t *testing.T) {
	tests := []struct {
		person string
		kind   string
		body   any
		want   string
	}{
		{"ansel", record.KindAnswerGiven, level("pos-pelvis", "2"), "stored"},
		{"ansel", record.KindReadingTaken, force("chin", "forward", 80, "gf"), "stored"},
		{"ansel", record.KindVisitNoted, record.VisitNoted{Fields: map[string]string{"note": "x"}}, "stored"},
		{"ansel", record.KindReadingMarked, record.ReadingMarked{Reading: "tab-m:3", Slip: true, Reason: "x"}, "quarantined not-allowed"},
		{"ansel", record.KindVisitSigned, signature(), "quarantined not-allowed"},
		{"ansel", record.KindPlanAgreed, record.PlanAgreed{}, "quarantined not-allowed"},
		{"ansel", "photo-added", struct{}{}, "quarantined not-allowed"},
		{"davit", record.KindReadingMarked, record.ReadingMarked{Reading: "tab-m:3", Slip: true, Reason: "x"}, "stored"},
		{"davit", record.KindVisitSigned, signature(), "stored"},
		{"davit", "photo-added", struct{}{}, "stored"},
		{"ansel", record.KindChairMeasured, record.ChairMeasured{LengthMM: 1100, WidthMM: 640, Drive: "mid", AheadMM: 600}, "stored"},
		{"ansel", record.KindPlaceMeasured, record.PlaceMeasured{Place: "p1", Kind: "door", Name: "hall", WidthMM: 815}, "stored"},
		{"ansel", record.KindMountNoted, record.MountNoted{Kind: "fixed", FixedTo: "seat"}, "stored"},
		{"ansel", record.KindKitPacked, record.KitPacked{}, "quarantined not-allowed"},
		{"ansel", record.KindNeedsNoted, record.NeedsNoted{Base: "stable"}, "quarantined not-allowed"},
		{"ansel", record.KindSettingChanged, record.SettingChanged{Key: "power", Before: "1", After: "2", Why: "x"}, "quarantined not-allowed"},
		{"davit", record.KindKitPacked, record.KitPacked{}, "stored"},
		{"davit", record.KindNeedsNoted, record.NeedsNoted{Base: "stable"}, "stored"},
		{"davit", record.KindSettingChanged, record.SettingChanged{Key: "power", Before: "1", After: "2", Why: "x"}, "stored"},
		{"lena", record.KindPlanAgreed, record.PlanAgreed{}, "stored"},
		{"sora", record.KindAnswerGiven, level("pos-pelvis", "2"), "quarantined other-team"},
		{"nemo", record.KindAnswerGiven, level("pos-pelvis", "2"), "quarantined other-team"},
	}
	for _, tt := range tests {
		t.Run(tt.person+" "+tt.kind, func(t *testing.T) {
			h := newService(t)
			marit := h.visited()
			marit.write(record.KindReadingTaken, "v1", force("chin", "forward", 90, "gf"))
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

// A run that was saved by mistake is set aside and counts no more; an assistant
// sets aside only their own.
func TestRunSetAside(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	hers := marit.write(record.KindRunTimed, "v1", record.RunTimed{Place: "indoors", State: "rested", Seconds: 600, Metres: 60, People: 1})
	marit.sendAll()
	ansel := h.tablet("tab-o", "ansel")
	his := ansel.write(record.KindRunTimed, "v1", record.RunTimed{Place: "indoors", State: "rested", Seconds: 600, Metres: 60})
	ansel.write(record.KindRunMarked, "v1", record.RunMarked{Run: hers, Slip: true, Reason: "x"})
	ansel.write(record.KindRunMarked, "v1", record.RunMarked{Run: his, Slip: true, Reason: "saved twice"})
	if got, want := verdicts(ansel.send()), "1 stored, 2 quarantined not-allowed, 3 stored"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	marit.write(record.KindRunMarked, "v1", record.RunMarked{Run: hers, Slip: true, Reason: "another person drove"})
	marit.sendAll()
	runs := h.visit("v1").Runs
	if len(runs) != 2 || runs[0].Slip != "another person drove" || runs[1].Slip != "saved twice" {
		t.Errorf("the record holds %+v", runs)
	}
	h.view(func(r store.Reader) error {
		result, err := r.Result("v1")
		if err != nil || !strings.Contains(string(result.Text), "No run driven yet.") {
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
	gone.write(record.KindAnswerGiven, "v7", level("pos-pelvis", "2"))
	if got, want := verdicts(gone.send()), "1 quarantined other-team, 2 quarantined subject, 3 quarantined subject"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if kept := h.quarantine(store.QuarantineFilter{Team: "north", Open: true}); len(kept) != 3 {
		t.Errorf("the lead sees %d of 3 entries", len(kept))
	}
}
