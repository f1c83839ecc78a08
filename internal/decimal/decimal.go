// Package decimal holds the numbers that are compared and shown. A value is
// rounded once to six decimals; from there on every comparison and every
// rounding is done in whole numbers, so that two kinds of machine cannot
// disagree about a last digit.
package decimal

import (
	"math"
	"strconv"
)

// Micro is a number in millionths.
type Micro int64

// One is the number 1.
const One Micro = 1_000_000

// Places is how many decimals a Micro holds.
const Places = 6

// most is the largest amount that Of accepts; it leaves room for sums.
const most = 1e12

// Of rounds x to six decimals, a half away from zero. It reports false when x
// is not a number, infinite, or beyond a million million.
func Of(x float64) (Micro, bool) {
	if !(math.Abs(x) <= most) {
		return 0, false
	}
	// The conversion keeps the product apart from the sum: a processor that
	// fuses the two would round once instead of twice.
	scaled := math.Floor(float64(math.Abs(x)*1e6) + 0.5)
	if x < 0 {
		scaled = -scaled
	}
	return Micro(scaled), true
}

// Int returns a whole number.
func Int(n int) Micro { return Micro(n) * One }

// Float returns the number for a template of package say; it comes back from Of
// as it was.
func (m Micro) Float() float64 { return float64(m) / float64(One) }

// steps are one unit of the last of the decimals that stay, in millionths; read
// only.
var steps = [...]Micro{1_000_000, 100_000, 10_000, 1000, 100, 10, 1}

func step(decimals int) Micro { return steps[max(min(decimals, Places), 0)] }

// Down rounds to the given decimals towards smaller numbers.
func (m Micro) Down(decimals int) Micro {
	unit := step(decimals)
	rest := m % unit
	if rest < 0 {
		rest += unit
	}
	return m - rest
}

// Up rounds to the given decimals towards larger numbers.
func (m Micro) Up(decimals int) Micro { return -(-m).Down(decimals) }

// Near rounds to the given decimals, a half away from zero.
func (m Micro) Near(decimals int) Micro {
	unit := step(decimals)
	if m < 0 {
		return -(-m).Near(decimals)
	}
	return (m + unit/2).Down(decimals)
}

// Fixed writes the number with exactly that many decimals, rounded to the
// nearest: 2.9 with two decimals is "2.90".
func (m Micro) Fixed(decimals int) string {
	var room [32]byte
	return string(m.appendFixed(room[:0], decimals))
}

func (m Micro) appendFixed(b []byte, decimals int) []byte {
	m = m.Near(decimals)
	if m < 0 {
		b = append(b, '-')
		m = -m
	}
	b = strconv.AppendInt(b, int64(m/One), 10)
	if decimals <= 0 {
		return b
	}
	b = append(b, '.')
	for part := m % One * 10; decimals > 0; decimals-- {
		b = append(b, '0'+byte(part/One))
		part = part % One * 10
	}
	return b
}

// Short writes the number with at most that many decimals, rounded to the
// nearest and without trailing zeros: 2.9 is "2.9", 3 is "3".
func (m Micro) Short(decimals int) string {
	var room [32]byte
	return string(m.AppendShort(room[:0], decimals))
}

// AppendShort appends what Short writes.
func (m Micro) AppendShort(b []byte, decimals int) []byte {
	b = m.appendFixed(b, decimals)
	if decimals <= 0 {
		return b
	}
	end := len(b)
	for b[end-1] == '0' {
		end--
	}
	if b[end-1] == '.' {
		end--
	}
	return b[:end]
}

// Text writes the number with as many decimals as it has.
func (m Micro) Text() string { return m.Short(Places) }

// Ratio returns a divided by b, rounded to six decimals. It reports false when
// b is zero.
func Ratio(a, b float64) (Micro, bool) {
	if b == 0 {
		return 0, false
	}
	return Of(a / b)
}
