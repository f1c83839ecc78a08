package slim

import (
	"bytes"
	"encoding/binary"
	"errors"
	"strings"
	"testing"
)

func TestNumbersReadAsWritten(t *testing.T) {
	for _, v := range []int64{0, 1, 63, 64, 127, 128, 300, 4095, 12_288, 1 << 20, 1<<31 - 1, -1, -64, -65, -128, -1 << 31} {
		r := reader{rest: append(appendInt(nil, v), 7)}
		if got := r.int(); got != v || len(r.rest) != 1 || r.err != nil {
			t.Errorf("%d was read as %d with %d bytes left (%v)", v, got, len(r.rest), r.err)
		}
		if v < 0 {
			continue
		}
		r = reader{rest: appendUint(nil, uint64(v))}
		if got := r.uint(); got != uint64(v) || len(r.rest) != 0 || r.err != nil {
			t.Errorf("%d without sign was read as %d (%v)", v, got, r.err)
		}
	}
	r := reader{rest: []byte{0xff, 0xff, 0xff, 0xff, 0xff, 0xff}}
	if r.uint(); r.err == nil {
		t.Error("a number that does not end was read")
	}
}

func TestDataAreJoinedAcrossShortGaps(t *testing.T) {
	mem := make(image, 20_000)
	copy(mem[100:], "first")
	copy(mem[100+longestGap:], "second")
	copy(mem[12_000:], "third")
	body := mem.segments()
	if body[0] != 2 {
		t.Errorf("got %d pieces, want the first two joined and the third on its own", body[0])
	}
	again, err := readImage(body)
	if err != nil || !bytes.Equal(again, mem[:12_005]) {
		t.Errorf("the memory was read back differently (%v)", err)
	}
	if empty := make(image, 10).segments(); !bytes.Equal(empty, []byte{0}) {
		t.Errorf("memory of zeros became %x", empty)
	}
}

func TestUnknownDataAreRefused(t *testing.T) {
	one := []byte{0, i32Const, 5, end, 2, 'a', 'b'}
	for name, c := range map[string]struct {
		body []byte
		want string
	}{
		"none":       {nil, "expected pieces of data"},
		"overlap":    {append(append([]byte{2}, one...), 0, i32Const, 6, end, 1, 'c'), "expected data at 0x7 or after, got 0x6"},
		"memory 1":   {[]byte{1, 1, i32Const, 5, end, 0}, "fixed address in memory 0"},
		"by global":  {[]byte{1, 0, 0x23, 5, end, 0}, "fixed address in memory 0"},
		"cut short":  {append([]byte{1}, one[:6]...), "expected 2 more bytes, got 1"},
		"too many":   {append([]byte{1}, append(one, 9)...), "1 more bytes"},
		"far beyond": {append(appendInt([]byte{1, 0, i32Const}, mostMemory+1), end, 1, 'a'), "expected data at"},
	} {
		if _, err := readImage(c.body); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want an error with %q", name, err, c.want)
		}
	}
}

// laidOut is a program with two functions as the linker lays them out: main.a
// with file, line, frame sizes and two kinds of pcdata, and runtime.b.
type laidOut struct {
	mem                                image
	names, units, files, steps, module int
	a, b                               int
}

const base = 64

func layOut() laidOut {
	p := laidOut{}
	text := append(bytes.Repeat([]byte{0}, base), pcHeaderMagic...)
	p.names = base + pcHeaderSize
	names := "go:build\x00main.a\x00runtime.b\x00"
	p.units = p.names + len(names)
	p.files = p.units + 4
	p.steps = p.files + 8
	// From 1: frame sizes, 4: file, 7: line, 10: unsafe points, 13: stack maps.
	steps := "\x00" + "\x02\x01\x00" + "\x04\x01\x00" + "\x06\x01\x00" + "\x08\x01\x00" + "\x0a\x02\x03\x01\x00"
	funcs := p.steps + len(steps)
	text = appendWords(text, 2, 1, 0, pcHeaderSize, uint64(p.units-base), uint64(p.files-base), uint64(p.steps-base), uint64(funcs-base))
	text = append(text, names+"\x09\x00\x00\x00"+"main.go\x00"+steps...)
	index, size := 20, funcSize+8
	text = appendWords32(text, 0, uint32(index), 1, uint32(index+size), 2)
	text = append(appendWords32(text, 0, 9, 8, 0, 1, 4, 7, 2, 0, 33), 0, 0, 0, 0)
	text = appendWords32(text, 10, 13)
	text = append(appendWords32(text, 1, 16, 8, 0, 1, 0, 0, 0, 0, 50), 0, 0, 0, 0)
	p.a, p.b, p.module = funcs+index, funcs+index+size, len(text)
	text = appendWords(text, base)
	for i, start := range []int{p.names, p.units, p.files, p.steps, funcs, p.module} {
		if i == 5 {
			break
		}
		n := []int{len(names), 1, 8, len(steps), p.module - funcs}[i]
		text = appendWords(text, uint64(start), uint64(n), uint64(n))
	}
	p.mem = append(text, "the rest of the module data"...)
	return p
}

