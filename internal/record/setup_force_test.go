package record_test

import (
	"strings"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/record"
)

// TestAStartingForceAboveTheFullOne is refused on arrival, also in an amendment,
// and read of what was stored before it was refused.
func TestAStartingForceAboveTheFullOne(t *testing.T) {
	setup := func(start string) string {
		return `{"class":"small","site":"chin","start_gf":` + start + `,"operate_gf":50,"travel_mm":4,"needed":["forward"]}`
	}
	event := func(kind, body string) []byte {
		return []byte(`{"tablet":"tab-a","n":1,"kind":"` + kind + `","subject":"v1","author":"person-a","at":"2026-03-02T09:01:00.000Z","zone":"Europe/Dublin","schema":1,"seen":0,"body":` + body + `}`)
	}
	for _, c := range []struct{ kind, body, path string }{
		{model.KindSetupChosen, setup("50.1"), "body.start_gf"},
		{model.KindSetupChosen, setup("50"), ""},
		{model.KindAmendmentMade, `{"reason":"found on paper","kind":"setup-chosen","change":` + setup("50.1") + `}`, "body.change.start_gf"},
		{model.KindAmendmentMade, `{"reason":"found on paper","kind":"setup-chosen","change":` + setup("50") + `}`, ""},
	} {
		raw := event(c.kind, c.body)
		_, body, err := record.Receive(raw)
		if c.path == "" && (err != nil || body == nil) || c.path != "" && (err == nil || !strings.Contains(err.Error(), c.path)) {
			t.Errorf("%s %s: %v, want an error at %q", c.kind, c.body, err, c.path)
		}
		stored, err := record.Decode(raw)
		if err != nil {
			t.Fatal(err)
		}
		if body, err := record.ReadBody(&stored); err != nil || body == nil {
			t.Errorf("stored: %v", err)
		}
	}
}
