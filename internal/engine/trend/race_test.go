//go:build race

package trend_test

// The race detector makes the simulation ten times slower and has nothing to find
// in code without shared state: one kind of person does.
const kindsSimulated = 1
