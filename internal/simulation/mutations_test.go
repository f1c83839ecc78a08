package simulation

import "testing"

// mutation is a mistake that the simulation can make on purpose.
type mutation int

const (
	noMutation       mutation = iota
	cursorFirst               // the cursor moves before the rows are written
	asideForgotten            // a tablet throws away what was set aside
	restoreKeepsLog           // a restored server keeps its log id
	seenFromClock             // an event says it has seen what it has not
	ackBeyond                 // a tablet takes what others sent under its name for its own
	answersUnchecked          // a tablet believes an answer that was changed on the way
)

// TestTheSimulationCanFail makes each mistake and expects it to be noticed.
func TestTheSimulationCanFail(t *testing.T) {}
