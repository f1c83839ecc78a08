package bolt

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
)

// The file's layout, as far as it must be known to check it: pages of one size,
// the first two with a head each, of which the newer counts. The library has a
// check of its own, but it reads through the memory map, where a wild page
// number ends the program; this one reads bytes it has looked at first.

const (
	pageHead    = 16 // id, flags, count, overflow
	elementSize = 16

	branchPage   = 0x01
	leafPage     = 0x02
	freelistPage = 0x10

	bucketFlag = 1
)

// mostFaults bounds what Inspect returns: after that many nobody reads on.
const mostFaults = 20

// Inspect reads a file's pages without opening it as a store and returns, in
// sentences, what is wrong with how they hang together; nothing when all is
// well. Nobody may write to the file meanwhile. The error is the file system's.
func Inspect(path string) (faults []string, err error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("inspect records: %w", err)
	}
	w := &walker{in: file, used: map[uint64]bool{}, free: map[uint64]bool{}}
	info, err := file.Stat()
	if err == nil {
		w.length = uint64(info.Size())
		w.file()
	}
	return w.faults, errors.Join(err, w.err, file.Close())
}

// walker follows the pages of a file.
type walker struct {
	in     io.ReaderAt
	length uint64 // of the file
	size   uint64 // of a page
	limit  uint64 // the first page number that is not in use
	used   map[uint64]bool
	free   map[uint64]bool
	faults []string
	err    error
}

// read reads some pages that lie within the file.
func (w *walker) read(id, count uint64) ([]byte, bool) {
	data := make([]byte, count*w.size)
	if _, err := w.in.ReadAt(data, int64(id*w.size)); err != nil {
		w.err = fmt.Errorf("read page %d: %w", id, err)
		return nil, false
	}
	return data, true
}

func (w *walker) fault(format string, args ...any) {
	if len(w.faults) < mostFaults {
		w.faults = append(w.faults, fmt.Sprintf(format, args...))
	}
}

func (w *walker) file() {
	newest, found := w.heads()
	if !found {
		return
	}
	w.limit = newest.limit
	if w.limit < 2 || w.limit > w.length/w.size {
		w.fault("The file ends too early: it has %d bytes and should have %d pages of %d.", w.length, w.limit, w.size)
		return
	}
	w.used[0], w.used[1] = true, true
	w.freelist(newest.freelist)
	w.tree(newest.root, nil, nil, true)
	for id := range w.limit {
		if !w.used[id] && !w.free[id] {
			w.fault("Page %d is neither in use nor free.", id)
		}
	}
}

// page returns a page with what it overflows into, once.
func (w *walker) page(id uint64, flags uint16, what string) (page []byte, count int, ok bool) {
	if id < 2 || id >= w.limit {
		w.fault("A %s page should be at %d, which is outside the file.", what, id)
		return nil, 0, false
	}
	page, ok = w.read(id, 1)
	if !ok {
		return nil, 0, false
	}
	overflow := uint64(binary.NativeEndian.Uint32(page[12:]))
	switch said, kind := binary.NativeEndian.Uint64(page), binary.NativeEndian.Uint16(page[8:]); {
	case said != id:
		w.fault("Page %d says that it is page %d.", id, said)
	case kind&flags == 0 || kind&(kind-1) != 0:
		w.fault("Page %d is not a %s page.", id, what)
	case overflow >= w.limit-id:
		w.fault("Page %d goes on beyond the end of the file.", id)
	case !w.claim(id, overflow+1):
		w.fault("Page %d is used twice, or used and free.", id)
	default:
		count = int(binary.NativeEndian.Uint16(page[10:]))
		page, ok = w.read(id, overflow+1)
		return page, count, ok
	}
	return nil, 0, false
}

// claim notes that pages are in use, and says whether they were not before.
func (w *walker) claim(id, count uint64) bool {
	for i := id; i < id+count; i++ {
		if w.used[i] || w.free[i] {
			return false
		}
		w.used[i] = true
	}
	return true
}

func (w *walker) freelist(id uint64) {
	page, count, ok := w.page(id, freelistPage, "list of free pages")
	if !ok {
		return
	}
	ids := page[pageHead:]
	if count == 0xFFFF {
		long := binary.NativeEndian.Uint64(ids)
		ids = ids[8:]
		count = int(min(long, uint64(len(ids))))
	}
	if count > len(ids)/8 {
		w.fault("The list of free pages is longer than its page.")
		return
	}
	for i := range count {
		free := binary.NativeEndian.Uint64(ids[8*i:])
		if free >= w.limit || w.free[free] || w.used[free] { // the heads are in use
			w.fault("The list of free pages names page %d, which is not free.", free)
			return
		}
		w.free[free] = true
	}
}

