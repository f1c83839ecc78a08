package powercut

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"syscall"
	"testing"

	"doorsill/internal/folder"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/verify"
)

// cuts is how many files are made and looked at.
func cuts(usual int) int {
	if n, err := strconv.Atoi(os.Getenv("POWER_CUTS")); err == nil {
		return n
	}
	return usual
}

// program is these tests' binary as the program on a folder, and what it writes to
// its standard error. It is killed when the context ends.
func program(ctx context.Context, folder string, env ...string) (cmd *exec.Cmd, stderr *bytes.Buffer) {
	cmd = exec.CommandContext(ctx, os.Args[0])
	cmd.Env = append(append(os.Environ(), childFolder+"="+folder), env...)
	stderr = &bytes.Buffer{}
	cmd.Stderr = stderr
	return cmd, stderr
}

// recorded has the program do all its work on a disk, and returns what it did
// to it.
func recorded(t *testing.T, env ...string) []op {
	t.Helper()
	d := &disk{}
	cmd, stderr := program(t.Context(), d.mount(t), env...)
	if err := cmd.Run(); err != nil {
		t.Fatalf("%v: %s", err, stderr)
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.log
}

// TestFault31PowerCutAnywhere cuts the power at random moments of the program's
// work and looks at the files that the disk can be left with.
func TestFault31PowerCutAnywhere(t *testing.T) {
	log := recorded(t)
	seed := rand.Uint64()
	sum := cutAll(t, log, cuts(usualCuts), rand.New(rand.NewPCG(seed, 31)))
	t.Logf("seed %d: %+v of %d operations", seed, sum, len(log))
	for _, err := range sum.bad {
		t.Errorf("seed %d: %v", seed, err)
	}
	// About one cut in nine leaves the commit that was under way: of few there may be none.
	if sum.cuts >= 200 && (sum.before == 0 || sum.after == 0) {
		t.Errorf("the cuts were not in the midst of commits: %+v", sum)
	}
}

// TestFault31WithoutSyncAPowerCutIsNoticed: the same work by a program that does
// not wait for the disk fails the same test.
func TestFault31WithoutSyncAPowerCutIsNoticed(t *testing.T) {
	log := recorded(t, childNoSync+"=1")
	sum := cutAll(t, log, 20, rand.New(rand.NewPCG(31, 31)))
	if len(sum.bad) < 5 {
		t.Errorf("of 20 power cuts of a program that does not sync, %d were noticed", len(sum.bad))
	}
}

// summary counts what the cuts left.
type summary struct {
	cuts int
	// unmade counts files that were cut while they were made: nothing had been
	// acknowledged, and nothing can be opened.
	unmade int
	// before and after count those with the last commit missing and there,
	// where it was under way.
	before, after int
	bad           []error
}

// cutAll makes so many files, in the order of the moments at which they are cut.
func cutAll(t *testing.T, log []op, count int, random *rand.Rand) summary {
	t.Helper()
	moments := make([]int, count)
	for i := range moments {
		moments[i] = 1 + random.IntN(len(log))
	}
	slices.Sort(moments)
	sum, p, at := summary{cuts: count}, &platter{}, 0
	folder := quickDir(t)
	for _, moment := range moments {
		for ; at < moment; at++ {
			p.take(log[at])
		}
		next := p.acked
		for _, o := range log[at:] {
			if o.kind == opMark && o.size != p.acked {
				next = o.size
				break
			}
		}
		marked := slices.ContainsFunc(log[:at], func(o op) bool { return o.kind == opMark })
		if err := sum.look(t, folder, p.left(random), p.noted(random), marked, p.acked, next); err != nil {
			sum.bad = append(sum.bad, fmt.Errorf("cut after operation %d: %w", at, err))
		}
	}
	return sum
}

// look wants a file that holds what was acknowledged, and of the push that was
// under way everything or nothing.
func (s *summary) look(t *testing.T, folder string, data, note []byte, marked bool, acked, next int64) error {
	path := filepath.Join(folder, recordsFile)
	if data == nil {
		if s.unmade++; marked {
			return errors.New("the folder does not name the file")
		}
		return nil
	}
	err := errors.Join(os.WriteFile(path, used(data), 0o600), os.Truncate(path, int64(len(data))), os.WriteFile(filepath.Join(folder, noteFile), note, 0o600))
	if err != nil {
		t.Fatal(err)
	}
	got, err := receipt(t, path)
	switch {
	case !marked && (errors.Is(err, store.ErrForeign) || errors.Is(err, store.ErrDamaged)):
		s.unmade++
		return nil
	case err != nil:
		return err
	case got != acked && got != next:
		return fmt.Errorf("the receipt is %d, want %d or %d", got, acked, next)
	case got == next && next != acked:
		s.after++
	case next != acked:
		s.before++
	}
	return nil
}

// receipt opens a file as a server does, and wants everything in it to fit.
func receipt(t *testing.T, path string) (acked int64, err error) {
	db, err := bolt.Open(path, bolt.Options{NoSync: true})
	if err != nil {
		return 0, err
	}
	tab, _ := everything()
	err = db.View(t.Context(), func(r store.Reader) error {
		there, err := r.Tablet(device)
		if errors.Is(err, store.ErrNotFound) {
			return nil
		}
		acked = there.Ack
		for n := int64(1); n <= acked && err == nil; n++ {
			var placed store.Placed
			if placed, err = r.Placed(device, n); err == nil && !bytes.Equal(placed.Raw, tab.Lines[n-1]) {
				err = fmt.Errorf("event %d is not there as it was written", n)
			}
		}
		return err
	})
	pages, bad := bolt.Inspect(path)
	report, worse := verify.Store(t.Context(), db, lists())
	if err = errors.Join(err, bad, worse, db.Close()); err != nil {
		return acked, err
	}
	if len(pages) > 0 || !report.Clean() {
		return acked, fmt.Errorf("found %v %v", pages, report.Faults)
	}
	return acked, nil
}

// quickDir is a folder in memory where the machine has one.
func quickDir(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("/dev/shm", "doorsill-")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	return dir
}

// TestFault31PowerCutAndOn cuts the power of the running program again and again,
// and lets it go on each time with what the disk was left with.
func TestFault31PowerCutAndOn(t *testing.T) {
	seed := rand.Uint64()
	random := rand.New(rand.NewPCG(seed, 32))
	p, rounds := platter{}, 0
	for done := false; !done; rounds++ {
		if rounds == 200 {
			t.Fatalf("seed %d: the program does not get on", seed)
		}
		acked := p.acked
		ctx, off := context.WithCancel(t.Context())
		d := &disk{records: p.data, noted: p.noted(random), left: 1 + random.IntN(300), off: off}
		cmd, stderr := program(ctx, d.mount(t))
		err := cmd.Run()
		off()
		d.mu.Lock()
		if done = err == nil; !done && !d.dead {
			t.Errorf("seed %d, round %d: the program ended by itself: %v %s", seed, rounds, err, stderr)
			done = true
		}
		for _, o := range d.log {
			p.take(o)
		}
		d.mu.Unlock()
		if p.acked < acked {
			t.Fatalf("seed %d, round %d: %d were acknowledged and %d are there", seed, rounds, acked, p.acked)
		}
		if p.data = p.left(random); p.data == nil {
			p.created = false
		}
		p.waiting = nil
	}
	_, ends := everything()
	if p.acked != ends[len(ends)-1] || rounds < 3 {
		t.Errorf("seed %d: %d acknowledged after %d rounds", seed, p.acked, rounds)
	}
	t.Logf("seed %d: %d rounds", seed, rounds)
}

// TestASyncOfAFolderThatFailsIsSaid: a disk that is gone is no system that can not
// sync folders.
func TestASyncOfAFolderThatFailsIsSaid(t *testing.T) {
	d := &disk{left: 1, off: func() {}}
	path := d.mount(t)
	if err := folder.Sync(path); err != nil {
		t.Errorf("before the power went: %v", err)
	}
	if err := folder.Sync(path); !errors.Is(err, syscall.EIO) {
		t.Errorf("after it: %v, want %v", err, syscall.EIO)
	}
}
