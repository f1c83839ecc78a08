package server

import (
	"strings"
	"testing"

	"doorsill/internal/store"
)

// TestWhatAPassFindsIsTold verifies beside serving: first nothing is known, then
// all fits, then something does not that a fault of the program could have left.
func TestWhatAPassFindsIsTold(t *testing.T) {
	s := newSite(t, Options{})
	look := func() (health HealthAnswer, state BackupState) {
		t.Helper()
		s.ask(t, nobody, "GET", "/healthz", "").into(t, &health)
		s.ask(t, admin, "GET", "/api/v1/backup", "").into(t, &state)
		return health, state
	}
	if health, state := look(); health.Status != "ok" || health.Verified != "" || state.Verified != nil {
		t.Errorf("before the first pass: %+v %+v", health, state)
	}
	run := func() {
		t.Helper()
		if _, err := s.Watch.Run(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	run()
	at := s.clock.Now().Format("2006-01-02T15:04:05Z")
	if health, state := look(); health.Status != "ok" || health.Verified != at || state.Verified == nil || *state.Verified != (VerifiedState{At: at}) {
		t.Errorf("after a pass at %s: %+v %+v", at, health, state.Verified)
	}
	err := s.Store.Update(t.Context(), func(w store.Writer) error {
		tablet, err := w.Tablet(s.tablet)
		if err != nil {
			return err
		}
		tablet.Ack++
		return w.SetTablet(tablet)
	})
	if err != nil {
		t.Fatal(err)
	}
	run()
	if health, state := look(); health.Status != "differs" || state.Verified.Faults != 1 {
		t.Errorf("with a receipt that is too high: %+v %+v", health, state.Verified)
	}
	for _, f := range s.Watch.Last().Report.Faults {
		if !strings.Contains(f.Where, s.tablet) {
			t.Errorf("found %+v, want something about tablet %s", f, s.tablet)
		}
	}
}
