package strip

import (
	"bytes"
	"encoding/binary"
	"slices"
	"strings"
	"testing"
)

// piece is a piece of data as the linker writes it; the address is in LEB128.
func piece(address string, data string) string {
	return "\x00\x41" + address + "\x0b" + string(rune(len(data))) + data
}

func TestPiecesOfDataBecomeOneMemory(t *testing.T) {
	mem, err := readData([]byte("\x03" + piece("\xc0\x00", "later") + piece("\x45", "last") + piece("\x02", "first")))
	if want := "\x00\x00first" + strings.Repeat("\x00", 57) + "laterlast"; err != nil || string(mem) != want {
		t.Errorf("got %q, %v, want %q", mem, err, want)
	}
}

func TestUnknownDataAreRefused(t *testing.T) {
	one := piece("\x05", "ab")
	for name, c := range map[string]struct{ section, want string }{
		"memory 1":   {"\x01\x01\x41\x05\x0b\x00", "fixed address in memory 0"},
		"by global":  {"\x01\x00\x23\x05\x0b\x00", "fixed address in memory 0"},
		"below zero": {"\x01" + piece("\xff\xff\xff\xff\x7f", "a"), "fixed address in memory 0"},
		"far beyond": {"\x01" + piece("\x81\x80\x80\x20", "a"), "fixed address in memory 0"},
		"cut short":  {"\x01" + one[:6], "expected 2 more bytes, got 1"},
		"too few":    {"\x02" + one, "expected 1 more bytes, got 0"},
	} {
		if _, err := readData([]byte(c.section)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want an error with %q", name, err, c.want)
		}
	}
}

func TestOtherSectionsStayAsTheyAre(t *testing.T) {
	p := layOut()
	data := binary.AppendUvarint([]byte("\x01\x00\x41\x00\x0b"), uint64(len(p.mem)))
	data = append(data, p.mem...)
	section := append(binary.AppendUvarint([]byte{dataSection}, uint64(len(data))), data...)
	const code, names = "\x0a\x03abc", "\x00\x02\x01n"
	got, err := Program(slices.Concat([]byte(header+code), section, []byte(names)))
	if err != nil || len(got) != len(header+code)+len(section)+len(names) {
		t.Fatalf("got %d bytes, %v", len(got), err)
	}
	if !bytes.HasPrefix(got, []byte(header+code)) || !bytes.HasSuffix(got, []byte(names)) || bytes.Contains(got, []byte("main.go")) {
		t.Errorf("got %q", got)
	}
	for wasm, want := range map[string]string{"": "WebAssembly", header + code: "a data section", header + "\x0a\x04abc": "4 more bytes, got 3"} {
		if _, err := Program([]byte(wasm)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want an error with %q", wasm, err, want)
		}
	}
}

// laidOut is a program with two functions, main.a and runtime.b, as the linker
// lays it out.
type laidOut struct {
	mem                        []byte
	units, files, steps, funcs int
	a, b                       int
}

const (
	base  = 64
	names = "\x00main.a\x00runtime.b\x00strconv.c\x00doorsill/internal.d\x00"
	// From 1: frame sizes, 4: file, 7: lines of a and stack maps of b, 12: lines
	// of b, 15: unsafe points, 18: stack maps of a.
	someSteps = "\x00" + "\x02\x01\x00" + "\x04\x01\x00" + "\x06\x01\x02\x01\x00" + "\x08\x01\x00" + "\x0c\x02\x00" + "\x0a\x02\x03\x01\x00"
)

func layOut() laidOut {
	p := laidOut{units: base + headEnd + len(names)}
	p.files = p.units + 4
	p.steps = p.files + len("main.go\x00")
	p.funcs = p.steps + len(someSteps)
	p.a = p.funcs + 20
	p.b = p.a + funcSize + 8
	text := append(make([]byte, base), pcHeaderMagic...)
	for _, at := range []int{base + 2, base + 1, base, base + headEnd, p.units, p.files, p.steps, p.funcs} {
		text = binary.LittleEndian.AppendUint64(text, uint64(at-base))
	}
	text = append(text, names+"\x09\x00\x00\x00"+"main.go\x00"+someSteps...)
	text = appendWords(text, 0, p.a-p.funcs, 1, p.b-p.funcs, 2)
	text = appendWords(text, 0, 1, 8, 0, 1, 4, 7, 2, 5, 33, 99, 15, 18)
	text = appendWords(text, 1, 8, 8, 0, 1, 4, 12, 2, 6, 50, 99, 15, 7)
	p.mem = append(text, "what comes after"...)
	return p
}

func appendWords(b []byte, words ...int) []byte {
	for _, w := range words {
		b = binary.LittleEndian.AppendUint32(b, uint32(w))
	}
	return b
}

func TestOnlyTablesOfLinesAreCleared(t *testing.T) {
	p, was := layOut(), layOut().mem
	if err := clearLines(p.mem); err != nil {
		t.Fatal(err)
	}
	want := slices.Clone(was)
	clear(want[base+headEnd+16 : base+headEnd+17]) // runtime.b, but for "runtime."
	clear(want[base+headEnd+18 : base+headEnd+27]) // strconv.c
	clear(want[p.units:p.steps])
	clear(want[p.steps+4 : p.steps+7])   // the file
	clear(want[p.steps+12 : p.steps+15]) // the lines that only b has
	clear(want[p.steps+15 : p.steps+18]) // the unsafe points
	for _, f := range []int{p.a, p.b} {
		clear(want[f+20 : f+28]) // file and line
		clear(want[f+32 : f+40]) // unit and first line
		clear(want[f+44 : f+48]) // unsafe points
	}
	for i := range want {
		if p.mem[i] != want[i] {
			t.Errorf("byte %d of the tables went from %d to %d, want %d", i-base, was[i], p.mem[i], want[i])
		}
	}
}

func TestUnknownTablesAreRefused(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(p laidOut)
		want  string
	}{
		"no header":        {func(p laidOut) { p.mem[base] = 0xf2 }, "expected one header"},
		"two headers":      {func(p laidOut) { copy(p.mem[8:], pcHeaderMagic) }, "expected one header"},
		"files first":      {func(p laidOut) { p.mem[base+headFiles] = 0 }, "in this order"},
		"header in units":  {func(p laidOut) { p.mem[base+headUnits] = 0 }, "in this order"},
		"too many":         {func(p laidOut) { p.mem[base+headFuncs] = 200 }, "in this order"},
		"other function":   {func(p laidOut) { p.mem[p.a] = 5 }, "function 0: expected one that is entered at 0x0"},
		"function outside": {func(p laidOut) { p.mem[p.funcs+13] = 9 }, "function 1: expected one that is entered at 0x1"},
		"more tables":      {func(p laidOut) { p.mem[p.b+funcTables] = 60 }, "function 1: expected less than 60 tables"},
		"steps outside":    {func(p laidOut) { p.mem[p.a+funcFrame] = 250 }, "function 0: expected 250 more bytes"},
		"steps do not end": {func(p laidOut) { p.mem[p.funcs-1] = 1 }, "function 0: expected 1 more bytes, got 0"},
	} {
		p := layOut()
		c.spoil(p)
		if err := clearLines(p.mem); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want an error with %q", name, err, c.want)
		}
	}
}
