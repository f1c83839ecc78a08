//go:build race

package powercut

// usualCuts is less under the race detector, which makes looking at a file ten
// times as slow and has nothing to find in it.
const usualCuts = 20
