//go:build !race

package engine_test

const (
	// propertyVisits is how many visits each property is tried on.
	propertyVisits = 2500
	// ordersTried is how many visits are scored in another order.
	ordersTried = 500
	// headlines is how many visits have their headline read at least.
	headlines = allHeadlines
	// waysTried is on how many visits the steps to the next level are taken.
	waysTried = 1200
)
