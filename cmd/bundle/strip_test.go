package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/cmd/bundle/strip"
)

// TestStrippedProgramRunsAsBefore compiles a program that makes the runtime read
// its function tables, with the engine's flags, and runs it in node as the linker
// wrote it and stripped.
func TestStrippedProgramRunsAsBefore(t *testing.T) {
	dir := t.TempDir()
	before := filepath.Join(dir, "before.wasm")
	args := append([]string{"build", "-o", before}, engineFlags...)
	if _, err := goTool(".", append(args, "./testdata/strain")...); err != nil {
		t.Fatal(err)
	}
	wasm, err := os.ReadFile(before)
	if err != nil {
		t.Fatal(err)
	}
	small, err := strip.Program(wasm)
	if err != nil {
		t.Fatal(err)
	}
	writeFile(t, dir, "after.wasm", string(small))
	want, wantTrace := runInNode(t, before)
	got, gotTrace := runInNode(t, filepath.Join(dir, "after.wasm"))
	if got != want {
		t.Errorf("as the linker wrote it:\n%s\nstripped:\n%s", want, got)
	}
	for _, line := range []string{"index error: runtime error: index out of range [4] with length 0\n", "twice panic: the second\n", "finalizers 10\n"} {
		if !strings.Contains(got, line) {
			t.Errorf("the program did not say %q:\n%s", line, got)
		}
	}
	const function, file = "main.main()", "main.go:"
	if !strings.Contains(wantTrace, file) || strings.Contains(gotTrace, file) || !strings.Contains(gotTrace, function) {
		t.Errorf("the stack trace must keep functions and lose files:\n%s\nstripped:\n%s", wantTrace, gotTrace)
	}
	// gzip and not brotli: under the race detector that takes minutes.
	packed, _ := gzipBest(wasm)
	if packedSmall, _ := gzipBest(small); len(packedSmall) > len(packed)*85/100 {
		t.Errorf("%d bytes to fetch became %d, want 15 %% less", len(packed), len(packedSmall))
	}
}

// runInNode returns what the program prints up to its last panic, which must end
// it with Go's code for a panic, and the stack trace after that.
func runInNode(t *testing.T, wasm string) (text, trace string) {
	t.Helper()
	out, err := exec.Command("node", "--no-warnings", "--stack-size=8192", "testdata/run.mjs", wasm).CombinedOutput()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != 2 {
		t.Fatalf("got %v, want an end with code 2:\n%s", err, out)
	}
	text, trace, found := strings.Cut(string(out), "\ngoroutine ")
	if !found || !strings.HasSuffix(strings.TrimSpace(text), "panic: the last straw") {
		t.Fatalf("the program ended early:\n%s", out)
	}
	return text, trace
}

func TestUnknownGoVersionStillGivesAnEngine(t *testing.T) {
	for _, version := range []string{"go1.27", "go1.2", "go1.260.1", "devel"} {
		var warnings bytes.Buffer
		wasm := []byte("as the linker wrote it")
		got, err := stripEngine(wasm, version, &warnings)
		if err != nil || !bytes.Equal(got, wasm) || !strings.Contains(warnings.String(), version) {
			t.Errorf("%s: got %q, %v and the warning %q, want the same engine", version, got, err, warnings.String())
		}
	}
	for _, version := range []string{"go1.26", "go1.26.8"} {
		if _, err := stripEngine([]byte("no engine"), version, io.Discard); err == nil || !strings.Contains(err.Error(), "expected WebAssembly") {
			t.Errorf("%s: got %v, want an error that says what was expected", version, err)
		}
	}
}
