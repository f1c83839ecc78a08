package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"

	"doorsill/internal/history"
)

// The points at which the tests of this file kill the program are the ones that
// the maintainers of the store's library mark in its source, with comments for
// a tool that rewrites them. We rewrite a copy of the source ourselves, with
// one line a point, and build the program with it: what is shipped has no
// failpoints in it, and the points are where those who know the code want them.

// killedAt is the environment variable that names a point, a colon, and at
// which passage through it to kill.
const killedAt = "DOORSILL_KILL_AT"

const pointSource = `package bbolt

import (
	"os"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"
)

var passages atomic.Int64

func killHere(point string) {
	name, number, _ := strings.Cut(os.Getenv("DOORSILL_KILL_AT"), ":")
	if name != point {
		return
	}
	if n, err := strconv.ParseInt(number, 10, 64); err == nil && passages.Add(1) == n {
		_ = syscall.Kill(syscall.Getpid(), syscall.SIGKILL)
		select {}
	}
}
`

// withPoints builds the program with its points and returns it and them.
func withPoints(t *testing.T) (program string, points []string) {
	t.Helper()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	// A place that stays, so that what is built there need not be built again.
	dir := filepath.Join(root, ".cache", "failpoints")
	source := strings.TrimSpace(output(t, root, "go", "list", "-m", "-f", "{{.Dir}}", "go.etcd.io/bbolt"))
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS(filepath.Join(dir, "bbolt"), os.DirFS(source)); err != nil {
		t.Fatal(err)
	}
	points = rewrite(t, filepath.Join(dir, "bbolt"))
	put(t, filepath.Join(dir, "bbolt", "points.go"), []byte(pointSource))
	mod, sum := read(t, filepath.Join(root, "go.mod")), read(t, filepath.Join(root, "go.sum"))
	put(t, filepath.Join(dir, "go.mod"), append(mod, "\nreplace go.etcd.io/bbolt => "+filepath.Join(dir, "bbolt")+"\n"...))
	put(t, filepath.Join(dir, "go.sum"), sum)
	program = filepath.Join(dir, "doorsill")
	output(t, root, "go", "build", "-modfile="+filepath.Join(dir, "go.mod"), "-o", program, "./cmd/doorsill")
	return program, points
}

// rewrite turns the comments that mark points into calls.
func rewrite(t *testing.T, dir string) (points []string) {
	t.Helper()
	mark := regexp.MustCompile(`(?m)^(\s*)// gofail: var (\w+) .*$`)
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		text := read(t, file)
		found := mark.FindAllSubmatch(text, -1)
		if len(found) == 0 || strings.HasSuffix(file, "_test.go") {
			continue
		}
		for _, point := range found {
			points = append(points, string(point[2]))
		}
		if err := os.Chmod(file, 0o600); err != nil {
			t.Fatal(err)
		}
		put(t, file, mark.ReplaceAll(text, []byte("${1}killHere(\"$2\")")))
	}
	slices.Sort(points)
	return points
}

func output(t *testing.T, dir, name string, args ...string) string {
	t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Dir = dir
	var errOut bytes.Buffer
	cmd.Stderr = &errOut
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", name, args, err, errOut.String())
	}
	return string(out)
}

func read(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func put(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// never are points that the program does not pass: it does not lock the file
// into memory, and unmaps it only in order to end, or to map more than a
// gigabyte.
var never = []string{"mlockError", "munlockError", "unmapError"}

// TestFault31KilledAtEachFailpoint kills the program at each point of a commit,
// at its first passage and at later ones.
func TestFault31KilledAtEachFailpoint(t *testing.T) {
	program, points := withPoints(t)
	want := []string{"beforeBucketPut", "beforeSyncDataPages", "beforeSyncMetaPage", "beforeWriteMetaError",
		"lackOfDiskSpace", "mapError", "mlockError", "munlockError", "resizeFileError", "unmapError"}
	if !slices.Equal(points, want) {
		t.Errorf("the library marks %v: say here what each new point is", points)
	}
	for _, point := range points {
		if slices.Contains(never, point) {
			continue
		}
		t.Run(point, func(t *testing.T) {
			killedMakingTheFile(t, program, point)
			if point == "resizeFileError" || point == "mapError" {
				return // passed once, when the file is made or opened
			}
			killedPushing(t, program, point)
		})
	}
}

// killedMakingTheFile kills at the first passage of a new service, and wants
// the next start to work.
func killedMakingTheFile(t *testing.T, program, point string) {
	t.Helper()
	dir := t.TempDir()
	if p := start(t, dir, []string{killedAt + "=" + point + ":1"}, program); p.url != "" {
		t.Fatal("the server started and was not killed")
	} else if !wasKilled(p) {
		t.Fatalf("the server ended by itself: %s", p.said)
	}
	startServer(t, dir, program).kill()
	wantKept(t, dir)
}

func wasKilled(p *program) bool {
	status, ok := p.cmd.ProcessState.Sys().(syscall.WaitStatus)
	return ok && status.Signaled() && status.Signal() == syscall.SIGKILL
}

// killedPushing kills at later and later passages while a tablet pushes, and
// has the tablet carry on after each.
func killedPushing(t *testing.T, program, point string) {
	t.Helper()
	dir := t.TempDir()
	team := staffed(t, dir, 1)
	first := startServer(t, dir, program)
	seen := &history.Recorder{}
	tab := signedIn(t, first.url, clinicianNo(0)).tablet(team)
	tab.watch(seen, tab.ID)
	lead := &reader{person: signedIn(t, first.url, "lead"), team: team}
	lead.watch(seen, "lead")
	first.kill()
	last := 8
	if point == "lackOfDiskSpace" {
		last = 4 // passed only when the file's pages are used up, which takes many pushes
	}
	for passage := 2; passage < last; passage = passage*3/2 + 1 {
		p := start(t, dir, []string{fmt.Sprintf("%s=%s:%d", killedAt, point, passage)}, program)
		if tab.url, lead.url = p.url, p.url; p.url != "" {
			lead.pullAll(1000)
			pushOn(t, tab, 7, make(chan struct{}))
			_ = p.cmd.Wait() // says that it was killed
			p.gone = true
		}
		if !wasKilled(p) {
			t.Fatalf("passage %d: the server ended by itself: %s", passage, p.said)
		}
		wantKept(t, dir, &tab.Tablet)
	}
	whole := startServer(t, dir, program)
	tab.url, lead.url = whole.url, whole.url
	if err := tab.push(1000); err != nil {
		t.Error(err)
	}
	lead.pullAll(1000)
	whole.kill()
	wantOneHistory(t, seen, []*tablet{tab}, lead)
	wantKept(t, dir, &tab.Tablet)
}
