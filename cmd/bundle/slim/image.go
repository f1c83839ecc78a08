package slim

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
)

// mostMemory is far above what an engine's data takes; an address beyond it is
// a mistake of ours in reading.
const mostMemory = 64 << 20

// longestGap is the longest run of zeros, in bytes, that is written out. The
// linker starts a new piece of data after eight zeros, which pays for a file
// as it is; compressed, the zeros are nearly free and each piece's address is
// not.
const longestGap = 4096

// image is the memory as it is when the program starts, from address 0.
type image []byte

const i32Const, end = 0x41, 0x0b

type piece struct {
	at   int64
	data []byte
}

// readImage reads a data section of which every piece has an address of its own.
func readImage(body []byte) (image, error) {
	pieces, err := readPieces(body)
	if err != nil {
		return nil, err
	}
	slices.SortFunc(pieces, func(a, b piece) int { return cmp.Compare(a.at, b.at) })
	var mem image
	for _, p := range pieces {
		if p.at < int64(len(mem)) || p.at > mostMemory {
			return nil, fmt.Errorf("expected data at %#x or after, got %#x", len(mem), p.at)
		}
		mem = append(append(mem, make([]byte, int(p.at)-len(mem))...), p.data...)
	}
	return mem, nil
}

func readPieces(body []byte) ([]piece, error) {
	var pieces []piece
	r := reader{rest: body}
	for range r.uint() {
		memory, code, at, stop := r.uint(), r.byte(), r.int(), r.byte()
		if memory != 0 || code != i32Const || stop != end {
			r.fail("expected data with a fixed address in memory 0")
		}
		pieces = append(pieces, piece{at, r.take(int(r.uint()))})
		if r.err != nil {
			return nil, r.err
		}
	}
	if len(r.rest) > 0 || len(pieces) == 0 {
		return nil, fmt.Errorf("expected pieces of data and an end, got %d pieces and %d more bytes", len(pieces), len(r.rest))
	}
	return pieces, nil
}

// segments writes the memory as a data section.
func (mem image) segments() []byte {
	var body []byte
	n := uint64(0)
	for at := mem.skipZeros(0); at < len(mem); n++ {
		stop := mem.pieceEnd(at)
		body = append(body, 0, i32Const)
		body = append(appendInt(body, int64(at)), end)
		body = append(appendUint(body, uint64(stop-at)), mem[at:stop]...)
		at = mem.skipZeros(stop)
	}
	return append(appendUint(nil, n), body...)
}

func (mem image) skipZeros(at int) int {
	for at < len(mem) && mem[at] == 0 {
		at++
	}
	return at
}

// pieceEnd returns where the piece that starts at at ends: before a long run of
// zeros or the end of memory, without zeros at its end.
func (mem image) pieceEnd(at int) int {
	if gap := bytes.Index(mem[at:], make([]byte, longestGap)); gap >= 0 {
		return at + gap
	}
	return len(bytes.TrimRight(mem, "\x00"))
}
