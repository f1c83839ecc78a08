//go:build !race

package simulation

// usualRuns is how many runs are played when nobody says otherwise.
const usualRuns = 500
