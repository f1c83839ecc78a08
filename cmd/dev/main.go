// Command dev is for whoever changes Doorsill: it serves the invented service,
// watches the sources, and after each change builds the front end and the
// program anew, starts the program again and has the open pages reload.
//
// It stands in front of the program as a proxy. What makes pages reload is
// added there and is in no file that is ever shipped.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
)

func main() {
	addr := flag.String("addr", "127.0.0.1:8090", "listen on `HOST:PORT`, this machine only")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := run(ctx, *addr); err != nil {
		fmt.Fprintln(os.Stderr, "dev:", err)
		os.Exit(1)
	}
}

// run works in the current folder, the top of the repository, until the context
// ends.
func run(ctx context.Context, addr string) error {
	host, _, err := net.SplitHostPort(addr)
	if err != nil || !net.ParseIP(host).IsLoopback() {
		return fmt.Errorf("--addr: expected an address of this machine such as 127.0.0.1:8090, got %q", addr)
	}
	listener, err := net.Listen("tcp", addr)
	if err != nil {
		return err
	}
	pages := newPages()
	web := &http.Server{Handler: pages}
	go func() { _ = web.Serve(listener) }() // ends with Close
	defer web.Close()
	w, err := watch(".", "cmd", "embed", "frontend", "internal", "server")
	if err != nil {
		return err
	}
	defer w.Close()
	fmt.Printf("Open http://%s. Ctrl-C stops it.\n", listener.Addr())
	return loop(ctx, pages, w.changes)
}

// loop builds and starts at first and then after each change.
func loop(ctx context.Context, pages *pages, changes <-chan []string) error {
	var running *program
	defer func() { running.stop() }()
	for {
		next, err := renew(ctx, pages, running)
		if running = next; err != nil && ctx.Err() == nil {
			fmt.Fprintln(os.Stderr, err)
		}
		select {
		case <-ctx.Done():
			return nil
		case changed := <-changes:
			fmt.Println("changed:", strings.Join(changed, " "))
		}
	}
}

// renew builds, ends the program of before, starts the new one and has the
// pages reload. When the build fails, the program of before goes on.
func renew(ctx context.Context, pages *pages, before *program) (*program, error) {
	binary := filepath.Join(".cache", "dev", "doorsill")
	if err := build(ctx, binary); err != nil {
		return before, err
	}
	pages.pause()
	before.stop()
	said := io.Discard // how to sign in was said before
	if before == nil {
		said = os.Stdout
	}
	data := filepath.Join(".cache", "dev", "data")
	running, err := start(ctx, said, binary, "demo", "--data", data, "--addr", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	pages.show(running.url)
	fmt.Println("The new build is served.")
	return running, nil
}
