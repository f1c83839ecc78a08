package bolt_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
)

// pageFile is a file of records taken apart: page by page, as the library lays
// them out (id, kind, count and overflow in front; then elements of 16 bytes).
type pageFile struct {
	t    *testing.T
	data []byte
	size int
}

const (
	branch   = 1
	leaf     = 2
	headKind = 4
	freeKind = 16
)

// large is a file with trees of several levels, entries that go over several
// pages, and free pages.
func large(t *testing.T) *pageFile {
	t.Helper()
	path := filepath.Join(t.TempDir(), "records.db")
	db, err := bolt.Open(path, bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	for i := range int64(30) {
		err := db.Update(context.Background(), func(w store.Writer) error {
			err := storetest.Push(w, storetest.Batch("tab-a", 1+40*i, 40, "north", "c1"))
			for n := range 10 {
				err = errors.Join(err, w.SetTeam(store.Team{ID: fmt.Sprintf("team-%d-%d", i, n), Name: "Invented"}))
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	var data bytes.Buffer
	if _, err := db.WriteTo(&data); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	return &pageFile{t, data.Bytes(), os.Getpagesize()}
}

func (f *pageFile) clone() *pageFile { return &pageFile{f.t, bytes.Clone(f.data), f.size} }

func (f *pageFile) page(id uint64) []byte { return f.data[int(id)*f.size : (int(id)+1)*f.size] }

func u16(b []byte) uint16 { return binary.NativeEndian.Uint16(b) }
func u32(b []byte) uint32 { return binary.NativeEndian.Uint32(b) }
func u64(b []byte) uint64 { return binary.NativeEndian.Uint64(b) }

func put16(b []byte, x uint16) { binary.NativeEndian.PutUint16(b, x) }
func put32(b []byte, x uint32) { binary.NativeEndian.PutUint32(b, x) }
func put64(b []byte, x uint64) { binary.NativeEndian.PutUint64(b, x) }

// newest is what the head of the later commit says: root, list of free pages,
// and the first page that is not in use.
func (f *pageFile) newest() (root, freelist, limit uint64) {
	best := uint64(0)
	for id := range uint64(2) {
		if m := f.page(id)[16:]; u64(m[48:]) >= best {
			best, root, freelist, limit = u64(m[48:]), u64(m[16:]), u64(m[32:]), u64(m[40:])
		}
	}
	return root, freelist, limit
}

// rootPages are the pages of the tree that names all lists, its leaves last.
func (f *pageFile) rootPages() []uint64 {
	root, _, _ := f.newest()
	pages := []uint64{root}
	if u16(f.page(root)[8:]) == branch {
		for i := range int(u16(f.page(root)[10:])) {
			pages = append(pages, u64(f.page(root)[16+16*i+8:]))
		}
	}
	return pages
}

// find is the first page of a kind, of a list's own tree, with at least so many
// elements.
func (f *pageFile) find(kind, least uint16) uint64 {
	f.t.Helper()
	_, free, limit := f.newest()
	other := map[uint64]bool{}
	for i := range int(u16(f.page(free)[10:])) {
		other[u64(f.page(free)[16+8*i:])] = true
	}
	for _, id := range f.rootPages() {
		other[id] = true
	}
	for id := uint64(2); id < limit; id++ {
		if p := f.page(id); !other[id] && u64(p) == id && u16(p[8:]) == kind && u16(p[10:]) >= least {
			return id
		}
	}
	f.t.Fatalf("no page of kind %d", kind)
	return 0
}

// branchOfLog is the page of the log's tree, whose keys are numbers.
func (f *pageFile) branchOfLog() uint64 {
	f.t.Helper()
	_, free, limit := f.newest()
	dead := map[uint64]bool{}
	for i := range int(u16(f.page(free)[10:])) {
		dead[u64(f.page(free)[16+8*i:])] = true
	}
	for id := uint64(2); id < limit; id++ {
		p := f.page(id)
		if !dead[id] && u64(p) == id && u16(p[8:]) == branch && u16(p[10:]) > 2 && u32(p[20:]) == 8 {
			return id
		}
	}
	f.t.Fatal("no branch with numbers for keys")
	return 0
}

// child is the page that an element of a branch leads to.
func (f *pageFile) child(id uint64, i int) uint64 { return u64(f.page(id)[16+16*i+8:]) }

// leafKey is the key of an element of a leaf.
func (f *pageFile) leafKey(id uint64, i int) []byte {
	e := f.data[int(id)*f.size+16+16*i:]
	return e[u32(e[4:]):][:u32(e[8:])]
}

// length is how long a page is with what it goes over into.
func (f *pageFile) length(id uint64) int { return f.size * (1 + int(u32(f.page(id)[12:]))) }

// reseal makes the sum of a head fit again.
func (f *pageFile) reseal(id uint64) {
	m := f.page(id)[16:]
	sum := fnv.New64a()
	_, _ = sum.Write(m[:56])
	put64(m[56:], sum.Sum64())
}

// heads changes both heads in the same way.
func (f *pageFile) heads(change func(m []byte)) {
	for id := range uint64(2) {
		change(f.page(id)[16:])
		f.reseal(id)
	}
}

// faults is what Inspect finds.
func (f *pageFile) faults() []string {
	f.t.Helper()
	path := filepath.Join(f.t.TempDir(), "damaged.db")
	if err := os.WriteFile(path, f.data, 0o600); err != nil {
		f.t.Fatal(err)
	}
	faults, err := bolt.Inspect(path)
	if err != nil {
		f.t.Fatal(err)
	}
	return faults
}

// TestWhatInspectFinds damages one place of the file at a time and wants it
// named, first of all that is found.
func TestWhatInspectFinds(t *testing.T) {
	whole := large(t)
	if faults := whole.faults(); len(faults) > 0 {
		t.Fatalf("an intact file: %q", faults)
	}
	_, freelist, limit := whole.newest()
	tree, list := whole.find(branch, 2), whole.find(leaf, 3)
	log := whole.branchOfLog()
	children := int(u16(whole.page(log)[10:]))
	element := func(f *pageFile, id uint64, i int) []byte { return f.page(id)[16+16*i:] }
	for _, c := range []struct {
		name   string
		damage func(*pageFile)
		want   string
	}{
		{"one head", func(f *pageFile) { f.page(0)[20] ^= 1 }, "Head 0 of the file can not be read."},
		{"the other head", func(f *pageFile) { f.page(1)[70] ^= 1 }, "Head 1 of the file can not be read."},
		{"both heads", func(f *pageFile) { f.page(0)[20] ^= 1; f.page(1)[20] ^= 1 }, "Neither head of the file can be read"},
		{"all but the head of no commit", func(f *pageFile) { put64(f.page(0)[16+48:], 0); f.reseal(0); f.page(1)[70] ^= 1 }, "Head 1 of the file can not be read."},
		{"a head on another page", func(f *pageFile) { put64(f.page(0), 7) }, "Head 0 of the file can not be read."},
		{"a head of another kind", func(f *pageFile) { put16(f.page(0)[8:], leaf) }, "Head 0 of the file can not be read."},
		{"another library's head", func(f *pageFile) { put32(f.page(0)[16:], 7); f.reseal(0) }, "Head 0 of the file can not be read."},
		{"a later library's head", func(f *pageFile) { put32(f.page(0)[20:], 3); f.reseal(0) }, "Head 0 of the file can not be read."},
		{"a head of other pages", func(f *pageFile) { put32(f.page(0)[24:], 512); f.reseal(0) }, "Head 0 of the file can not be read."},
		{"a file that was cut", func(f *pageFile) { f.data = f.data[:len(f.data)-f.size] }, "The file ends too early"},
		{"a file without an end", func(f *pageFile) { f.heads(func(m []byte) { put64(m[40:], limit+1) }) }, "The file ends too early"},
		{"a file of its heads", func(f *pageFile) { f.heads(func(m []byte) { put64(m[40:], 1) }) }, "The file ends too early"},
		{"a file that ends after its heads", func(f *pageFile) { f.data = f.data[:2*f.size] }, "The file ends too early"},
		{"a file that is no longer than its heads", func(f *pageFile) { f.heads(func(m []byte) { put64(m[40:], 2) }) }, "A list of free pages page should be at"},
		{"a root outside", func(f *pageFile) { f.heads(func(m []byte) { put64(m[16:], limit) }) }, fmt.Sprintf("A tree page should be at %d, which is outside the file.", limit)},
		{"a root in the heads", func(f *pageFile) { f.heads(func(m []byte) { put64(m[16:], 1) }) }, "A tree page should be at 1, which is outside the file."},
		{"a list of free pages outside", func(f *pageFile) { f.heads(func(m []byte) { put64(m[32:], limit) }) }, fmt.Sprintf("A list of free pages page should be at %d", limit)},
		{"free pages where a tree is", func(f *pageFile) { f.heads(func(m []byte) { put64(m[32:], tree) }) }, fmt.Sprintf("Page %d is not a list of free pages page.", tree)},
		{"a free page in the heads", func(f *pageFile) { put64(f.page(freelist)[16:], 1) }, "The list of free pages names page 1, which is not free."},
		{"a free page outside", func(f *pageFile) { put64(f.page(freelist)[16:], limit) }, fmt.Sprintf("The list of free pages names page %d", limit)},
		{"a page that is free twice", func(f *pageFile) { copy(f.page(freelist)[24:32], f.page(freelist)[16:24]) }, "The list of free pages names page"},
		{"a free page that is the list's own", func(f *pageFile) { put64(f.page(freelist)[16:], freelist) }, fmt.Sprintf("The list of free pages names page %d", freelist)},
		{"a list that is too long", func(f *pageFile) { put16(f.page(freelist)[10:], uint16(f.size/8)) }, "The list of free pages is longer than its page."},
		{"a list up to its end", func(f *pageFile) { put16(f.page(freelist)[10:], uint16(f.size/8-2)) }, "The list of free pages names page"},
		{"a free page that is in use", func(f *pageFile) { put64(f.page(freelist)[16:], list) }, fmt.Sprintf("Page %d is used twice, or used and free.", list)},
		{"a free page that is forgotten", func(f *pageFile) { put16(f.page(freelist)[10:], u16(f.page(freelist)[10:])-1) }, "is neither in use nor free."},
		{"a page on another's place", func(f *pageFile) { put64(f.page(list), list+1) }, fmt.Sprintf("Page %d says that it is page %d.", list, list+1)},
		{"a page of no kind", func(f *pageFile) { put16(f.page(list)[8:], 0) }, fmt.Sprintf("Page %d is not a tree page.", list)},
		{"a page of two kinds", func(f *pageFile) { put16(f.page(list)[8:], branch|leaf) }, fmt.Sprintf("Page %d is not a tree page.", list)},
		{"a page that is a head", func(f *pageFile) { put16(f.page(list)[8:], headKind) }, fmt.Sprintf("Page %d is not a tree page.", list)},
		{"a page without end", func(f *pageFile) { put32(f.page(list)[12:], uint32(limit-list)) }, fmt.Sprintf("Page %d goes on beyond the end of the file.", list)},
		{"a page over another", func(f *pageFile) { put32(f.page(list)[12:], 1) }, "is used twice, or used and free."},
		{"a branch without children", func(f *pageFile) { put16(f.page(tree)[10:], 0) }, fmt.Sprintf("Page %d is empty.", tree)},
		{"a branch of too many", func(f *pageFile) { put16(f.page(tree)[10:], uint16(f.size/16)) }, fmt.Sprintf("Page %d says that it holds more than it can.", tree)},
		{"a branch up to its end", func(f *pageFile) { put16(f.page(tree)[10:], uint16(f.size/16-1)) }, fmt.Sprintf("Page %d has a key out of place.", tree)},
		{"a branch whose first key is outside", func(f *pageFile) { put32(element(f, tree, 0), uint32(len(f.data))) }, fmt.Sprintf("Page %d has a key out of place.", tree)},
		{"a branch with a key outside", func(f *pageFile) { put32(element(f, tree, 1), uint32(len(f.data))) }, fmt.Sprintf("Page %d has a key out of place.", tree)},
		{"a branch with a key that is too long", func(f *pageFile) { put32(element(f, tree, 1)[4:], uint32(len(f.data))) }, fmt.Sprintf("Page %d has a key out of place.", tree)},
		{"a branch out of order", func(f *pageFile) { swap(element(f, tree, 0), element(f, tree, 1)) }, fmt.Sprintf("Page %d has a key out of place.", tree)},
		{"a branch with one child twice", func(f *pageFile) { copy(element(f, tree, 1)[8:16], element(f, tree, 0)[8:16]) }, "is used twice, or used and free."},
		{"a leaf of too many", func(f *pageFile) { put16(f.page(list)[10:], uint16(f.length(list)/16)) }, fmt.Sprintf("Page %d says that it holds more than it can.", list)},
		{"a leaf up to its end", func(f *pageFile) { put16(f.page(list)[10:], uint16(f.length(list)/16-1)) }, fmt.Sprintf("Page %d has a key out of place.", list)},
		{"a leaf with a key before its first", func(f *pageFile) { clear(f.leafKey(f.child(log, 1), 0)) }, fmt.Sprintf("Page %d has a key out of place.", whole.child(log, 1))},
		{"a leaf with a key of the next", func(f *pageFile) {
			child := f.child(log, children-2)
			copy(f.leafKey(child, int(u16(f.page(child)[10:]))-1), f.leafKey(f.child(log, children-1), 0))
		}, fmt.Sprintf("Page %d has a key out of place.", whole.child(log, children-2))},
		{"a leaf with a key outside", func(f *pageFile) { put32(element(f, list, 1)[4:], uint32(len(f.data))) }, fmt.Sprintf("Page %d has a key out of place.", list)},
		{"a leaf with a key that is too long", func(f *pageFile) { put32(element(f, list, 1)[8:], uint32(len(f.data))) }, fmt.Sprintf("Page %d has a key out of place.", list)},
		{"a leaf with a value that is too long", func(f *pageFile) { put32(element(f, list, 1)[12:], uint32(len(f.data))) }, fmt.Sprintf("Page %d has a key out of place.", list)},
		{"a leaf out of order", func(f *pageFile) { swapLeaf(element(f, list, 0), element(f, list, 1)) }, fmt.Sprintf("Page %d has a key out of place.", list)},
		{"a leaf with one key twice", func(f *pageFile) { repeat(element(f, list, 0), element(f, list, 1)) }, fmt.Sprintf("Page %d has a key out of place.", list)},
		{"a list within a list", func(f *pageFile) { put32(element(f, list, 1), 1) }, fmt.Sprintf("Page %d has an entry of the wrong kind.", list)},
		{"an entry of no kind", func(f *pageFile) { put32(element(f, list, 1), 2) }, fmt.Sprintf("Page %d has an entry of the wrong kind.", list)},
	} {
		f := whole.clone()
		c.damage(f)
		if faults := f.faults(); len(faults) == 0 || !strings.Contains(faults[0], c.want) {
			t.Errorf("%s: found %.3q, want %q", c.name, faults, c.want)
		}
	}
}

// swap puts two branch elements in the place of each other: where their keys
// lie is counted from the element.
func swap(a, b []byte) {
	posA, posB := u32(a), u32(b)
	put32(a, posB+16)
	put32(b, posA-16)
	sizeA, sizeB := u32(a[4:]), u32(b[4:])
	put32(a[4:], sizeB)
	put32(b[4:], sizeA)
}

func swapLeaf(a, b []byte) {
	posA, posB := u32(a[4:]), u32(b[4:])
	put32(a[4:], posB+16)
	put32(b[4:], posA-16)
	for _, at := range []int{8, 12} {
		x, y := u32(a[at:]), u32(b[at:])
		put32(a[at:], y)
		put32(b[at:], x)
	}
}

// repeat has the second leaf element name the key of the first.
func repeat(a, b []byte) {
	put32(b[4:], u32(a[4:])-16)
	put32(b[8:], u32(a[8:]))
	put32(b[12:], u32(a[12:]))
}

// TestListsOfTheRoot: the root names lists; one that is small lies within it.
func TestListsOfTheRoot(t *testing.T) {
	whole := large(t)
	type place struct {
		page uint64
		at   int
	}
	element := func(f *pageFile, p place) []byte { return f.page(p.page)[16+16*p.at:] }
	valueOf := func(f *pageFile, p place) []byte {
		e := element(f, p)
		return e[u32(e[4:])+u32(e[8:]):][:u32(e[12:])]
	}
	var inline, apart *place
	for _, id := range whole.rootPages() {
		if u16(whole.page(id)[8:]) != leaf {
			continue
		}
		for i := range int(u16(whole.page(id)[10:])) {
			p := place{id, i}
			if v := valueOf(whole, p); u64(v) != 0 {
				apart = &p
			} else if u16(v[16+10:]) > 0 {
				inline = &p
			}
		}
	}
	if inline == nil || apart == nil {
		t.Fatalf("lists within the root %v, apart %v", inline, apart)
	}
	for _, c := range []struct {
		name   string
		damage func(*pageFile)
		want   string
	}{
		{"an entry that is no list", func(f *pageFile) { put32(element(f, *apart), 0) }, fmt.Sprintf("Page %d has an entry of the wrong kind.", apart.page)},
		{"a list without a head", func(f *pageFile) { put32(element(f, *apart)[12:], 15) }, "The list "},
		{"a list outside", func(f *pageFile) { put64(valueOf(f, *apart), 1<<40) }, "A tree page should be at"},
		{"a small list that is cut", func(f *pageFile) { put32(element(f, *inline)[12:], 31) }, "can not be read."},
		{"a small list that is a branch", func(f *pageFile) { put16(valueOf(f, *inline)[16+8:], branch) }, "can not be read."},
		{"a small list of too many", func(f *pageFile) { put16(valueOf(f, *inline)[16+10:], 0xFFFF) }, "says that it holds more than it can."},
		{"a small list with a key outside", func(f *pageFile) { put32(valueOf(f, *inline)[16+16+4:], 0xFFFF) }, "The list "},
	} {
		f := whole.clone()
		c.damage(f)
		if faults := f.faults(); len(faults) == 0 || !strings.Contains(faults[0], c.want) {
			t.Errorf("%s: found %.3q, want %q", c.name, faults, c.want)
		}
	}
}

// TestARefusedFileIsLetGo: another try says what is wrong with it as well, and not
// that somebody has it.
func TestARefusedFileIsLetGo(t *testing.T) {
	f := large(t)
	f.heads(func(m []byte) { put64(m[16:], 1<<40) }) // where no memory is
	path := filepath.Join(t.TempDir(), "records.db")
	if err := os.WriteFile(path, f.data, 0o600); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if db, err := bolt.Open(path, bolt.Options{}); !errors.Is(err, store.ErrDamaged) {
			t.Fatalf("said %v of %v", err, db)
		}
	}
}
