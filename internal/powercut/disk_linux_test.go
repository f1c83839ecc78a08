package powercut

import (
	"bytes"
	"context"
	"os"
	"sync"
	"syscall"
	"testing"

	"github.com/hanwen/go-fuse/v2/fs"
	"github.com/hanwen/go-fuse/v2/fuse"
)

// opKind is what was done to the disk.
type opKind int

const (
	opCreate opKind = iota
	opWrite
	opResize
	opSync
	opSyncFolder
	opNote // what is noted of commits beside the records, which nobody waits for
	opMark // no operation: what the program has acknowledged, see markFile
)

// op is one operation on the disk, in the order in which they came.
type op struct {
	kind opKind
	off  int64
	data []byte
	// size is what a file is resized to, or what was acknowledged.
	size int64
}

// The files that the disk takes. What is written to markFile is a note of what
// the program has acknowledged; being a write, it has its place among the others.
const (
	recordsFile = "records.db"
	noteFile    = recordsFile + ".commit"
	markFile    = "acked"
)

// disk is a folder whose files are in memory and whose operations are noted.
type disk struct {
	fs.Inode

	mu  sync.Mutex
	log []op
	// left counts the operations until the power goes, which calls off; it does
	// not go where off is nil.
	left int
	off  func()
	dead bool
	// records and noted are what is on the disk to begin with; nil is nothing.
	records, noted []byte
}

var (
	_ fs.NodeOnAdder = (*disk)(nil)
	_ fs.NodeCreater = (*disk)(nil)
	_ fs.NodeFsyncer = (*disk)(nil)
)

// mount puts a disk at a folder until the test ends, and skips the test where the
// machine does not let it.
func (d *disk) mount(t *testing.T) (folder string) {
	t.Helper()
	if _, err := os.Stat("/dev/fuse"); err != nil {
		t.Skipf("no power can be cut here: %v", err)
	}
	folder = t.TempDir()
	server, err := fs.Mount(folder, d, &fs.Options{MountOptions: fuse.MountOptions{
		DirectMountStrict: true, FsName: "powercut", Name: "powercut", DisableXAttrs: true,
	}})
	if err != nil {
		t.Skipf("no power can be cut here, as this process may not mount a FUSE file system: %v", err)
	}
	t.Cleanup(func() {
		if err := server.Unmount(); err != nil {
			t.Error(err)
		}
	})
	return folder
}

// OnAdd puts the files of before in place.
func (d *disk) OnAdd(ctx context.Context) {
	for name, data := range map[string][]byte{recordsFile: d.records, noteFile: d.noted} {
		if data != nil {
			f := &file{disk: d, name: name, data: bytes.Clone(data)}
			d.AddChild(name, d.NewPersistentInode(ctx, f, fs.StableAttr{Mode: syscall.S_IFREG}), false)
		}
	}
}

// note takes an operation in, unless the power is gone.
func (d *disk) note(o op) syscall.Errno {
	if d.dead {
		return syscall.EIO
	}
	d.log = append(d.log, o)
	if d.left--; d.left == 0 && d.off != nil {
		d.dead = true
		d.off()
	}
	return fs.OK
}

// Create makes an empty file.
func (d *disk) Create(ctx context.Context, name string, _ uint32, _ uint32, _ *fuse.EntryOut) (*fs.Inode, fs.FileHandle, uint32, syscall.Errno) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if name == recordsFile {
		if bad := d.note(op{kind: opCreate}); bad != fs.OK {
			return nil, nil, 0, bad
		}
	}
	f := &file{disk: d, name: name}
	return d.NewPersistentInode(ctx, f, fs.StableAttr{Mode: syscall.S_IFREG}), nil, 0, fs.OK
}

// Fsync of the folder makes durable which files there are.
func (d *disk) Fsync(context.Context, fs.FileHandle, uint32) syscall.Errno {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.note(op{kind: opSyncFolder})
}

// file is one file of the disk, as programs see it.
type file struct {
	fs.Inode
	disk *disk
	name string
	data []byte
}

var (
	_ fs.NodeOpener    = (*file)(nil)
	_ fs.NodeReader    = (*file)(nil)
	_ fs.NodeWriter    = (*file)(nil)
	_ fs.NodeFsyncer   = (*file)(nil)
	_ fs.NodeGetattrer = (*file)(nil)
	_ fs.NodeSetattrer = (*file)(nil)
)

// Open has the kernel forget what it kept of the file.
func (f *file) Open(context.Context, uint32) (fs.FileHandle, uint32, syscall.Errno) {
	return nil, 0, fs.OK
}

func (f *file) Read(_ context.Context, _ fs.FileHandle, into []byte, off int64) (fuse.ReadResult, syscall.Errno) {
	f.disk.mu.Lock()
	defer f.disk.mu.Unlock()
	off = min(off, int64(len(f.data)))
	n := copy(into, f.data[off:])
	return fuse.ReadResultData(into[:n]), fs.OK
}

func (f *file) Write(_ context.Context, _ fs.FileHandle, data []byte, off int64) (uint32, syscall.Errno) {
	f.disk.mu.Lock()
	defer f.disk.mu.Unlock()
	o := op{kind: opWrite, off: off, data: bytes.Clone(data)}
	switch f.name {
	case markFile:
		o = op{kind: opMark, size: number(data)}
	case noteFile:
		o.kind = opNote
	}
	if bad := f.disk.note(o); bad != fs.OK {
		return 0, bad
	}
	f.data = written(f.data, off, data)
	return uint32(len(data)), fs.OK
}

func (f *file) Fsync(context.Context, fs.FileHandle, uint32) syscall.Errno {
	f.disk.mu.Lock()
	defer f.disk.mu.Unlock()
	return f.disk.note(op{kind: opSync})
}

func (f *file) Getattr(_ context.Context, _ fs.FileHandle, out *fuse.AttrOut) syscall.Errno {
	f.disk.mu.Lock()
	defer f.disk.mu.Unlock()
	out.Mode, out.Size = 0o600, uint64(len(f.data))
	return fs.OK
}

func (f *file) Setattr(_ context.Context, _ fs.FileHandle, in *fuse.SetAttrIn, out *fuse.AttrOut) syscall.Errno {
	f.disk.mu.Lock()
	defer f.disk.mu.Unlock()
	if size, ok := in.GetSize(); ok {
		if bad := f.disk.note(op{kind: opResize, size: int64(size)}); bad != fs.OK {
			return bad
		}
		f.data = resized(f.data, int64(size))
	}
	out.Mode, out.Size = 0o600, uint64(len(f.data))
	return fs.OK
}
