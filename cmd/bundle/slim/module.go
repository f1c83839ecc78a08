package slim

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
)

// Kinds of sections, from the WebAssembly specification, section 5.5.2.
const (
	customSection = 0
	dataSection   = 11
)

// producers is the custom section in which the linker names its version.
const producers = "producers"

// knownVersion is how the versions begin whose runtime/symtab.go, _func in
// runtime/runtime2.go and moduledata agree with tables.go.
const knownVersion = "go1.26"

const header = "\x00asm\x01\x00\x00\x00"

type section struct {
	kind byte
	body []byte
}

// module is a WebAssembly file as its sections, in order.
type module []section

func parse(wasm []byte) (module, error) {
	if !bytes.HasPrefix(wasm, []byte(header)) {
		return nil, errors.New("expected WebAssembly, version 1")
	}
	r := reader{rest: wasm[len(header):]}
	var m module
	for len(r.rest) > 0 && r.err == nil {
		kind := r.byte()
		m = append(m, section{kind: kind, body: r.take(int(r.uint()))})
	}
	return m, r.err
}

// section returns the body of the only section of a kind; nil when it lacks.
func (m module) section(kind byte) []byte {
	for _, s := range m {
		if s.kind == kind {
			return s.body
		}
	}
	return nil
}

// custom returns the body of a custom section without its name.
func (m module) custom(name string) []byte {
	for _, s := range m {
		r := reader{rest: s.body}
		if s.kind == customSection && string(r.take(int(r.uint()))) == name {
			return r.rest
		}
	}
	return nil
}

func (m module) replace(kind byte, body []byte) {
	for i := range m {
		if m[i].kind == kind {
			m[i].body = body
		}
	}
}

// bytes writes the module without its custom sections: they hold the build id,
// the producers and names, and none is read when the program runs.
func (m module) bytes() []byte {
	out := []byte(header)
	for _, s := range m {
		if s.kind != customSection {
			out = append(out, s.kind)
			out = appendUint(out, uint64(len(s.body)))
			out = append(out, s.body...)
		}
	}
	return out
}

// checkVersion reads the version that stands after the language's name.
func checkVersion(producers []byte) error {
	_, after, _ := bytes.Cut(producers, []byte("\x02Go"))
	r := reader{rest: after}
	version := string(r.take(int(r.uint())))
	if version != knownVersion && !strings.HasPrefix(version, knownVersion+".") {
		return fmt.Errorf("%w: expected %s, got %q", ErrVersion, knownVersion, version)
	}
	return nil
}

// reader takes WebAssembly's numbers and runs of bytes from the front. After
// the first failure it gives zeros, so that only err needs looking at.
type reader struct {
	rest []byte
	err  error
}

func (r *reader) take(n int) []byte {
	if r.err == nil && (n < 0 || n > len(r.rest)) {
		r.err = fmt.Errorf("expected %d more bytes, got %d", n, len(r.rest))
	}
	if r.err != nil {
		return nil
	}
	got := r.rest[:n]
	r.rest = r.rest[n:]
	return got
}

func (r *reader) byte() byte {
	if b := r.take(1); len(b) == 1 {
		return b[0]
	}
	return 0
}

// uint reads an unsigned number of at most 35 bits (LEB128).
func (r *reader) uint() uint64 {
	var v uint64
	for shift := 0; shift < 35; shift += 7 {
		b := r.byte()
		v |= uint64(b&0x7f) << shift
		if b&0x80 == 0 {
			return v
		}
	}
	r.fail("expected a number of 32 bits")
	return 0
}

// int reads a signed number of at most 35 bits.
func (r *reader) int() int64 {
	var v int64
	for shift := 0; shift < 35; shift += 7 {
		b := r.byte()
		v |= int64(b&0x7f) << shift
		if b&0x80 == 0 {
			if b&0x40 != 0 {
				v |= -1 << (shift + 7)
			}
			return v
		}
	}
	r.fail("expected a number of 32 bits")
	return 0
}

func (r *reader) fail(what string) {
	if r.err == nil {
		r.err = errors.New(what)
	}
}

func appendUint(b []byte, v uint64) []byte {
	for ; v >= 0x80; v >>= 7 {
		b = append(b, byte(v)|0x80)
	}
	return append(b, byte(v))
}

func appendInt(b []byte, v int64) []byte {
	for ; v < -0x40 || v >= 0x40; v >>= 7 {
		b = append(b, byte(v)|0x80)
	}
	return append(b, byte(v)&0x7f)
}
