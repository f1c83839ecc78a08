// Package slim takes out of a Go program in WebAssembly what the browser never
// uses: the linker's tens of thousands of pieces of data become a few, and the
// tables that only stack traces and profilers read become zeros, which weigh
// nothing once compressed.
//
// No instruction and no table that a running program reads is changed. Where
// the program is not laid out as this package knows it, it is refused: a
// download that is larger is better than an engine that is wrong.
package slim

import (
	"errors"
	"fmt"
)

// ErrVersion says that the program comes from a Go version whose tables this
// package has not been compared with.
var ErrVersion = errors.New("unknown version of Go")

// Program returns a smaller module that computes the same. With ErrVersion comes
// a module of which only the data are joined; any other error says what was
// expected where the module is not what Go's linker is known to write.
func Program(wasm []byte) ([]byte, error) {
	m, err := parse(wasm)
	if err != nil {
		return nil, fmt.Errorf("read module: %w", err)
	}
	mem, err := readImage(m.section(dataSection))
	if err != nil {
		return nil, fmt.Errorf("read data: %w", err)
	}
	unknown := checkVersion(m.custom(producers))
	if unknown == nil {
		if err := clearTables(mem); err != nil {
			return nil, err
		}
	}
	m.replace(dataSection, mem.segments())
	return m.bytes(), unknown
}

func clearTables(mem image) error {
	t, err := findTables(mem)
	if err != nil {
		return fmt.Errorf("find function tables: %w", err)
	}
	if err := t.clear(); err != nil {
		return fmt.Errorf("clear function tables: %w", err)
	}
	return nil
}
