// Package panics words a panic that was caught so that others go on.
package panics

import (
	"fmt"
	"runtime"
	"runtime/debug"
)

// Cause says what was recovered, in words that can go into a log: the runtime's own
// errors as they are, and of anything else its type, because its text could hold
// what somebody typed.
func Cause(recovered any) string {
	if err, ok := recovered.(runtime.Error); ok {
		return err.Error()
	}
	return fmt.Sprintf("%T", recovered)
}

// Error is the error that a caught panic becomes: its Cause and the stack that it
// came from. It is called by the deferred function that recovered.
func Error(recovered any) error {
	return fmt.Errorf("panic: %s\n%s", Cause(recovered), debug.Stack())
}
