package strength_test

import (
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/strength"
)

// oneStep is the smallest difference of two values.
const oneStep = decimal.Micro(1)

// TestWordsForReserves at the bounds of the table of TRADE.md 4.1.
func TestWordsForReserves(t *testing.T) {
	for _, c := range []struct {
		bound            int
		below, at, above string
	}{
		{2, "short", "tight", "tight"}, {3, "tight", "workable", "workable"}, {7, "workable", "roomy", "roomy"}, {20, "roomy", "roomy", "over-light"},
	} {
		value := decimal.Int(c.bound)
		if below, at, above := strength.Word(value-oneStep), strength.Word(value), strength.Word(value+oneStep); below != c.below || at != c.at || above != c.above {
			t.Errorf("around %d: %s, %s, %s", c.bound, below, at, above)
		}
	}
}

// TestOverLightIsSaidAbove20, and no bar (TRADE.md 4.1).
func TestOverLightIsSaidAbove20(t *testing.T) {
	for gf, want := range map[string]bool{"199.9": false, "200": false, "200.1": true} {
		noted := false
		for _, n := range strength.Analyse(pulls(site, gf), setup(10)).Notes {
			noted = noted || n.Code == "strength.over-light"
		}
		if noted != want {
			t.Errorf("%s gf for 10: said %v, want %v", gf, noted, want)
		}
	}
}

// TestADirectionWithoutReadings can only make the reserve worse: one that is
// short already stands, from 2 on it is open (TRADE.md 4.1 and 4.3, 1).
func TestADirectionWithoutReadings(t *testing.T) {
	for gf, want := range map[string]bool{"19.99999": true, "20": false, "20.1": false} {
		var readings []strength.Reading
		for _, r := range pulls(site, gf) {
			if r.Direction != strength.Left {
				readings = append(readings, r)
			}
		}
		if got := strength.Analyse(readings, setup(10)).Reserve; got.Has() != want {
			t.Errorf("%s gf for 10 without one direction: known %v, want %v", gf, got.Has(), want)
		}
	}
}
