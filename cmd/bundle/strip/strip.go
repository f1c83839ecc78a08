// Package strip takes the tables of files and lines, and the names of functions of
// the standard library and the runtime, out of a Go program in WebAssembly, and joins the linker's
// tens of thousands of pieces of data into one. Compressed, the program is a sixth
// smaller.
//
// A stack trace names the functions of this project still, but
// no files and lines. No instruction is changed, and no table that the runtime
// reads for anything but a stack trace. A program that is not laid out as expected
// is refused.
package strip

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// KnownVersion begins the versions of Go whose function tables this package
// knows: pcHeader in runtime/symtab.go and _func in runtime/runtime2.go.
const KnownVersion = "go1.26"

// From the WebAssembly specification, sections 5.4.7, 5.5.2 and 5.5.16.
const (
	header      = "\x00asm\x01\x00\x00\x00"
	dataSection = 11
	i32Const    = 0x41
	end         = 0x0b
)

// mostMemory is far above what the data take; an address beyond it was misread.
const mostMemory = 64 << 20

// Program returns the same program without the tables.
func Program(wasm []byte) ([]byte, error) {
	before, data, after, err := cutData(wasm)
	if err != nil {
		return nil, fmt.Errorf("read module: %w", err)
	}
	mem, err := readData(data)
	if err != nil {
		return nil, fmt.Errorf("read data: %w", err)
	}
	if err := clearLines(mem); err != nil {
		return nil, fmt.Errorf("clear tables of lines: %w", err)
	}
	one := []byte{1, 0, i32Const, 0, end} // one piece, in memory 0, at address 0
	one = append(binary.AppendUvarint(one, uint64(len(mem))), mem...)
	return slices.Concat(before, binary.AppendUvarint(nil, uint64(len(one))), one, after), nil
}

// cutData returns the body of the data section, what comes before the number
// that says its length, and what comes after it.
func cutData(wasm []byte) (before, data, after []byte, err error) {
	if !bytes.HasPrefix(wasm, []byte(header)) {
		return nil, nil, nil, errors.New("expected WebAssembly, version 1")
	}
	r := reader{rest: wasm[len(header):]}
	for len(r.rest) > 0 && r.err == nil {
		kind := r.take(1)
		before = wasm[:len(wasm)-len(r.rest)]
		if body := r.take(r.uint()); kind[0] == dataSection {
			return before, body, r.rest, r.err
		}
	}
	return nil, nil, nil, errors.Join(r.err, errors.New("expected a data section"))
}

// readData returns the memory as it is when the program starts, from address 0.
func readData(section []byte) ([]byte, error) {
	var mem []byte
	r := reader{rest: section}
	for range r.uint() {
		memory, code, at, stop := r.uint(), r.uint(), r.uint(), r.uint()
		piece := r.take(r.uint())
		if r.err != nil {
			return nil, r.err
		}
		// Addresses are signed; one below zero is read as one that is too large.
		if memory != 0 || code != i32Const || at > mostMemory || stop != end {
			return nil, errors.New("expected data with a fixed address in memory 0")
		}
		last := int(at) + len(piece)
		mem = append(mem, make([]byte, max(last-len(mem), 0))...)
		copy(mem[at:last], piece)
	}
	return mem, r.err
}

// reader takes numbers and runs of bytes from the front. After the first failure
// it gives zeros, so that only err needs looking at.
type reader struct {
	rest []byte
	err  error
}

// uint reads a number in LEB128.
func (r *reader) uint() uint64 {
	v, n := binary.Uvarint(r.rest)
	if r.take(uint64(max(n, 1))); r.err != nil {
		return 0
	}
	return v
}

func (r *reader) take(n uint64) []byte {
	if r.err == nil && n > uint64(len(r.rest)) {
		r.err = fmt.Errorf("expected %d more bytes, got %d", n, len(r.rest))
	}
	if r.err != nil {
		return []byte{0}
	}
	got := r.rest[:n]
	r.rest = r.rest[n:]
	return got
}
