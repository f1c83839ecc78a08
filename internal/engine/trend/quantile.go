package trend

import "math"

// betaPart is the regularised incomplete beta function I(x; a, b), x from 0 to 1, by its
// continued fraction (modified Lentz). It is good to about 1e-12.
func betaPart(x, a, b float64) float64 {
	// The fraction is quick below the mean and slow above it.
	if x > (a+1)/(a+b+2) {
		return 1 - betaPart(1-x, b, a)
	}
	la, _ := math.Lgamma(a)
	lb, _ := math.Lgamma(b)
	lab, _ := math.Lgamma(a + b)
	front := math.Exp(lab - la - lb + float64(a*math.Log(x)) + float64(b*math.Log1p(-x)))
	return front / a * betaFraction(x, a, b)
}

// betaFraction is the continued fraction of betaPart.
func betaFraction(x, a, b float64) float64 {
	const tiny, enough, most = 1e-300, 1e-15, 500
	keep := func(v float64) float64 {
		if math.Abs(v) < tiny {
			return tiny
		}
		return v
	}
	c, d := 1.0, 1/keep(1-(a+b)*x/(a+1))
	result := d
	for i := 1; i <= most; i++ {
		m := float64(i)
		even := m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		d, c = 1/keep(1+even*d), keep(1+even/c)
		result *= d * c
		odd := -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		d, c = 1/keep(1+odd*d), keep(1+odd/c)
		step := d * c
		result *= step
		if math.Abs(step-1) < enough {
			break
		}
	}
	return result
}

// betaQuantile is the x at which betaPart reaches p, by halving.
func betaQuantile(p, a, b float64) float64 {
	low, high := 0.0, 1.0
	for range 200 {
		mid := (low + high) / 2
		if mid == low || mid == high {
			break
		}
		if betaPart(mid, a, b) < p {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// fQuantile is the value that an F variable with d1 and d2 degrees of freedom
// (above 0, not only whole) stays below with probability p:
//
//	d2·x/(d1·(1 − x)) with I(x; d1/2, d2/2) = p
//
// Definition of the F distribution.
func fQuantile(p, d1, d2 float64) float64 {
	// The smaller tail keeps its digits.
	if p > 0.5 {
		return 1 / fQuantile(1-p, d2, d1)
	}
	x := betaQuantile(p, d1/2, d2/2)
	return d2 * x / (d1 * (1 - x))
}

// tQuantile is the value that Student's t stays below with probability p, 0.5
// to 1 without the ends. Its square is an F variable with 1 and df degrees of
// freedom.
func tQuantile(p, df float64) float64 { return math.Sqrt(fQuantile(2*p-1, 1, df)) }

// tChance is the probability that Student's t stays below a value.
func tChance(value, df float64) float64 {
	tail := betaPart(df/(df+float64(value*value)), df/2, 0.5) / 2
	if value < 0 {
		return tail
	}
	return 1 - tail
}

// normalChance is the probability that a normal variable stays below a value.
func normalChance(value float64) float64 { return math.Erfc(-value/math.Sqrt2) / 2 }

// normalQuantile is the value that a normal variable stays below with
// probability p, 0.5 to 1 without the ends, by halving.
func normalQuantile(p float64) float64 {
	low, high := 0.0, 10.0
	for range 60 {
		if mid := (low + high) / 2; normalChance(mid) < p {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// normal975 is the point of the normal distribution at 97.5 %.
const normal975 = 1.959963984540054
