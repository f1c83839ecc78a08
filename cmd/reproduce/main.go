// Command reproduce builds the program twice, by "make build", from copies of the
// sources in two folders, with empty caches, of another age, time zone, umask and
// number of processors, and fails when one byte of the program or of what browsers
// load differs. It prints the SHA-256 of the program, which whoever builds the same
// commit with the same version of Go gets as well.
//
// Usage, from the top of the repository: go run ./cmd/reproduce
package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"
)

func main() {
	if err := run(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "reproduce:", err)
		os.Exit(1)
	}
}

// way is how one of the two is built.
type way struct {
	folder, umask string
	env           []string
	// age is how old the files are.
	age time.Duration
}

func run(out io.Writer) error {
	top, err := os.MkdirTemp("", "doorsill-reproduce-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(top)
	ways := []way{
		{folder: filepath.Join(top, "a"), umask: "022", env: []string{"TZ=UTC", "LC_ALL=C"}},
		{folder: filepath.Join(top, "another folder of a longer name"), umask: "077", age: 20 * 365 * 24 * time.Hour,
			env: []string{"TZ=Pacific/Kiritimati", "LC_ALL=C.UTF-8", "GOMAXPROCS=1"}},
	}
	revision, err := revision()
	if err != nil {
		return err
	}
	var made []map[string]string
	for _, w := range ways {
		if err := w.build(revision, out); err != nil {
			return err
		}
		sums, err := sumsOf(w.folder)
		if err != nil {
			return err
		}
		made = append(made, sums)
	}
	if differing := compare(made[0], made[1]); len(differing) > 0 {
		return fmt.Errorf("two builds of the same sources differ in %s", strings.Join(differing, ", "))
	}
	fmt.Fprintf(out, "%d files are the same in both builds of %s with %s.\n%s  %s\n", len(made[0]), revision, runtime.Version(), made[0][program], program)
	return nil
}

// program is the path of what is built.
const program = "bin/doorsill"

// revision is what the sources are called: both builds are of what lies here.
func revision() (string, error) {
	head, err := exec.Command("git", "rev-parse", "HEAD").Output()
	if err != nil {
		return "", fmt.Errorf("name the sources: %w", err)
	}
	return strings.TrimSpace(string(head)), nil
}

// build copies the sources and builds them.
func (w way) build(revision string, out io.Writer) error {
	if err := w.copySources(); err != nil {
		return fmt.Errorf("copy the sources: %w", err)
	}
	caches, err := os.MkdirTemp("", "doorsill-reproduce-cache-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(caches)
	cmd := exec.Command("sh", "-c", "umask "+w.umask+" && exec make build REVISION="+revision)
	cmd.Dir = w.folder
	cmd.Env = append(append(os.Environ(), w.env...), "GOCACHE="+caches)
	var said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &said
	fmt.Fprintf(out, "building in %q, umask %s, %s\n", filepath.Base(w.folder), w.umask, strings.Join(w.env, " "))
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("make build: %w\n%s", err, said.String())
	}
	return nil
}

// copySources copies the files that git knows, as they lie here, and what npm
// installed.
func (w way) copySources() error {
	list, err := exec.Command("git", "ls-files", "-z").Output()
	if err != nil {
		return err
	}
	for _, path := range strings.Split(strings.TrimSuffix(string(list), "\x00"), "\x00") {
		if err := copyFile(path, filepath.Join(w.folder, path)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	if err := os.CopyFS(filepath.Join(w.folder, "node_modules"), os.DirFS("node_modules")); err != nil {
		return err
	}
	at := time.Now().Add(-w.age)
	err = filepath.WalkDir(w.folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.Type()&fs.ModeSymlink != 0 {
			return err
		}
		return os.Chtimes(path, at, at)
	})
	// Newer than package-lock.json, or make would install it again.
	now := time.Now()
	return errors.Join(err, os.Chtimes(filepath.Join(w.folder, "node_modules", ".package-lock.json"), now, now))
}

func copyFile(from, to string) error {
	data, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		return err
	}
	return os.WriteFile(to, data, 0o644)
}

// sumsOf are the SHA-256 of the program and of all that browsers load, by path.
func sumsOf(folder string) (map[string]string, error) {
	sums := map[string]string{}
	add := func(path string) error {
		data, err := os.ReadFile(filepath.Join(folder, path))
		sums[path] = fmt.Sprintf("%x", sha256.Sum256(data))
		return err
	}
	if err := add(program); err != nil {
		return nil, err
	}
	err := filepath.WalkDir(filepath.Join(folder, "embed", "dist"), func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		path, err = filepath.Rel(folder, path)
		return errors.Join(err, add(path))
	})
	return sums, err
}

// compare names the files that differ or that only one of the two has.
func compare(a, b map[string]string) (differing []string) {
	for path := range a {
		if a[path] != b[path] {
			differing = append(differing, path)
		}
	}
	for path := range b {
		if _, there := a[path]; !there {
			differing = append(differing, path)
		}
	}
	slices.Sort(differing)
	return differing
}
