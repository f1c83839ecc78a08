package trend

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Reliability is the agreement of raters on a measured value.
type Reliability struct {
	// Targets are rows, Raters columns.
	Targets, Raters int
	// ICC is ICC(2,1), at most 1, 4 decimals; Low and High bound it with 95 %
	// confidence, 4 decimals, when Bounded.
	ICC, Low, High float64
	Bounded        bool
	// BetweenTargets, BetweenRaters and Rest are the mean squares, 6 decimals.
	BetweenTargets, BetweenRaters, Rest float64
	Say                                 message.Message
	provenance.Provenance
}

// ICC returns ICC(2,1), two-way random effects, absolute agreement, a single
// rater, of a table with a row for each target and a column for each rater:
//
//	ICC = (MSB − MSE)/(MSB + (k−1)·MSE + k·(MSJ − MSE)/n)
//
// with an interval from F quantiles after Satterthwaite. It refuses fewer than
// two targets or raters, rows of different length, values that are no numbers,
// and targets that do not differ. When the raters agree in everything the
// ICC is 1 and has no interval. ICC(2,1) is not ICC(3,1), which forgives a
// rater who always measures more.
//
// Shrout and Fleiss, Psychol Bull 1979;86(2):420–428; interval: McGraw and
// Wong, Psychol Methods 1996;1:30–46 (citation from memory). Published.
func ICC(rows [][]float64) (Reliability, error) {
	if err := checkRatings(rows); err != nil {
		return Reliability{}, err
	}
	s := squaresOf(rows)
	// Of two targets that two raters give the other way round nothing is left below.
	below := s.msb + (s.k-1)*s.mse + s.k*(s.msj-s.mse)/s.n
	if below <= 1e-12*s.all {
		return Reliability{}, targetsSame()
	}
	icc := (s.msb - s.mse) / below
	r := Reliability{
		Targets: int(s.n), Raters: int(s.k), ICC: provenance.Round(icc, 4),
		BetweenTargets: provenance.Round(s.msb, 6), BetweenRaters: provenance.Round(s.msj, 6), Rest: provenance.Round(s.mse, 6),
		Provenance: provenance.Of("formula.icc", "source.icc", provenance.Published),
	}
	r.bound(s, icc)
	r.Say = r.sentence()
	return r, nil
}

func (r *Reliability) sentence() message.Message {
	icc, targets := message.Number("icc", provenance.Round(r.ICC, 2)), message.Count("targets", r.Targets)
	if !r.Bounded {
		return message.New("trend.icc", icc, targets)
	}
	return message.New("trend.icc-bounded", icc, targets,
		message.Number("low", provenance.Round(r.Low, 2)), message.Number("high", provenance.Round(r.High, 2)))
}

// stillApart says what can be given without an ICC.
func stillApart() message.Arg { return message.Inner("still", message.New("trend.still-apart")) }

func targetsSame() error {
	return provenance.NewRefusal(message.New("trend.targets-same", message.Word("field", "values"), stillApart()))
}

func checkRatings(rows [][]float64) error {
	if len(rows) < 2 || len(rows) > 10000 {
		return provenance.NewRefusal(message.New("trend.too-few-rated", message.Word("field", "targets"), stillApart()))
	}
	k := len(rows[0])
	if k < 2 || k > 100 {
		return provenance.NewRefusal(message.New("trend.too-few-rated", message.Word("field", "raters"), stillApart()))
	}
	differ := false
	for i, row := range rows {
		if len(row) != k {
			return provenance.NewRefusal(message.New("trend.target-incomplete", message.Word("field", "target"), message.Count("n", i+1), message.Count("raters", k)))
		}
		for _, x := range row {
			if !isNumber(x) || x < -1e9 || x > 1e9 {
				return provenance.NewRefusal(message.New("trend.target-no-number", message.Word("field", "target"), message.Count("n", i+1)))
			}
			differ = differ || x != rows[0][0]
		}
	}
	if !differ {
		// Their sums leave differences behind, of which an ICC can be made.
		return targetsSame()
	}
	return nil
}

// squares are the mean squares of a two-way table.
type squares struct{ n, k, msb, msj, mse, all float64 }

func squaresOf(rows [][]float64) squares {
	s := squares{n: float64(len(rows)), k: float64(len(rows[0]))}
	grand := 0.0
	byRow, byRater := make([]float64, len(rows)), make([]float64, len(rows[0]))
	for i, row := range rows {
		for j, x := range row {
			byRow[i] += x / s.k
			byRater[j] += x / s.n
			grand += x / (s.n * s.k)
		}
	}
	var ssb, ssj float64
	for i, row := range rows {
		ssb += s.k * square(byRow[i]-grand)
		for _, x := range row {
			s.all += square(x - grand)
		}
	}
	for _, mean := range byRater {
		ssj += s.n * square(mean-grand)
	}
	// What sums of equal values leave behind is not a difference.
	rest := max(0, s.all-ssb-ssj)
	if rest < 1e-12*s.all {
		rest = 0
	}
	s.msb, s.msj, s.mse = ssb/(s.n-1), ssj/(s.k-1), rest/((s.n-1)*(s.k-1))
	return s
}

func square(x float64) float64 { return x * x }

// bound sets the interval.
func (r *Reliability) bound(s squares, icc float64) {
	if s.mse == 0 {
		return
	}
	f := s.msj / s.mse
	rest := s.n*(1+(s.k-1)*icc) - s.k*icc
	top := (s.k - 1) * (s.n - 1) * square(s.k*icc*f+rest)
	bottom := (s.n-1)*square(s.k*icc*f) + square(rest)
	df := top / bottom
	upper, lower := fQuantile(0.975, s.n-1, df), fQuantile(0.975, df, s.n-1)
	raters := s.k*s.msj + (s.k*s.n-s.k-s.n)*s.mse
	low := s.n * (s.msb - upper*s.mse) / (upper*raters + s.n*s.msb)
	high := s.n * (lower*s.msb - s.mse) / (raters + s.n*lower*s.msb)
	// With very few targets the bounds may cross, and then bound nothing.
	if !(low <= icc && icc <= high) {
		return
	}
	r.Bounded = true
	r.Low, r.High = provenance.Round(low, 4), provenance.Round(high, 4)
}
