package powercut

import (
	"bytes"
	"math/rand/v2"
)

// sector is what a disk writes whole or not at all, in bytes.
const sector = 512

// written is a file after a write.
func written(data []byte, off int64, what []byte) []byte {
	if end := off + int64(len(what)); end > int64(len(data)) {
		data = resized(data, end)
	}
	copy(data[off:], what)
	return data
}

// resized is a file after its size was changed.
func resized(data []byte, size int64) []byte {
	if size <= int64(len(data)) {
		return data[:size:size]
	}
	return append(data, make([]byte, size-int64(len(data)))...)
}

// platter is what a disk is sure to hold, and what was written since.
type platter struct {
	data    []byte
	waiting []op
	// there says that the folder is sure to name the file, created that the
	// program made it.
	there, created bool
	// notes are all that was noted of commits.
	notes [][]byte
	// acked is what was acknowledged so far.
	acked int64
}

// take does what an operation does.
func (p *platter) take(o op) {
	switch o.kind {
	case opCreate:
		p.created = true
	case opSyncFolder:
		p.there = p.there || p.created
	case opWrite, opResize:
		p.waiting = append(p.waiting, o)
	case opSync:
		for _, one := range p.waiting {
			p.data = changed(p.data, one)
		}
		p.waiting = nil
	case opNote:
		p.notes = append(p.notes, o.data)
	case opMark:
		p.acked = o.size
	}
}

// changed is a file after a write or a change of size.
func changed(data []byte, o op) []byte {
	if o.kind == opResize {
		return resized(data, o.size)
	}
	return written(data, o.off, o.data)
}

// noted is a note that the disk can hold after the power went now: any of them, or
// none, but often the last.
func (p *platter) noted(random *rand.Rand) []byte {
	switch n := len(p.notes); {
	case n == 0 || random.IntN(8) == 0:
		return nil
	case random.IntN(2) == 0:
		return p.notes[random.IntN(n)]
	default:
		return p.notes[n-1]
	}
}

// left is a file that the disk can hold after the power went now: what waits was
// written in any order, and any sector of it not at all. It is nil when the
// folder does not name the file.
func (p *platter) left(random *rand.Rand) []byte {
	if !p.there && (!p.created || random.IntN(2) == 0) {
		return nil
	}
	data := append([]byte{}, p.data...)
	likely := random.IntN(5) // of 4: from none to all
	for _, at := range random.Perm(len(p.waiting)) {
		o := p.waiting[at]
		if o.kind == opResize {
			if random.IntN(4) < likely && o.size > int64(len(data)) {
				data = resized(data, o.size)
			}
			continue
		}
		for from := int64(0); from < int64(len(o.data)); {
			to := min(int64(len(o.data)), from+sector-(o.off+from)%sector)
			if random.IntN(4) < likely {
				data = written(data, o.off+from, o.data[from:to])
			}
			from = to
		}
	}
	return data
}

// used is a file up to its last byte that is not zero.
func used(data []byte) []byte { return bytes.TrimRight(data, "\x00") }
