package record_test

import (
	"errors"
	"strings"
	"testing"

	"doorsill/internal/record"
	"doorsill/internal/validation"
)

// TestAZoneIsAName: what arrives with anything else is refused, and what is stored
// from before is read.
func TestAZoneIsAName(t *testing.T) {
	for zone, ok := range map[string]bool{
		"Europe/Dublin": true, "Etc/GMT+12": true, "America/Port-au-Prince": true, "+05:30": true,
		`Europe/\u202eDublin`: false, `Europe\nDublin`: false, "Europe Dublin": false, "Zürich": false, `a\u0000b`: false,
	} {
		raw := []byte(`{"tablet":"tab-m","n":3,"kind":"visit-noted","subject":"v1","author":"marit","at":"2026-03-02T09:00:00.000Z","zone":"` + zone + `","schema":1,"seen":0,"body":{"fields":{"note":"x"}}}`)
		_, _, err := record.Receive(raw)
		var bad *validation.Error
		if refused := errors.As(err, &bad) && bad.Path == "zone" && strings.Contains(bad.Want, "Europe/Dublin"); refused == ok || ok && err != nil {
			t.Errorf("%s: %v", zone, err)
		}
		if _, err := record.Decode(raw); err != nil {
			t.Errorf("%s, stored: %v", zone, err)
		}
	}
}
