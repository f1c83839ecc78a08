package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// suite is the tests of one package, built with every change in it.
type suite struct {
	pkg, dir, program string
	tests             []*test
}

// test is one test, how long it takes by the clock and of the processor, and the
// changes whose place it reaches.
type test struct {
	name             string
	takes, processor time.Duration
	reaches          map[int]bool
}

// limit is how long tests may take: by the clock, and of the processor, which says
// sooner that a change does not come to an end, and the same on a busy machine.
type limit struct{ wall, processor time.Duration }

// slowest is how long a test may take: it is run for every change it reaches.
const slowest = 10 * time.Second

// build compiles the tests of a package, without those whose names begin so; a
// package without any has no suite.
func build(ctx context.Context, pkg string, without []string, overlay, dir string) (*suite, error) {
	where, err := goList("list", "-json=Dir,ImportPath", pkg)
	if err != nil {
		return nil, err
	}
	s := &suite{pkg: pkg, dir: where[0].Dir, program: filepath.Join(dir, strings.ReplaceAll(strings.Trim(pkg, "./"), "/", "-")+".test")}
	cmd := exec.CommandContext(ctx, "go", "test", "-c", "-vet=off", "-overlay", overlay, "-o", s.program, pkg)
	if out, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("build the tests of %s: %w\n%s", pkg, err, out)
	}
	list := exec.CommandContext(ctx, s.program, "-test.list", "^(Test|Fuzz|Example)")
	list.Dir = s.dir
	names, err := list.Output()
	if err != nil {
		return nil, fmt.Errorf("list the tests of %s: %w", pkg, err)
	}
	for _, name := range strings.Fields(string(names)) {
		if slices.ContainsFunc(without, func(first string) bool { return strings.HasPrefix(name, first) }) {
			continue
		}
		s.tests = append(s.tests, &test{name: name, reaches: map[int]bool{}})
	}
	return s, nil
}

// measure runs every test by itself, without a change.
func (s *suite) measure(ctx context.Context, dir string) error {
	kept := s.tests[:0]
	for i, t := range s.tests {
		trace := filepath.Join(dir, fmt.Sprintf("trace-%d", i))
		start := time.Now()
		failed, processor, err := s.run(ctx, []*test{t}, limit{time.Minute, time.Minute}, "MUTANT_TRACE="+trace)
		if err != nil {
			return err
		}
		t.processor = processor
		if t.takes = time.Since(start); failed && t.takes < time.Minute {
			return fmt.Errorf("%s of %s fails without a change", t.name, s.pkg)
		}
		if err := t.read(trace); err != nil {
			return err
		}
		if t.takes <= slowest {
			kept = append(kept, t)
		}
	}
	s.tests = kept
	return nil
}

// read reads which changes a test reached.
func (t *test) read(trace string) error {
	file, err := os.Open(trace)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	defer os.Remove(trace)
	defer file.Close()
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		n, err := strconv.Atoi(lines.Text())
		if err != nil {
			return err
		}
		t.reaches[n] = true
	}
	return lines.Err()
}

// run runs some tests and says whether one failed, which one that takes far
// too long does, and how much of the processor they took.
func (s *suite) run(ctx context.Context, tests []*test, most limit, env ...string) (failed bool, processor time.Duration, err error) {
	names := make([]string, len(tests))
	for i := range tests {
		names[i] = tests[i].name
	}
	limited, cancel := context.WithTimeout(ctx, most.wall)
	defer cancel()
	cmd := exec.CommandContext(limited, s.program, "-test.failfast", "-test.run", "^("+strings.Join(names, "|")+")$")
	cmd.Dir, cmd.Env = s.dir, append(append(os.Environ(), fmt.Sprintf("MUTANT_PROCESSOR=%d", most.processor)), env...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // with what the tests start
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
	cmd.WaitDelay = time.Second
	err = cmd.Run()
	if ctx.Err() != nil {
		return false, 0, ctx.Err()
	}
	if cmd.ProcessState != nil {
		processor = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	}
	var exit *exec.ExitError
	if err == nil || errors.As(err, &exit) || errors.Is(err, exec.ErrWaitDelay) || limited.Err() != nil {
		return err != nil, processor, nil
	}
	return false, 0, err
}
