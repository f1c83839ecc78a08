package slim

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// pcHeader, as runtime/symtab.go has it: a magic number, two zeros, the size of
// an instruction step and of a pointer, then eight words.
const (
	pcHeaderMagic = "\xf1\xff\xff\xff\x00\x00\x01\x08"
	pcHeaderSize  = 8 + 8*8
)

// Words of pcHeader after its first eight bytes.
const (
	headFuncs, headNames, headUnits, headFiles, headSteps, headFuncTab = 0, 3, 4, 5, 6, 7
)

// Offsets in a _func of runtime/runtime2.go, in bytes. pcdata and funcdata, words
// of four bytes each, follow it.
const (
	funcEntry, funcName, funcSteps, funcFile, funcLine, funcPCData, funcUnit, funcStart, funcFuncData = 0, 4, 16, 20, 24, 28, 32, 36, 43
	funcSize                                                                                          = 44
)

// Kinds of pcdata of internal/abi/symtab.go that are read only to stop a
// goroutine from outside, which WebAssembly cannot do, and to print arguments in
// a stack trace.
const (
	pcdataUnsafePoint, pcdataArgLive = 0, 3
	mostPCData                       = 5
)

// tables are the parts of the linker's pclntab, each cut to its length. The
// capacity of none is to be used.
type tables struct {
	names, units, files, steps, funcs []byte
	n                                 int
}

// findTables looks for the only header that has one: the module data, which the
// runtime starts from, points to the same parts with the same lengths.
func findTables(mem image) (*tables, error) {
	at := bytes.Index(mem, []byte(pcHeaderMagic))
	if at < 0 || len(mem) < at+pcHeaderSize {
		return nil, errors.New("expected a header of function tables, found none")
	}
	if bytes.Contains(mem[at+1:], []byte(pcHeaderMagic)) {
		return nil, errors.New("expected one header of function tables, found two")
	}
	word := func(i int) uint64 { return binary.LittleEndian.Uint64(mem[at+8+8*i:]) }
	base := uint64(at)
	starts := []uint64{base + word(headNames), base + word(headUnits), base + word(headFiles), base + word(headSteps), base + word(headFuncTab)}
	module := bytes.Index(mem, appendWords(nil, base, starts[0]))
	if module < 0 || len(mem) < module+8*16 {
		return nil, errors.New("expected module data that point to the header")
	}
	parts, err := moduleParts(mem, module, starts)
	if err != nil {
		return nil, err
	}
	t := &tables{names: parts[0], units: parts[1], files: parts[2], steps: parts[3], funcs: parts[4], n: int(word(headFuncs))}
	return t, t.check()
}

// moduleParts reads the five slices after the header's address in module data.
func moduleParts(mem image, module int, starts []uint64) ([][]byte, error) {
	var parts [][]byte
	for i, start := range starts {
		slice := mem[module+8+24*i:]
		from, n := binary.LittleEndian.Uint64(slice), binary.LittleEndian.Uint64(slice[8:])
		if i == 1 {
			n *= 4 // the units' files are words
		}
		if from != start || n > uint64(len(mem)) || from+n > uint64(len(mem)) || (i > 0 && from < starts[i-1]) {
			return nil, fmt.Errorf("expected table %d at %#x, got %d bytes at %#x", i, start, n, from)
		}
		parts = append(parts, mem[from:from+n:from+n])
	}
	return parts, nil
}

// check walks all functions and fails where one is not as expected.
func (t *tables) check() error {
	if t.n < 1 || t.n > 1<<16 || len(t.funcs) < 8*t.n+4 {
		return fmt.Errorf("expected a table of %d functions, got %d bytes", t.n, len(t.funcs))
	}
	for i := range t.n {
		entry, at := word32(t.funcs, 8*i), int(word32(t.funcs, 8*i+4))
		if at < 8*t.n+4 || at+funcSize > len(t.funcs) {
			return fmt.Errorf("expected function %d after the index, got it at %#x", i, at)
		}
		f := t.funcs[at:]
		pcdata, funcdata := word32(f, funcPCData), f[funcFuncData]
		if word32(f, funcEntry) != entry || pcdata > mostPCData || funcSize+4*(int(pcdata)+int(funcdata)) > len(f) {
			return fmt.Errorf("expected function %d to enter at %#x, got %#x with %d kinds of pcdata", i, entry, word32(f, funcEntry), pcdata)
		}
		if name := int(word32(f, funcName)); name >= len(t.names) {
			return fmt.Errorf("expected the name of function %d, got an offset of %#x", i, name)
		}
	}
	return nil
}

func word32(b []byte, at int) uint32 { return binary.LittleEndian.Uint32(b[at:]) }

func appendWords(b []byte, words ...uint64) []byte {
	for _, w := range words {
		b = binary.LittleEndian.AppendUint64(b, w)
	}
	return b
}
