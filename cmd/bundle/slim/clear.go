package slim

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// runtimePrefix is all of a function's name that a running program asks for: the
// scheduler does not count goroutines that start in the runtime.
const runtimePrefix = "runtime."

// clear takes out file names, lines and function names, and the steps of every
// table that is then no longer asked for. The runtime reads an offset of 0 as
// "there is no such table" and as "no name". What it needs to walk stacks for
// the garbage collector stays: sizes of frames and maps of pointers.
func (t *tables) clear() error {
	used := make([]bool, len(t.steps))
	inRuntime := make([]bool, t.n)
	for i := range t.n {
		f := t.funcs[word32(t.funcs, 8*i+4):]
		inRuntime[i] = bytes.HasPrefix(t.names[word32(f, funcName):], []byte(runtimePrefix))
		for _, at := range []int{funcFile, funcLine, funcStart, funcUnit} {
			setWord32(f, at, 0)
		}
		if err := t.clearPCData(f, used); err != nil {
			return fmt.Errorf("function %d: %w", i, err)
		}
	}
	zero(t.files)
	zero(t.units)
	for i, keep := range used {
		if !keep {
			t.steps[i] = 0
		}
	}
	return t.shortenNames(inRuntime)
}

// clearPCData drops the kinds that nobody asks for and marks the steps of the
// others as used.
func (t *tables) clearPCData(f []byte, used []bool) error {
	if err := t.markSteps(word32(f, funcSteps), used); err != nil {
		return err
	}
	for kind := range int(word32(f, funcPCData)) {
		at := funcSize + 4*kind
		if kind == pcdataUnsafePoint || kind == pcdataArgLive {
			setWord32(f, at, 0)
		} else if err := t.markSteps(word32(f, at), used); err != nil {
			return err
		}
	}
	return nil
}

// markSteps walks one table as step in runtime/symtab.go does: pairs of numbers,
// the change of the value and the distance to the next, until a change of 0 that
// is not the first.
func (t *tables) markSteps(from uint32, used []bool) error {
	if from == 0 {
		return nil
	}
	for at, first := int(from), true; ; first = false {
		change, n := uvarint(t.steps, at)
		if n > 0 && change == 0 && !first {
			used[at] = true
			return nil
		}
		_, d := uvarint(t.steps, at+n)
		if n == 0 || d == 0 {
			return errors.New("expected a table of steps with an end")
		}
		for range n + d {
			used[at] = true
			at++
		}
	}
}

// uvarint reads a number at at; its length is 0 where there is none.
func uvarint(b []byte, at int) (uint64, int) {
	if at >= len(b) {
		return 0, 0
	}
	v, n := binary.Uvarint(b[at:])
	return v, max(n, 0)
}

// shortenNames leaves two names: none, and one that begins as the runtime's do.
func (t *tables) shortenNames(inRuntime []bool) error {
	if len(t.names) < len(runtimePrefix)+2 {
		return errors.New("expected names of functions")
	}
	zero(t.names)
	copy(t.names[1:], runtimePrefix)
	for i, is := range inRuntime {
		name := uint32(0)
		if is {
			name = 1
		}
		setWord32(t.funcs[word32(t.funcs, 8*i+4):], funcName, name)
	}
	return nil
}

func setWord32(b []byte, at int, v uint32) { binary.LittleEndian.PutUint32(b[at:], v) }

func zero(b []byte) {
	for i := range b {
		b[i] = 0
	}
}
