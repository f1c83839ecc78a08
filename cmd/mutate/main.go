// Command mutate asks whether the tests would notice a mistake: it makes one
// small change to a package at a time (a bound moved by one, a condition that
// never holds, an error that is swallowed), runs the tests that reach the
// changed place, and names each change that no test failed for.
//
// Usage, from the top of the repository:
//
//	go run ./cmd/mutate                    the packages of targets.go that are not only begun
//	go run ./cmd/mutate record readiness   some of them
//	go run ./cmd/mutate -only Add record   changes in functions named so
//	go run ./cmd/mutate -only icc.go trend changes in a file, or in several: a.go,b.go
//	go run ./cmd/mutate -own trend         against the package's own tests alone
//	go run ./cmd/mutate -from FILE trend   only the changes that such a run printed to FILE
//
// Tests at random that take long are left out: see atRandom in targets.go.
//
// A survivor that is no gap in the tests stands in known/<name>.txt with the
// reason. Any other fails the run.
//
// All changes are compiled in at once, each behind its number, and the
// environment says which one is on: a package is built once and not a thousand
// times. It is done with an overlay, so no file of the repository is touched.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	only := flag.String("only", "", "make changes only in functions whose name contains `TEXT`, or in the file of that name")
	from := flag.String("from", "", "make only the changes that an earlier run printed to `FILE`")
	own := flag.Bool("own", false, "run the tests of the changed package alone: quicker, and names what only others notice")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := run(ctx, flag.Args(), selection{only: *only}, *from, *own); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, names []string, asked selection, from string, own bool) error {
	chosen, err := choose(names)
	if err != nil {
		return err
	}
	if from != "" {
		if asked.named, err = namesIn(from); err != nil {
			return err
		}
	}
	failed := 0
	for _, t := range chosen {
		if own {
			t.tests = []string{t.pkg}
		}
		r, err := t.run(ctx, asked)
		if err != nil {
			return fmt.Errorf("%s: %w", t.name, err)
		}
		failed += r.print(os.Stdout, asked.whole() && !own)
	}
	if failed > 0 {
		return fmt.Errorf("no test fails for %d changes that are not in cmd/mutate/known", failed)
	}
	return nil
}
