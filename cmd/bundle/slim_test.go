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

	"doorsill/cmd/bundle/slim"
)

// TestSlimProgramRunsAsBefore compiles a program that makes the runtime read its
// function tables, with the engine's flags, and runs it in node as the linker
// wrote it and as slim left it.
func TestSlimProgramRunsAsBefore(t *testing.T) {
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
	small, err := slim.Program(wasm)
	if err != nil {
		t.Fatal(err)
	}
	writeFile(t, dir, "after.wasm", string(small))
	want, got := runInNode(t, before), runInNode(t, filepath.Join(dir, "after.wasm"))
	if got != want {
		t.Errorf("as the linker wrote it:\n%s\nslimmed:\n%s", want, got)
	}
	for _, line := range []string{"index error: runtime error: index out of range [4] with length 0\n", "twice panic: the second\n", "finalizers 10\n"} {
		if !strings.Contains(got, line) {
			t.Errorf("the program did not say %q:\n%s", line, got)
		}
	}
	packed, _ := gzipBest(wasm)
	if packedSmall, _ := gzipBest(small); len(packedSmall) > len(packed)*4/5 {
		t.Errorf("%d bytes to fetch became %d, want a fifth less", len(packed), len(packedSmall))
	}
}

// runInNode returns what the program prints up to its last panic, which must end
// it with Go's code for a panic; the stack trace after it is not compared.
func runInNode(t *testing.T, wasm string) string {
	t.Helper()
	out, err := exec.Command("node", "--no-warnings", "--stack-size=8192", "testdata/run.mjs", wasm).CombinedOutput()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != 2 {
		t.Fatalf("got %v, want an end with code 2:\n%s", err, out)
	}
	text, _, found := strings.Cut(string(out), "\ngoroutine ")
	if !found || !strings.HasSuffix(strings.TrimSpace(text), "panic: the last straw") {
		t.Fatalf("the program ended early:\n%s", out)
	}
	return text
}

func TestUnknownGoVersionStillGivesAnEngine(t *testing.T) {
	wasm, err := compileEngine("../..", newCache("../.."))
	if err != nil {
		t.Fatal(err)
	}
	var warnings bytes.Buffer
	// The finished engine no longer says which version wrote it.
	again, err := slimEngine(wasm, &warnings)
	if err != nil || !bytes.Equal(again, wasm) {
		t.Errorf("got %d bytes and %v, want the same engine", len(again), err)
	}
	if !strings.Contains(warnings.String(), "unknown version of Go") {
		t.Errorf("the warning says %q", warnings.String())
	}
	if _, err := slimEngine([]byte("no engine"), io.Discard); err == nil || !strings.Contains(err.Error(), "expected WebAssembly") {
		t.Errorf("got %v, want an error that says what was expected", err)
	}
}
