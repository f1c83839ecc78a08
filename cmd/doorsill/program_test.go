package main

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// childMode is set for a child process of these tests that is to be the
// program instead of the tests.
const childMode = "DOORSILL_TEST_CHILD"

// program is the real program, serving in a process of its own.
type program struct {
	testing.TB
	// url is empty when it ended before it listened.
	url  string
	cmd  *exec.Cmd
	said *bytes.Buffer
	gone bool
}

// startServer starts the program on a folder and waits until it listens.
// command is what runs it: these tests' binary, or something that ends in
// running it. Options of the program's own may follow.
func startServer(t testing.TB, dir string, command ...string) *program {
	t.Helper()
	p := start(t, dir, nil, command...)
	if p.url == "" {
		t.Fatalf("the server did not start: %s", p.said)
	}
	return p
}

func start(t testing.TB, dir string, env []string, command ...string) *program {
	t.Helper()
	at := len(command)
	for i, arg := range command {
		if strings.HasPrefix(arg, "--") {
			at = i
			break
		}
	}
	args := slices.Concat(command[1:at], []string{"serve", "--data", dir, "--addr", "127.0.0.1:0"}, command[at:])
	cmd := exec.Command(command[0], args...)
	cmd.Env = append(append(os.Environ(), childMode+"=1"), env...)
	p := &program{TB: t, cmd: cmd, said: &bytes.Buffer{}}
	cmd.Stderr = p.said
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.kill)
	if p.url = firstAddress(out); p.url == "" {
		p.kill()
		return p
	}
	go func() { _, _ = io.Copy(io.Discard, out) }() // until it ends
	return p
}

// kill ends the program without a word, as kill -9 does, unless it is dead.
func (p *program) kill() {
	if p.gone {
		return
	}
	p.gone = true
	_ = p.cmd.Process.Kill() // it may have ended by itself
	_ = p.cmd.Wait()         // says that it was killed
}
