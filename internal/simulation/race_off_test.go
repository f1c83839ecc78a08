//go:build !race

package simulation

// usualRuns is how many runs are played when nobody says otherwise; at night it is 10,000.
const usualRuns = 250
