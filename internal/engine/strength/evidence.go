package strength

import (
	"math"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/message"
)

// Lower returns the force that can be planned on with 95 % confidence, from one
// side: the bound of the rested mean by Student's t, less what is lost when
// tired. Three readings that happen to agree do not make a bound of their own:
// the standard deviation counts as at least SpreadLeast of the mean. ok is false
// with fewer than two readings. Without rested readings the tired ones stand
// alone; without tired ones the assumed factor stands in.
func (p *Pair) Lower() (gf float64, ok bool) {
	r, kept := &p.Rested, TiredFactor
	switch {
	case p.Rested.N == 0:
		r, kept = &p.Tired, 1
	case p.Tired.N > 0 && p.Rested.Mean > 0:
		kept = min(1, p.Tired.Mean/p.Rested.Mean)
	}
	if r.N < 2 {
		return 0, false
	}
	sd := max(r.SD, float64(r.Mean*SpreadLeast/100))
	lower := r.Mean - float64(tOneSided(r.N-1)*sd/math.Sqrt(float64(r.N)))
	return max(0, float64(lower*kept)), true
}

// bound fills the reserve that holds with 95 % confidence in the needed
// direction in which it is smallest. It is missing as long as one needed
// direction has fewer than two readings.
func (a *Analysis) bound(setup *Setup) {
	site, f := a.At(setup.Site), &a.Bound
	f.Begin("reserve-bound", setup.Site, "ratio", message.New("strength.bound-needs"))
	if setup.OperateGF == 0 {
		f.Origin, f.Say = noForce(setup)
		return
	}
	for _, d := range setup.Needed {
		lower, ok := site.Force[d].Lower()
		value, sane := decimal.Ratio(lower, setup.OperateGF)
		if !ok {
			f.Direction = d.String()
			f.Conclude(quantity.Missing, 0, message.New("strength.bound-needs-in", message.Word("direction", f.Direction)))
			return
		}
		if sane && (!f.Has() || value < f.Value) {
			f.Direction = d.String()
			f.Conclude(quantity.Measured, value, message.New("strength.bound", message.Word("direction", f.Direction),
				message.Number("lower", lower), message.Number("asked", setup.OperateGF), message.Exact("reserve", value)))
		}
	}
}

// Wanted is how many more force readings a direction needs before somebody may
// drive alone by them.
type Wanted struct {
	Direction     Direction
	Rested, Tired int
}

// Evidence lists the needed directions that were measured too seldom: rested
// each of them three times, tired only the weakest twice, since every full
// effort tires. The weakest is the one with the least usable force, and also
// the one that was weakest rested: as long as not every direction was measured
// tired, nobody knows which of the two it is.
func (a *Analysis) Evidence(setup *Setup) []Wanted {
	if setup == nil || setup.OperateGF == 0 {
		return nil
	}
	var list []Wanted
	site := a.At(setup.Site)
	usable, rested := site.weakest(setup.Needed)
	for _, d := range setup.Needed {
		p := &site.Force[d]
		w := Wanted{Direction: d, Rested: max(0, RepeatsWanted-p.Rested.N)}
		if d == usable || d == rested {
			w.Tired = max(0, TiredWanted-p.Tired.N)
		}
		if w.Rested+w.Tired > 0 {
			list = append(list, w)
		}
	}
	return list
}

// weakest returns the needed direction with the least usable force and the one
// with the least force rested.
func (s *Site) weakest(needed []Direction) (usable, rested Direction) {
	for _, d := range needed {
		p := &s.Force[d]
		if p.Measured() && (usable == NoDirection || p.usable() < s.Force[usable].usable()) {
			usable = d
		}
		if p.Rested.N > 0 && (rested == NoDirection || p.Rested.Mean < s.Force[rested].Rested.Mean) {
			rested = d
		}
	}
	return usable, rested
}

// Odd lists the needed directions in which one reading lies far from the
// others, rested or tired.
func (s *Site) Odd(needed []Direction) []Direction {
	var list []Direction
	for _, d := range needed {
		if s.Force[d].RestedOdd || s.Force[d].TiredOdd {
			list = append(list, d)
		}
	}
	return list
}

// Say names the readings that are wanted.
func (w Wanted) Say() message.Message {
	to := message.Word("direction", w.Direction.String())
	switch {
	case w.Tired == 0:
		return message.New("strength.wanted-rested", to, message.Count("rested", w.Rested))
	case w.Rested == 0:
		return message.New("strength.wanted-tired", to, message.Count("tired", w.Tired))
	}
	return message.New("strength.wanted-both", to, message.Count("rested", w.Rested), message.Count("tired", w.Tired))
}
