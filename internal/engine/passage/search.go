package passage

// The searches below are fixed in their number of steps, so that every machine
// takes the same ones.

// golden is the golden section.
const golden = 0.6180339887498949

// peak finds the place between low and high where a function with one summit
// is largest, in the given number of steps, and its value there.
func peak(f func(float64) float64, low, high float64, steps int) (at, value float64) {
	a, b := high-golden*(high-low), low+golden*(high-low)
	fa, fb := f(a), f(b)
	for range steps {
		if fa >= fb {
			high, b, fb = b, a, fa
			a = high - golden*(high-low)
			fa = f(a)
		} else {
			low, a, fa = a, b, fb
			b = low + golden*(high-low)
			fb = f(b)
		}
	}
	if fa >= fb {
		return a, fa
	}
	return b, fb
}

// highest finds the largest value of a function that may have several summits:
// it looks at n+1 places and refines about those higher than both neighbours.
func highest(f func(float64) float64, low, high float64, n, refine int) (at, value float64) {
	step := (high - low) / float64(n)
	values := make([]float64, n+1)
	for i := range values {
		values[i] = f(low + step*float64(i))
	}
	at, value = low, values[0]
	for i, v := range values {
		if i > 0 && values[i-1] > v || i < n && values[i+1] > v {
			continue
		}
		x := low + step*float64(i)
		if v > value {
			at, value = x, v
		}
		if best, top := peak(f, max(low, x-step), min(high, x+step), refine); top > value {
			at, value = best, top
		}
	}
	return at, value
}

// lowest is highest turned round.
func lowest(f func(float64) float64, low, high float64, n, refine int) (at, value float64) {
	at, value = highest(func(x float64) float64 { return -f(x) }, low, high, n, refine)
	return at, -value
}

// most finds the largest x between low and high for which ok holds, when it
// holds up to some x and not beyond, to within (high-low)/2^steps. It returns
// low when it holds nowhere.
func most(ok func(float64) bool, low, high float64, steps int) float64 {
	if ok(high) {
		return high
	}
	for range steps {
		if mid := (low + high) / 2; ok(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}