// tree follows a tree from a page down. The keys lie from low on and before
// high; nil is no bound. The root tree holds the lists, which hold no others.
func (w *walker) tree(id uint64, low, high []byte, root bool) {
	page, count, ok := w.page(id, branchPage|leafPage, "tree")
	if !ok {
		return
	}
	if !roomFor(page, count) {
		w.fault("Page %d says that it holds more than it can.", id)
		return
	}
	if binary.NativeEndian.Uint16(page[8:]) == leafPage {
		w.leaf(page, fmt.Sprintf("Page %d", id), count, low, high, root)
		return
	}
	keys, children := make([][]byte, count), make([]uint64, count)
	for i := range count {
		keys[i], children[i] = branchElement(page, i)
		if !between(keys[i], keyBefore(keys, i), low, high) {
			w.fault("Page %d has a key out of place.", id)
			return
		}
	}
	if count == 0 {
		w.fault("Page %d is empty.", id)
	}
	for i, child := range children {
		upper := high
		if i+1 < count {
			upper = keys[i+1]
		}
		w.tree(child, keys[i], upper, root)
	}
}

func keyBefore(keys [][]byte, i int) []byte {
	if i == 0 {
		return nil
	}
	return keys[i-1]
}

// roomFor says whether a page is long enough for its elements.
func roomFor(page []byte, count int) bool { return pageHead+count*elementSize <= len(page) }

// branchElement is a key, nil when it lies outside the page, and what is under it.
func branchElement(page []byte, i int) (key []byte, child uint64) {
	e := page[pageHead+i*elementSize:]
	key, _ = span(e, binary.NativeEndian.Uint32(e), uint64(binary.NativeEndian.Uint32(e[4:])))
	return key, binary.NativeEndian.Uint64(e[8:])
}

// leaf checks the elements of a leaf page; name says where it lies.
func (w *walker) leaf(page []byte, name string, count int, low, high []byte, root bool) {
	var last []byte
	for i := range count {
		e := page[pageHead+i*elementSize:]
		flags, pos := binary.NativeEndian.Uint32(e), binary.NativeEndian.Uint32(e[4:])
		keySize, valueSize := binary.NativeEndian.Uint32(e[8:]), binary.NativeEndian.Uint32(e[12:])
		both, fits := span(e, pos, uint64(keySize)+uint64(valueSize))
		if !fits || !between(both[:keySize], last, low, high) {
			w.fault("%s has a key out of place.", name)
			return
		}
		key, value := both[:keySize], both[keySize:]
		if (flags == bucketFlag) != root || flags > bucketFlag {
			w.fault("%s has an entry of the wrong kind.", name)
			return
		}
		last = key
		if root {
			w.list(string(key), value)
		}
	}
}

// list checks one of the file's lists, which lies within the entry when it is
// short.
func (w *walker) list(name string, value []byte) {
	const listHead = 16 // page, sequence
	if len(value) < listHead {
		w.fault("The list %q can not be read.", name)
		return
	}
	if id := binary.NativeEndian.Uint64(value); id != 0 {
		w.tree(id, nil, nil, false)
		return
	}
	page := value[listHead:]
	if len(page) < pageHead || binary.NativeEndian.Uint16(page[8:]) != leafPage {
		w.fault("The list %q can not be read.", name)
		return
	}
	count := int(binary.NativeEndian.Uint16(page[10:]))
	if !roomFor(page, count) {
		w.fault("The list %q says that it holds more than it can.", name)
		return
	}
	w.leaf(page, fmt.Sprintf("The list %q", name), count, nil, nil, false)
}

// span is part of a page, counted from an element.
func span(element []byte, pos uint32, size uint64) ([]byte, bool) {
	to := uint64(pos) + size
	if to > uint64(len(element)) {
		return nil, false
	}
	return element[pos:to], true
}

// between says whether a key follows the last one and lies within bounds. No
// key is empty, so that every one follows nil, and nil itself is out of place.
func between(key, last, low, high []byte) bool {
	return bytes.Compare(last, key) < 0 && bytes.Compare(low, key) <= 0 && (high == nil || bytes.Compare(key, high) < 0)
}
