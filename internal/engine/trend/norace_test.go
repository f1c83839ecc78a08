//go:build !race

package trend_test

const kindsSimulated = 8