func appendWords32(b []byte, words ...uint32) []byte {
	for _, w := range words {
		b = binary.LittleEndian.AppendUint32(b, w)
	}
	return b
}

func TestOnlyTablesForStackTracesAreCleared(t *testing.T) {
	p, was := layOut(), layOut().mem
	if err := clearTables(p.mem); err != nil {
		t.Fatal(err)
	}
	if got := string(p.mem[p.names : p.names+10]); got != "\x00runtime.\x00" {
		t.Errorf("the names begin %q", got)
	}
	if left := bytes.Trim(p.mem[p.names+10:p.steps], "\x00"); len(left) > 0 {
		t.Errorf("%q is left of names and files", left)
	}
	wantSteps := "\x00" + "\x02\x01\x00" + strings.Repeat("\x00", 9) + "\x0a\x02\x03\x01\x00"
	if got := string(p.mem[p.steps : p.steps+len(wantSteps)]); got != wantSteps {
		t.Errorf("got the steps %x, want %x", got, wantSteps)
	}
	for at, want := range map[int][2]uint32{
		p.a + funcName: {9, 0}, p.b + funcName: {16, 1}, p.a + funcSteps: {1, 1}, p.a + funcFile: {4, 0}, p.a + funcLine: {7, 0},
		p.a + funcStart: {33, 0}, p.a + funcSize: {10, 0}, p.a + funcSize + 4: {13, 13}, p.a + 8: {8, 8}, p.a + funcPCData: {2, 2},
	} {
		if before, after := word32(was, at), word32(p.mem, at); before != want[0] || after != want[1] {
			t.Errorf("the word at %d went from %d to %d, want from %d to %d", at-p.a, before, after, want[0], want[1])
		}
	}
	if !bytes.Equal(p.mem[p.module:], was[p.module:]) {
		t.Error("the module data were changed")
	}
}

func TestUnknownTablesAreRefused(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(p laidOut)
		want  string
	}{
		"no header":        {func(p laidOut) { p.mem[base] = 0xf2 }, "found none"},
		"two headers":      {func(p laidOut) { copy(p.mem[8:], pcHeaderMagic) }, "found two"},
		"no module data":   {func(p laidOut) { p.mem[p.module] = 1 }, "module data"},
		"other length":     {func(p laidOut) { p.mem[p.module+22] = 0xff }, "expected table 0"},
		"other place":      {func(p laidOut) { p.mem[p.module+8+24] ^= 1 }, "expected table 1"},
		"too many":         {func(p laidOut) { p.mem[base+8] = 200 }, "200 functions"},
		"other function":   {func(p laidOut) { p.mem[p.a] = 5 }, "to enter at 0x0, got 0x5"},
		"name outside":     {func(p laidOut) { p.mem[p.b+funcName+1] = 1 }, "the name of function 1"},
		"more pcdata":      {func(p laidOut) { p.mem[p.a+funcPCData] = 6 }, "6 kinds of pcdata"},
		"steps outside":    {func(p laidOut) { p.mem[p.a+funcSteps] = 250 }, "function 0: expected a table of steps with an end"},
		"steps do not end": {func(p laidOut) { p.mem[p.a-21] = 1 }, "expected a table of steps with an end"},
	} {
		p := layOut()
		c.spoil(p)
		if err := clearTables(p.mem); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want an error with %q", name, err, c.want)
		}
	}
}

func TestModuleOfAnotherGoKeepsItsTables(t *testing.T) {
	for version, known := range map[string]bool{"go1.26.8": true, "go1.26": true, "go1.27.1": false, "go1.2": false} {
		p := layOut()
		m := module{
			{customSection, append([]byte("\x09producers\x01\x08language\x01\x02Go"), append([]byte{byte(len(version))}, version...)...)},
			{dataSection, p.mem.segments()},
		}
		small, err := Program(m.bytesWithCustom())
		if errors.Is(err, ErrVersion) == known || (known && err != nil) {
			t.Errorf("%s: got %v", version, err)
		}
		if has := bytes.Contains(small, []byte("main.go")); has == known {
			t.Errorf("%s: names of files are there: %v", version, has)
		}
		if bytes.Contains(small, []byte(producers)) {
			t.Errorf("%s: the producers are still there", version)
		}
	}
}

// bytesWithCustom writes the module as the linker does.
func (m module) bytesWithCustom() []byte {
	out := []byte(header)
	for _, s := range m {
		out = append(appendUint(append(out, s.kind), uint64(len(s.body))), s.body...)
	}
	return out
}
