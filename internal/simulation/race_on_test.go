//go:build race

package simulation

// usualRuns is less under the race detector, which makes a run three times as
// long; "make test" plays all of them without it.
const usualRuns = 40
