//go:build race

package passage_test

// The race detector makes the search ten times slower and finds nothing in
// code without shared state: a few chairs do.
const chairsSearched = 16
