package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net/url"
	"os"
	"os/exec"
	"regexp"
	"time"
)

// build makes the front end and the program. Both are started as commands, so
// that a change of the build step itself counts as well.
func build(ctx context.Context, binary string) error {
	for _, args := range [][]string{{"run", "./cmd/bundle"}, {"build", "-o", binary, "./cmd/doorsill"}} {
		out, err := exec.CommandContext(ctx, "go", args...).CombinedOutput()
		if err != nil {
			return fmt.Errorf("%sgo %s: %w", out, args[0], err)
		}
	}
	return nil
}

// stopWithin is longer than the program waits for its last requests.
const stopWithin = 15 * time.Second

// program is a server that runs in a process of its own.
type program struct {
	url    *url.URL
	cancel context.CancelFunc
	ended  chan struct{}
}

// listens finds the address in what the program prints when it is ready.
var listens = regexp.MustCompile(`listens on (http://\S+)\. `)

// start runs the binary and returns when it listens. What it says until then is
// passed on.
func start(ctx context.Context, said io.Writer, binary string, args ...string) (*program, error) {
	ctx, cancel := context.WithCancel(ctx)
	cmd := exec.CommandContext(ctx, binary, args...)
	cmd.Cancel = func() error { return cmd.Process.Signal(os.Interrupt) }
	cmd.WaitDelay, cmd.Stderr = stopWithin, os.Stderr
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		cancel()
		return nil, err
	}
	p := &program{cancel: cancel, ended: make(chan struct{})}
	lines := bufio.NewReader(out)
	p.url = address(lines, said)
	go func() {
		_, _ = io.Copy(io.Discard, lines) // until it ends
		_ = cmd.Wait()                    // it was told to, or has said why on standard error
		close(p.ended)
	}()
	if p.url == nil {
		p.stop()
		return nil, fmt.Errorf("%s ended before it listened", binary)
	}
	return p, nil
}

// address reads up to the line that says where the program listens and passes
// on what comes before, such as how to sign in; nil when there is none.
func address(lines *bufio.Reader, said io.Writer) *url.URL {
	for {
		line, err := lines.ReadString('\n')
		if found := listens.FindStringSubmatch(line); found != nil {
			at, _ := url.Parse(found[1]) // nil is no address either
			return at
		}
		fmt.Fprint(said, line)
		if err != nil {
			return nil
		}
	}
}

// stop ends the program and waits until it is gone: two can not hold the same
// records. Nil is a program that never ran.
func (p *program) stop() {
	if p == nil {
		return
	}
	p.cancel()
	<-p.ended
}
