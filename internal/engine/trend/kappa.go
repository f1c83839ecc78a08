package trend

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Weights says how a disagreement counts.
type Weights string

const (
	Plain     Weights = "unweighted" // every disagreement alike
	Linear    Weights = "linear"     // by the number of levels
	Quadratic Weights = "quadratic"  // by its square
)

// Coefficient is an agreement beyond chance.
type Coefficient struct {
	Weights Weights
	// Kappa is at most 1, 4 decimals; SE its large-sample standard error, 5
	// decimals; Low and High bound it with 95 % confidence, 4 decimals, within
	// −1 and 1, where Bounded. Without a large-sample interval SE is 0.
	Kappa, SE, Low, High float64
	Bounded              bool
	// Observed and Expected agreement, 0 to 1, 4 decimals.
	Observed, Expected float64
	// Word is the usual one: slight or less to 0.20, fair to 0.40, moderate to
	// 0.60, substantial to 0.80, almost perfect above.
	Word message.Message
	provenance.Provenance
}

// Kappa returns Cohen's kappa of two raters from their table of counts, rows
// the first rater's levels and columns the second's:
//
//	κ = (po − pe)/(1 − pe)
//
// with weighted agreement po, agreement by chance pe, and weights 1 − |i−j|/(k−1)
// (linear), 1 − (i−j)²/(k−1)² (quadratic) or none. The standard error is the
// large-sample one of Fleiss, Cohen and Everitt; it is rough for few pairs.
// Name the weights with the number: they change it. It refuses tables that are
// not square, smaller than 2×2 or larger than 20×20, empty or with negative
// counts, and raters who always gave the same level, for whom chance explains
// everything.
//
// Cohen, Educ Psychol Meas 1960;20:37–46 and Psychol Bull 1968;70:213–220;
// Fleiss, Cohen and Everitt, Psychol Bull 1969;72:323–327. Published.
func Kappa(table [][]int, w Weights) (Coefficient, error) {
	weight, err := weights(w, len(table))
	if err != nil {
		return Coefficient{}, err
	}
	c, err := kappaWith(table, weight)
	if err != nil {
		return Coefficient{}, err
	}
	c.Weights = w
	c.Provenance = kappaProvenance(w)
	return c, nil
}

func weights(w Weights, levels int) (func(i, j int) float64, error) {
	most := float64(levels - 1)
	switch w {
	case Plain:
		return func(i, j int) float64 {
			if i == j {
				return 1
			}
			return 0
		}, nil
	case Linear:
		return func(i, j int) float64 { return 1 - math.Abs(float64(i-j))/most }, nil
	case Quadratic:
		return func(i, j int) float64 { d := float64(i-j) / most; return 1 - d*d }, nil
	}
	return nil, provenance.NewRefusal(message.New("trend.no-weights", message.Word("field", "weights"), stillPlain()))
}

// stillPlain says what can be given without a coefficient.
func stillPlain() message.Arg { return message.Inner("still", message.New("trend.still-plain")) }

// margins are the totals of a table.
type margins struct {
	n          float64
	rows, cols []float64
}

func marginsOf(table [][]int) (margins, error) {
	k := len(table)
	if k < 2 || k > 20 {
		return margins{}, provenance.NewRefusal(message.New("trend.table-levels", message.Word("field", "table"), stillPlain()))
	}
	m := margins{rows: make([]float64, k), cols: make([]float64, k)}
	for i, row := range table {
		if len(row) != k {
			return margins{}, provenance.NewRefusal(message.New("trend.table-not-square", message.Word("field", "table"), message.Count("row", i+1), message.Count("rows", k), stillPlain()))
		}
		for j, count := range row {
			if count < 0 {
				return margins{}, provenance.NewRefusal(message.New("trend.table-below-0", message.Word("field", "table"), message.Count("row", i+1), stillPlain()))
			}
			x := float64(count)
			m.n, m.rows[i], m.cols[j] = m.n+x, m.rows[i]+x, m.cols[j]+x
		}
	}
	if m.n == 0 {
		return margins{}, provenance.NewRefusal(message.New("trend.table-empty", message.Word("field", "table")))
	}
	for i := range m.rows {
		m.rows[i], m.cols[i] = m.rows[i]/m.n, m.cols[i]/m.n
	}
	return m, nil
}

// kappaWith takes any weights of agreement.
func kappaWith(table [][]int, weight func(i, j int) float64) (Coefficient, error) {
	m, err := marginsOf(table)
	if err != nil {
		return Coefficient{}, err
	}
	observed := overPairs(len(table), func(i, j int) float64 { return weight(i, j) * float64(table[i][j]) / m.n })
	expected := overPairs(len(table), func(i, j int) float64 { return weight(i, j) * (m.rows[i] * m.cols[j]) })
	if 1-expected < 1e-12 {
		return Coefficient{}, provenance.NewRefusal(message.New("trend.one-level-given", message.Word("field", "levels-given")))
	}
	kappa := (observed - expected) / (1 - expected)
	se := kappaSE(table, m, weight, observed, expected)
	round := func(x float64) float64 { return provenance.Round(x, 4) }
	return Coefficient{
		Kappa: round(kappa), Bounded: true, SE: provenance.Round(se, 5),
		Low: round(max(-1, kappa-normal975*se)), High: round(min(1, kappa+normal975*se)),
		Observed: round(observed), Expected: round(expected), Word: kappaWord(round(kappa)),
	}, nil
}

// overPairs sums over all cells, a cell together with its mirror, so that
// swapping the raters gives the same bits.
func overPairs(k int, cell func(i, j int) float64) float64 {
	sum := 0.0
	for i := range k {
		sum += cell(i, i)
		for j := i + 1; j < k; j++ {
			sum += cell(i, j) + cell(j, i)
		}
	}
	return sum
}

// kappaSE is the large-sample standard error.
func kappaSE(table [][]int, m margins, weight func(i, j int) float64, observed, expected float64) float64 {
	k := len(table)
	rows, cols := make([]float64, k), make([]float64, k) // mean weights
	for i := range k {
		for j := range k {
			rows[i] += weight(i, j) * m.cols[j]
			cols[i] += weight(j, i) * m.rows[j]
		}
	}
	sum := overPairs(k, func(i, j int) float64 {
		part := float64(weight(i, j)*(1-expected)) - float64((rows[i]+cols[j])*(1-observed))
		return float64(table[i][j]) / m.n * (part * part)
	})
	less := observed*expected - 2*expected + observed
	return math.Sqrt(max(0, sum-less*less)/m.n) / ((1 - expected) * (1 - expected))
}

func kappaWord(kappa float64) message.Message {
	switch {
	case kappa > 0.80:
		return message.New("trend.kappa-almost-perfect")
	case kappa > 0.60:
		return message.New("trend.kappa-substantial")
	case kappa > 0.40:
		return message.New("trend.kappa-moderate")
	case kappa > 0.20:
		return message.New("trend.kappa-fair")
	}
	return message.New("trend.kappa-slight")
}

func kappaProvenance(w Weights) provenance.Provenance {
	return provenance.Provenance{Formula: message.New("formula.kappa", message.Word("weights", string(w))),
		Source: message.New("source.kappa"), Status: provenance.Published}
}
