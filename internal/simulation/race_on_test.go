//go:build race

package simulation

// usualRuns is less under the race detector, which makes a run three times as
// long; "make test" plays the rest without it.
const usualRuns = 100
