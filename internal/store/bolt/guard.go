package bolt

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"

	"doorsill/internal/store"
)

// library is where panics come from when a page of the file makes no sense.
const library = "go.etcd.io/bbolt"

// guarded calls fn and turns what a damaged file does into store.ErrDamaged:
// the library panics at a page that makes no sense, and a wild offset reads
// memory that is not mapped, which would end the program. A panic of our own
// code goes through as it is, with its stack.
func guarded(fn func() error) (err error) {
	before := debug.SetPanicOnFault(true)
	done := false
	defer func() {
		debug.SetPanicOnFault(before)
		if done || !fromFile() {
			return
		}
		err = fmt.Errorf("%w: %v", store.ErrDamaged, recover())
	}()
	err = fn()
	done = true
	return err
}

// fromFile says whether the panic under way was raised by the library or by
// reading memory that is not there. It looks at the stack, because a panic that
// is recovered and raised again would lose its own.
func fromFile() bool {
	var callers [64]uintptr
	frames := runtime.CallersFrames(callers[:runtime.Callers(2, callers[:])])
	panicking := false
	for {
		frame, more := frames.Next()
		switch {
		case frame.Function == "runtime.gopanic":
			panicking = true
		case panicking && frame.Function == "runtime.panicmemAddr":
			return true
		case panicking && !strings.HasPrefix(frame.Function, "runtime."):
			return strings.HasPrefix(frame.Function, library)
		}
		if !more {
			return false
		}
	}
}
