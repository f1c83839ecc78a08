//go:build wasip1

// Command engine is the tablet's program in the browser: a thin shim that hands
// questions to package tablet and answers back. It is a library of four functions
// over its memory:
//
//	_initialize()               starts the Go runtime
//	room(n) pointer             place for a question of n bytes
//	ask() length                answers the question that was written there
//	answer() pointer            where the answer stands until the next question
//
// A question is the name of an op, a line break and JSON; an answer is JSON. Which
// ops there are stands in package tablet, what they take and give in
// internal/model/program.go. A mistake of the program ends it: the next question
// needs another one.
//
// It needs of the browser what WASI, an open standard, asks of one: no more than
// a clock and random bytes. Speaking to JavaScript's own values would take a
// loader of 2 kB and 20 kB of program more, and time at every call.
//
// It imports neither fmt nor encoding/json: with them it would weigh a third more.
// A test holds that.
package main

import (
	"slices"
	"unsafe"

	"doorsill/internal/tablet"
)

// state is what stays between calls. Exported functions carry nothing of their
// own, so this is the one variable of the program.
var state struct {
	question []byte
	answer   []byte
	asked    chan struct{}
	answered chan struct{}
}

// init starts the one goroutine that answers. Every call from outside gets a new
// one, whose stack would have to grow again for each visit: a fifth of the time.
func init() {
	state.asked, state.answered = make(chan struct{}), make(chan struct{})
	go func() {
		program := tablet.New()
		for range state.asked {
			end := max(0, slices.Index(state.question, '\n'))
			state.answer = program.Ask(string(state.question[:end]), state.question[min(end+1, len(state.question)):])
			state.answered <- struct{}{}
		}
	}()
}

func main() {}

//go:wasmexport room
func room(n int32) unsafe.Pointer {
	if int(n) > cap(state.question) {
		state.question = make([]byte, n)
	}
	state.question = state.question[:n]
	return unsafe.Pointer(unsafe.SliceData(state.question))
}

//go:wasmexport ask
func ask() int32 {
	state.asked <- struct{}{}
	<-state.answered
	return int32(len(state.answer))
}

//go:wasmexport answer
func answer() unsafe.Pointer { return unsafe.Pointer(unsafe.SliceData(state.answer)) }
