package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// usable fills in the forces that count, and returns those of each series.
func (f *Forecast) usable(all []Series) [][]float64 {
	var ratios []float64
	for _, s := range all {
		for _, v := range s.Visits {
			if !math.IsNaN(v.Tired) {
				ratios = append(ratios, min(1, v.Tired/v.Rested))
			}
		}
	}
	f.TiredRatio, f.TiredAssumed = TiredFactor, len(ratios) == 0
	if !f.TiredAssumed {
		f.TiredRatio = provenance.Round(median(ratios), 4)
	}
	forces := make([][]float64, len(all))
	for i, s := range all {
		for _, v := range s.Visits {
			force := v.Rested * f.TiredRatio
			if !math.IsNaN(v.Tired) {
				force = min(v.Rested, v.Tired)
			} else if !f.TiredAssumed {
				f.TiredLent++
			}
			forces[i] = append(forces[i], force)
			f.weaken(v.Day, force)
		}
	}
	for i := range f.Usable {
		u := &f.Usable[i]
		f.last, f.force = u.Day, u.Force
		u.Force = provenance.Round(u.Force, 4)
	}
	return forces
}

// weaken lets a force count on its day, in the order of days, where it is the
// least.
func (f *Forecast) weaken(day int, force float64) {
	i := len(f.Usable)
	for i > 0 && f.Usable[i-1].Day > day {
		i--
	}
	if i > 0 && f.Usable[i-1].Day == day {
		u := &f.Usable[i-1]
		u.Force = min(u.Force, force)
		return
	}
	f.Usable = append(f.Usable, DayForce{})
	copy(f.Usable[i+1:], f.Usable[i:])
	f.Usable[i] = DayForce{day, force}
}

// ascending is a copy in order. The few values of a client's visits need no
// quicker sort, and package slices would add 4 kB to what every tablet fetches.
func ascending(values []float64) []float64 {
	sorted := append([]float64{}, values...)
	for i := range sorted {
		for j := i; j > 0 && sorted[j] < sorted[j-1]; j-- {
			sorted[j], sorted[j-1] = sorted[j-1], sorted[j]
		}
	}
	return sorted
}

func median(values []float64) float64 {
	sorted := ascending(values)
	n := len(sorted)
	if n%2 == 1 {
		return sorted[n/2]
	}
	return (sorted[n/2-1] + sorted[n/2]) / 2
}

// outlook finds what a forecast can rest on; nil where there is nothing, which
// it says.
func (f *Forecast) outlook(c *Course, forces [][]float64) outlook {
	var lines []Line
	var names, left []string
	for i := range c.Series {
		s := &c.Series[i]
		if len(s.Visits) < LeastVisits || s.weeks() < LeastWeeks {
			left = append(left, s.Direction)
			continue
		}
		x := make([]float64, len(s.Visits))
		for j, v := range s.Visits {
			x[j] = float64(v.Day-f.last) / 7
		}
		// The days span weeks, so there is a line.
		line, _ := LeastSquares(x, forces[i])
		lines, names = append(lines, line), append(names, s.Direction)
	}
	if len(lines) == 0 {
		return f.judged(c)
	}
	f.Line = OwnData
	weakest := 0
	for i := range lines {
		if lines[i].at(0) < lines[weakest].at(0) {
			weakest = i
		}
	}
	f.Direction, f.Slope = names[weakest], provenance.Round(lines[weakest].slope, 4)
	s := scatterOf(lines)
	f.Scatter, f.ScatterAssumed = provenance.Round(100*s.share, 1), s.freedom == 0
	f.noteLines(lines, left)
	if len(lines) == 1 {
		return &oneLine{lines[0], s}
	}
	return newWeakest(lines, s)
}

// noteLines says what the band covers and what was left out.
func (f *Forecast) noteLines(lines []Line, left []string) {
	fewest := lines[0].N
	for i := range lines {
		fewest = min(fewest, lines[i].N)
	}
	visits, scatter := message.Count("visits", fewest), message.Number("scatter", f.Scatter)
	if f.ScatterAssumed {
		f.Notes = append(f.Notes, message.New("trend.band-few", visits, scatter))
	} else {
		f.Notes = append(f.Notes, message.New("trend.band-own", visits, scatter))
	}
	if len(lines) > 1 {
		f.Notes = append(f.Notes, message.New("trend.band-weakest", message.Count("directions", len(lines))))
	}
	if len(left) > 0 {
		f.Notes = append(f.Notes, message.New("trend.left-out", message.Words("directions", left)))
	}
}

// judged is the outlook by the therapist's own figure, nil without one.
func (f *Forecast) judged(c *Course) outlook {
	if math.IsNaN(c.JudgedLoss) {
		longest := &c.Series[0]
		for i := range c.Series {
			if s := &c.Series[i]; len(s.Visits) > len(longest.Visits) {
				longest = s
			}
		}
		f.Say = message.New("trend.too-few", message.Count("least-visits", LeastVisits), message.Number("least-weeks", LeastWeeks),
			message.Count("visits", len(longest.Visits)), message.Number("weeks", provenance.Round(longest.weeks(), 1)))
		return nil
	}
	f.Line, f.Slope = Judged, provenance.Round(-c.JudgedLoss, 4)
	f.Scatter, f.ScatterAssumed = 100*NoiseFloor, true
	f.Notes = append(f.Notes, message.New("trend.band-judged", message.Number("share", 100*BandShare), message.Number("scatter", f.Scatter)))
	return judgedLoss{f.force, c.JudgedLoss}
}

// weeks is the time from the first visit to the last.
func (s *Series) weeks() float64 { return float64(s.Visits[len(s.Visits)-1].Day-s.Visits[0].Day) / 7 }

func forecastProvenance() provenance.Provenance {
	return provenance.Of("formula.forecast", "source.own-forecast", provenance.Proposal)
}
