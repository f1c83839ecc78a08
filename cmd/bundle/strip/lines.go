package strip

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// pcHeaderMagic begins the function tables of every program. After it come eight
// words of eight bytes: the number of functions, then among others where names,
// units, files, steps and functions begin, counted from the header.
const pcHeaderMagic = "\xf1\xff\xff\xff\x00\x00\x01\x08"

const (
	headFuncs, headNames                                    = 8, 32
	headUnits, headFiles, headSteps, headFuncTable, headEnd = 40, 48, 56, 64, 72
)

// Fields of a _func, as offsets in bytes: line comes after file, and the first line
// after unit. After it come as many offsets of steps as funcTables says.
const (
	funcEntry, funcFrame, funcFile, funcTables, funcUnit, funcID, funcSize = 0, 16, 20, 28, 32, 40, 44
)

// unsafePoints is the table that says where a goroutine can not be interrupted
// from outside. WebAssembly has nothing that could interrupt one.
const unsafePoints = 0

// named begins the names of functions that a stack trace is read for.
var named = [][]byte{[]byte("doorsill/"), []byte("main.")}

// ofRuntime begins the names of the runtime's functions. It knows its own goroutines
// by that much.
var ofRuntime = []byte("runtime.")

// clearLines turns the tables of files, lines and unsafe points into zeros, and
// the names of functions that are not in named. The runtime reads an offset of 0
// as "there is no such table".
//
// Steps say what holds from which instruction on, and functions share them where
// they are equal: they go where no other table has them.
func clearLines(mem []byte) error {
	at := bytes.Index(mem, []byte(pcHeaderMagic))
	if at < 0 || bytes.Count(mem, []byte(pcHeaderMagic)) != 1 || len(mem) < at+headEnd {
		return errors.New("expected one header of function tables")
	}
	t := mem[at:]
	n, names, units := word(t, headFuncs), word(t, headNames), word(t, headUnits)
	files, steps, funcs := word(t, headFiles), word(t, headSteps), word(t, headFuncTable)
	if names < headEnd || names > units || units > files || files > steps || steps > funcs || funcs+8*n > len(t) {
		return errors.New("expected names, units, files, steps and functions in this order")
	}
	used := make([]bool, funcs-steps)
	for i := range n {
		if err := clearFunction(t[funcs:], t[steps:funcs], i, used); err != nil {
			return fmt.Errorf("function %d: %w", i, err)
		}
	}
	clearNames(t[names:units])
	clear(t[units:steps])
	for i, is := range used {
		if !is {
			t[steps+i] = 0
		}
	}
	return nil
}

// clearNames leaves names where they are, since functions refer to them by place.
func clearNames(names []byte) {
	for name := range bytes.SplitSeq(names, []byte{0}) {
		switch {
		case bytes.HasPrefix(name, ofRuntime):
			clear(name[len(ofRuntime):])
		case !slices.ContainsFunc(named, func(begin []byte) bool { return bytes.HasPrefix(name, begin) }):
			clear(name)
		}
	}
}

// clearFunction takes from one function what is not needed and marks the steps
// that it uses still.
func clearFunction(funcs, steps []byte, i int, used []bool) error {
	entry, at := half(funcs, 8*i), half(funcs, 8*i+4)
	if at+funcSize > len(funcs) || half(funcs, at+funcEntry) != entry {
		return fmt.Errorf("expected one that is entered at %#x", entry)
	}
	f := funcs[at:]
	tables := half(f, funcTables)
	if funcSize+4*tables > len(f) {
		return fmt.Errorf("expected less than %d tables", tables)
	}
	clear(f[funcFile:funcTables])
	clear(f[funcUnit:funcID])
	err := markSteps(steps, half(f, funcFrame), used)
	for table := range tables {
		at := funcSize + 4*table
		if table == unsafePoints {
			clear(f[at : at+4])
		}
		err = errors.Join(err, markSteps(steps, half(f, at), used))
	}
	return err
}

// markSteps walks one table as step in runtime/symtab.go does: pairs of numbers,
// the change of the value and the distance to the next, until a change of 0 that
// is not the first.
func markSteps(steps []byte, from int, used []bool) error {
	if from == 0 {
		return nil
	}
	r := reader{rest: steps}
	r.take(uint64(from))
	for first := true; r.err == nil; first = false {
		change := r.uint()
		if change == 0 && !first {
			break
		}
		r.uint()
	}
	for at := from; at < len(steps)-len(r.rest); at++ {
		used[at] = true
	}
	return r.err
}

func word(b []byte, at int) int { return int(binary.LittleEndian.Uint64(b[at:])) }

func half(b []byte, at int) int { return int(binary.LittleEndian.Uint32(b[at:])) }
