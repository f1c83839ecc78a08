package strength

// Site is what was measured at one body site.
type Site struct {
	ID string
	// Force and Travel are by direction, Switch by switch and direction.
	Force, Travel [directions]Pair
	Switch        [switches][directions]Pair
	// handled is what was found with each control at the site.
	handled []handling
	// support says by kind of reading which of the two supports counts.
	support [kinds]support
	// taken has a bit for each direction and state in which a kind was read.
	taken [kinds]uint16
}

const kinds = int(Breath) + 1

// support is which readings of a kind count at a site.
type support struct{ supported, unsupported int }

func (b support) any() bool { return b.supported+b.unsupported > 0 }

// uses reports whether a reading with that support counts: the supported ones
// as soon as there are any, since that is how the person will drive.
func (b support) uses(supported bool) bool { return supported == (b.supported > 0) }

// leftOut counts the readings that do not count because others were taken with
// support.
func (b support) leftOut() int {
	if b.supported > 0 {
		return b.unsupported
	}
	return 0
}

// Pair is one thing measured rested and tired.
type Pair struct {
	Rested, Tired       Repeats
	RestedOdd, TiredOdd bool // one reading is far from the middle one
}

// Measured reports whether there is any reading.
func (p *Pair) Measured() bool { return p.Rested.N+p.Tired.N > 0 }

// Usable returns what can be planned on: the smaller of the rested and the
// tired mean. With rested readings alone it is a share of them, assumed.
func (p *Pair) Usable() (value float64, assumed bool) {
	if p.Tired.N == 0 {
		return p.Rested.Mean * TiredFactor, true
	}
	return p.Least(), false
}

// Least returns the smaller of the means that there are.
func (p *Pair) Least() float64 {
	switch {
	case p.Tired.N == 0:
		return p.Rested.Mean
	case p.Rested.N == 0:
		return p.Tired.Mean
	}
	return min(p.Rested.Mean, p.Tired.Mean)
}

func (p *Pair) usable() float64 {
	value, _ := p.Usable()
	return value
}

// measure fills the site from the readings taken there.
func (s *Site) measure(readings []Reading) {
	for i := range readings {
		if r := &readings[i]; r.Site == s.ID {
			if r.Supported {
				s.support[r.What].supported++
			} else {
				s.support[r.What].unsupported++
			}
			s.taken[r.What] |= series(r.Direction, r.Tired)
		}
	}
	var room [16]float64
	for d := NoDirection; d < directions; d++ {
		s.pair(&s.Force[d], Force, d, readings, room[:])
		s.pair(&s.Travel[d], Travel, d, readings, room[:])
		for at := range s.Switch {
			s.pair(&s.Switch[at][d], SwitchForce+What(at), d, readings, room[:])
		}
	}
	for i := range readings {
		if r := &readings[i]; r.Site == s.ID && s.support[r.What].uses(r.Supported) {
			s.handle(r)
		}
	}
}

func (s *Site) pair(p *Pair, what What, d Direction, readings []Reading, room []float64) {
	if s.taken[what]&series(d, false) != 0 {
		p.RestedOdd = s.repeats(&p.Rested, what, d, false, readings, room)
	}
	if s.taken[what]&series(d, true) != 0 {
		p.TiredOdd = s.repeats(&p.Tired, what, d, true, readings, room)
	}
}

// series is the bit of a direction and a state.
func series(d Direction, tired bool) uint16 {
	if tired {
		return 2 << (2 * d)
	}
	return 1 << (2 * d)
}

// repeats sums up one series and reports whether one reading is odd. Values
// were checked when they were read.
func (s *Site) repeats(into *Repeats, what What, d Direction, tired bool, readings []Reading, room []float64) (isOdd bool) {
	values := room[:0]
	for i := range readings {
		r := &readings[i]
		if r.What == what && r.Direction == d && r.Tired == tired && r.Site == s.ID && s.support[what].uses(r.Supported) {
			values = append(values, r.Value)
		}
	}
	if len(values) == 0 {
		return false
	}
	into.sum(values)
	return odd(values)
}

// odd reports whether one of at least three readings is more than twice or
// less than half of the middle one.
func odd(values []float64) bool {
	if len(values) < RepeatsWanted {
		return false
	}
	middle := median(values)
	for _, v := range values {
		if isOdd(v, middle) {
			return true
		}
	}
	return false
}

// median sorts values in place and returns the middle one, of an even number
// the lower of the two.
func median(values []float64) float64 {
	for i := range values {
		for j := i; j > 0 && values[j] < values[j-1]; j-- {
			values[j], values[j-1] = values[j-1], values[j]
		}
	}
	return values[(len(values)-1)/2]
}
