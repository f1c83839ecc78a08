package record_test

import (
	"fmt"
	"strings"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/record"
)

// TestWhatIsRefusedOfANewSetUp: a starting force above the full one and a needed
// direction that stands twice are refused on arrival, also in an amendment, and
// read of what was stored before they were refused.
func TestWhatIsRefusedOfANewSetUp(t *testing.T) {
	needing := func(start, needed string) string {
		return `{"class":"small","site":"chin","start_gf":` + start + `,"operate_gf":50,"travel_mm":4,"needed":` + needed + `}`
	}
	setup := func(start string) string { return needing(start, `["forward","left"]`) }
	event := func(kind, body string) []byte {
		return []byte(`{"tablet":"tab-a","n":1,"kind":"` + kind + `","subject":"v1","author":"person-a","at":"2026-03-02T09:01:00.000Z","zone":"Europe/Dublin","schema":1,"seen":0,"body":` + body + `}`)
	}
	for _, c := range []struct{ kind, body, path string }{
		{model.KindSetupChosen, setup("50.1"), "body.start_gf"},
		{model.KindSetupChosen, setup("50"), ""},
		{model.KindSetupChosen, needing("50", `["forward","left","forward"]`), `body.needed[2]: expected each direction once, got "forward" again`},
		{model.KindAmendmentMade, `{"reason":"found on paper","kind":"setup-chosen","change":` + needing("50", `["left","left"]`) + `}`, "body.change.needed[1]"},
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

// TestASetUpStoredBefore: a visit whose set-up was stored before such was
// refused opens, with the starting force not known and each direction once.
func TestASetUpStoredBefore(t *testing.T) {
	visit := visitOf(t, started, line{kind: model.KindSetupChosen,
		body: `{"class":"small","site":"chin","start_gf":51,"operate_gf":50,"travel_mm":4,"needed":["forward","left","forward","left","right"]}`})
	setup := visit["setup"].(map[string]any)
	if got := fmt.Sprint(setup["start_gf"], setup["needed"]); got != "0 [forward left right]" {
		t.Errorf("starting force and needed directions: %s", got)
	}
}
