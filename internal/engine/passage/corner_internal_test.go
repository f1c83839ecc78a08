package passage

import (
	"math"
	"testing"
)

// TestASlideEndsAlongTheCorridorDrivenOut: out of 1070 mm into one of 600 a chair of
// 1000 by 500 mm keeps 100 beside it at the end, and more before. Turned on by a
// degree it would keep 600·cos 1° − 70·sin 1° − 500 = 98.69, but there it is driven
// straight on.
func TestASlideEndsAlongTheCorridorDrivenOut(t *testing.T) {
	if left, angle := (slide{block(-500, 500, -250, 250), 1070}).left(600); math.Abs(left-100) > 1e-9 || math.Abs(angle-90) > 1e-6 {
		t.Errorf("%v left at %v degrees", left, angle)
	}
}

// halvings is how many of the twenty halvings of 20,000 mm a length lies off.
func halvings(length float64) float64 { return length * (1 << 20) / 20000 }

// TestTheLeastCorridorIsFoundByTwentyHalvings of 20,000 mm: it is so many of the last
// of them, and never less than what is needed.
func TestTheLeastCorridorIsFoundByTwentyHalvings(t *testing.T) {
	c := longRear(t)
	for other := 650.0; other < 1000; other += 50 {
		s := slide{c.outline, other}
		_, needs := slid(1000, 600, other, 0)
		for name, got := range map[string]float64{"out": s.needs(), "in": slide{c.outline, 0}.needsIn(other, 600)} {
			if n := halvings(got); n != math.Trunc(n) || got < needs-1e-6 || got > needs+halved {
				t.Errorf("beside %v the corridor %s needs %v, %v halvings; by small steps %v", other, name, got, n, needs)
			}
		}
	}
}

// TestACorridorAsWideAsTheChair lets it through: what is left is 0, and so the other
// one is asked, as it is of a corridor that is a little wider.
func TestACorridorAsWideAsTheChair(t *testing.T) {
	c := longRear(t)
	_, needs := slid(1000, 600, 600, 0)
	for name, got := range map[string]float64{"out": slide{c.outline, 600}.needs(), "in": slide{c.outline, 0}.needsIn(600, 600)} {
		if got < needs-1e-6 || got > needs+halved {
			t.Errorf("the corridor %s needs %v, by small steps %v", name, got, needs)
		}
	}
}
