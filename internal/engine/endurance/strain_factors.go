package endurance

import "math"

// intensityFactor: up to 0.4, 30 I³ − 15.6 I² + 13 I + 0.4; above,
// 36 I³ − 33.3 I² + 24.77 I − 1.86.
func intensityFactor(i float64) float64 {
	if i <= 0.4 {
		return float64(float64(float64(30*i-15.6)*i+13)*i) + 0.4
	}
	return float64(float64(float64(36*i-33.3)*i+24.77)*i) - 1.86
}

// effortsFactor: up to 90, 0.10 + 0.25 E; above, 0.00334 E^1.96.
func effortsFactor(e float64) float64 {
	if e <= 90 {
		return 0.10 + 0.25*e
	}
	return 0.00334 * math.Pow(e, 1.96)
}

// durationFactor: up to 60 s, 0.45 + 0.31 D; above, 19.17 ln D − 59.44.
func durationFactor(d float64) float64 {
	if d <= 60 {
		return 0.45 + 0.31*d
	}
	return 19.17*math.Log(d) - 59.44
}

// postureFactor: flexion 1.2 e^(0.009 P) − 0.2; extension 1 up to 30 degrees,
// above 1 + 0.00028 (P − 30)².
func postureFactor(w Wrist, p float64) float64 {
	if w == Flexion {
		return 1.2*math.Exp(0.009*p) - 0.2
	}
	if p <= 30 {
		return 1
	}
	return 1 + 0.00028*(p-30)*(p-30)
}

// hoursFactor: up to 0.05 h, 0.20; above, 0.042 H + 0.090 ln H + 0.477. The
// published pieces step from 0.200 to 0.210 at 0.05 h.
func hoursFactor(h float64) float64 {
	if h <= 0.05 {
		return 0.20
	}
	return 0.042*h + 0.090*math.Log(h) + 0.477
}
