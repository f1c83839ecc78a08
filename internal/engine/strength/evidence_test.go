package strength_test

import (
	"math"
	"testing"

	"doorsill/internal/engine/strength"
)

func repeats(values ...float64) strength.Repeats {
	r, err := strength.Summarise(values)
	if err != nil {
		return strength.Repeats{}
	}
	return r
}

// TestLowerBoundOfAForce: Student's t from one side at 95 %, 2.919986 with two
// degrees of freedom and 6.313752 with one, over a standard deviation of at
// least 5 % of the mean, and times what is left when tired.
func TestLowerBoundOfAForce(t *testing.T) {
	for _, c := range []struct {
		name string
		pair strength.Pair
		want float64
		ok   bool
	}{
		{"alike: 5 % of the mean count", strength.Pair{Rested: repeats(200, 200, 200), Tired: repeats(200)}, 200 - 2.919985580*10/math.Sqrt(3), true},
		{"apart", strength.Pair{Rested: repeats(180, 200, 220), Tired: repeats(200, 200)}, 200 - 2.919985580*20/math.Sqrt(3), true},
		{"tired to a half", strength.Pair{Rested: repeats(180, 200, 220), Tired: repeats(100)}, (200 - 2.919985580*20/math.Sqrt(3)) / 2, true},
		{"stronger when tired", strength.Pair{Rested: repeats(180, 200, 220), Tired: repeats(300)}, 200 - 2.919985580*20/math.Sqrt(3), true},
		{"no tired reading", strength.Pair{Rested: repeats(180, 200, 220)}, 0.7 * (200 - 2.919985580*20/math.Sqrt(3)), true},
		{"tired alone", strength.Pair{Tired: repeats(180, 200, 220)}, 200 - 2.919985580*20/math.Sqrt(3), true},
		{"two readings", strength.Pair{Rested: repeats(190, 210), Tired: repeats(200)}, 200 - 6.313751515*math.Sqrt(200)/math.Sqrt2, true},
		{"weaker than 1 gf, tired to a half", strength.Pair{Rested: repeats(0.8, 0.8, 0.8), Tired: repeats(0.4)}, (0.8 - 2.919985580*0.04/math.Sqrt(3)) / 2, true},
		{"never below nothing", strength.Pair{Rested: repeats(40, 150, 260), Tired: repeats(150)}, 0, true},
		{"one reading", strength.Pair{Rested: repeats(200), Tired: repeats(200, 200)}, 0, false},
		{"nothing", strength.Pair{}, 0, false},
		{"nothing came", strength.Pair{Rested: repeats(0, 0, 0), Tired: repeats(0)}, 0, true},
	} {
		if got, ok := c.pair.Lower(); ok != c.ok || !(math.Abs(got-c.want) <= 1e-6) {
			t.Errorf("%s: %v, %v; want %v, %v", c.name, got, ok, c.want, c.ok)
		}
	}
}

// TestEvidence asks for three rested readings everywhere and two tired ones in
// the weakest direction, rested as well as by what is usable, and for no more.
func TestEvidence(t *testing.T) {
	setup := &strength.Setup{Class: "small", Site: "chin", OperateGF: 50, Needed: []strength.Direction{strength.Forward, strength.Left}}
	type series struct {
		d     strength.Direction
		tired bool
		gf    float64
		n     int
	}
	for _, c := range []struct {
		name string
		list []series
		want []strength.Wanted
	}{
		{"all there", []series{{strength.Forward, false, 300, 3}, {strength.Left, false, 200, 3}, {strength.Left, true, 190, 2}}, nil},
		{"no tired reading", []series{{strength.Forward, false, 300, 3}, {strength.Left, false, 200, 3}}, []strength.Wanted{{Direction: strength.Left, Tired: 2}}},
		{"one tired reading", []series{{strength.Forward, false, 300, 3}, {strength.Left, false, 200, 3}, {strength.Left, true, 190, 1}}, []strength.Wanted{{Direction: strength.Left, Tired: 1}}},
		{"two rested ones", []series{{strength.Forward, false, 300, 2}, {strength.Left, false, 200, 3}, {strength.Left, true, 190, 2}}, []strength.Wanted{{Direction: strength.Forward, Rested: 1}}},
		{"tired where it is strong", []series{{strength.Forward, false, 300, 3}, {strength.Left, false, 200, 3}, {strength.Forward, true, 100, 2}}, []strength.Wanted{{Direction: strength.Left, Tired: 2}}},
		{"a needed direction left out", []series{{strength.Left, false, 200, 3}, {strength.Left, true, 190, 2}}, []strength.Wanted{{Direction: strength.Forward, Rested: 3}}},
	} {
		var readings []strength.Reading
		for _, s := range c.list {
			for range s.n {
				readings = append(readings, strength.Reading{What: strength.Force, Site: "chin", Direction: s.d, Tired: s.tired, Value: s.gf})
			}
		}
		a := strength.Analyse(readings, setup)
		got := a.Evidence(setup)
		if len(got) != len(c.want) || len(got) > 0 && got[0] != c.want[0] {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}
