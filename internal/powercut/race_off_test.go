//go:build !race

package powercut

// usualCuts is how many files are made when nobody says otherwise.
const usualCuts = 500
