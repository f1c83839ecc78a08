package strength

// tTwoSided returns the quantile of Student's t at 97.5 %, for an interval
// that holds the mean 95 times in 100. df is at least 1.
func tTwoSided(df int) float64 {
	table := [...]float64{
		12.706204736, 4.302652730, 3.182446305, 2.776445105, 2.570581836, 2.446911851,
		2.364624252, 2.306004135, 2.262157163, 2.228138852, 2.200985160, 2.178812830,
		2.160368656, 2.144786688, 2.131449546, 2.119905299, 2.109815578, 2.100922040,
		2.093024054, 2.085963447, 2.079613845, 2.073873068, 2.068657610, 2.063898562,
		2.059538553, 2.055529439, 2.051830516, 2.048407142, 2.045229642, 2.042272456,
	}
	if df <= len(table) {
		return table[df-1]
	}
	const z = 1.959963984540054
	return expand(df, [5]float64{z, g1(z), g2(z), g3(z), g4(z)})
}

// tOneSided returns the quantile of Student's t at 95 %, for a bound from one
// side. df is at least 1.
func tOneSided(df int) float64 {
	table := [...]float64{
		6.313751515, 2.919985580, 2.353363435, 2.131846786, 2.015048373, 1.943180281,
		1.894578605, 1.859548038, 1.833112933, 1.812461123, 1.795884819, 1.782287556,
		1.770933396, 1.761310136, 1.753050356, 1.745883676, 1.739606726, 1.734063607,
		1.729132812, 1.724718243, 1.720742903, 1.717144374, 1.713871528, 1.710882080,
		1.708140761, 1.705617920, 1.703288446, 1.701130934, 1.699127027, 1.697260887,
	}
	if df <= len(table) {
		return table[df-1]
	}
	const z = 1.6448536269514722
	return expand(df, [5]float64{z, g1(z), g2(z), g3(z), g4(z)})
}

// expand sums the expansion of Student's t around the normal quantile in
// powers of 1/df (Abramowitz and Stegun 1964, 26.7.5). Beyond 30 degrees of
// freedom it is right to seven decimals; it needs no logarithm, whose last
// digits differ between machines.
func expand(df int, terms [5]float64) float64 {
	sum, power := 0.0, 1.0
	for _, term := range terms {
		sum += term / power
		power *= float64(df)
	}
	return sum
}

func g1(z float64) float64 { return (cube(z) + z) / 4 }

func g2(z float64) float64 {
	return (float64(5*fifth(z)) + float64(16*cube(z)) + float64(3*z)) / 96
}

func g3(z float64) float64 {
	return (float64(3*seventh(z)) + float64(19*fifth(z)) + float64(17*cube(z)) - float64(15*z)) / 384
}

func g4(z float64) float64 {
	ninth := seventh(z) * z * z
	return (float64(79*ninth) + float64(776*seventh(z)) + float64(1482*fifth(z)) -
		float64(1920*cube(z)) - float64(945*z)) / 92160
}

func cube(z float64) float64    { return z * z * z }
func fifth(z float64) float64   { return cube(z) * z * z }
func seventh(z float64) float64 { return fifth(z) * z * z }
