package bolt

import (
	"encoding/binary"
	"hash/fnv"
	"os"
)

// What a head page holds, in the order of the library's own structure.
const (
	headPage    = 0x04
	headSize    = 64
	headMagic   = 0xED0CDAED
	headVersion = 2
)

// head is what a head page says.
type head struct{ root, freelist, limit, commit uint64 }

// heads reads both heads. A server that was cut off while it wrote one leaves
// that one unreadable and goes on with the other, so this alone loses nothing
// that was acknowledged; a head that was damaged later does.
func (w *walker) heads() (newest head, found bool) {
	for _, size := range []uint64{uint64(os.Getpagesize()), 1 << 10, 1 << 12, 1 << 13, 1 << 14, 1 << 15, 1 << 16} {
		w.size = size
		var bad []int
		for i := range 2 {
			h, ok := w.headAt(uint64(i))
			if !ok {
				bad = append(bad, i)
			} else if !found || h.commit > newest.commit {
				newest, found = h, true
			}
		}
		if !found {
			continue
		}
		for _, i := range bad {
			w.fault("Head %d of the file can not be read. The last commit may be missing.", i)
		}
		return newest, true
	}
	w.fault("Neither head of the file can be read: it is not a file of records, or its beginning is damaged.")
	return newest, false
}

func (w *walker) headAt(id uint64) (h head, ok bool) {
	if w.length < (id+1)*w.size {
		return h, false
	}
	page, ok := w.read(id, 1)
	if !ok {
		return h, false
	}
	m := page[pageHead : pageHead+headSize]
	u32, u64 := binary.NativeEndian.Uint32, binary.NativeEndian.Uint64
	sum := fnv.New64a()
	_, _ = sum.Write(m[:headSize-8]) // a hash never fails to be written to
	if u64(page) != id || binary.NativeEndian.Uint16(page[8:]) != headPage ||
		u32(m) != headMagic || u32(m[4:]) != headVersion || uint64(u32(m[8:])) != w.size || u64(m[56:]) != sum.Sum64() {
		return h, false
	}
	return head{root: u64(m[16:]), freelist: u64(m[32:]), limit: u64(m[40:]), commit: u64(m[48:])}, true
}
