//go:build race

package engine_test

// The race detector makes scoring five times slower and has nothing to find in
// code without shared state: a few visits do.
const (
	propertyVisits = 250
	ordersTried    = 50
	headlines      = 400
	waysTried      = 600
)
