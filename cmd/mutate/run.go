package main

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"time"
)

// result is what became of the changes to a package.
type result struct {
	target
	changes, unreached int
	survivors          []mutant
	known              map[string]string
	took               time.Duration
}

// run changes a target and compares what survives with what is known to.
func (t target) run(ctx context.Context, asked selection) (*result, error) {
	known, err := readKnown(t.name)
	if err != nil {
		return nil, err
	}
	r, err := t.against(ctx, asked)
	if err != nil {
		return nil, err
	}
	r.known = known
	return r, nil
}

// against runs the tests against one change at a time, in as many processes as the
// machine has processors.
func (t target) against(ctx context.Context, asked selection) (*result, error) {
	start := time.Now()
	dir, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	source, err := load(t.pkg)
	if err != nil {
		return nil, err
	}
	source.leaveOut(t.leaveOut)
	f := find(source, asked.only)
	suites, err := t.suites(ctx, f, dir)
	if err != nil {
		return nil, err
	}
	numberAlike(f.mutants)
	tried := tryAll(ctx, suites, f.mutants, asked)
	r := &result{target: t}
	for n, one := range tried {
		if one.err != nil {
			return nil, one.err
		}
		if one.left {
			continue
		}
		r.changes++
		if one.survives {
			m := f.mutants[n]
			if m.unreached = one.unreached; m.unreached {
				r.unreached++
			}
			r.survivors = append(r.survivors, m)
		}
	}
	r.took = time.Since(start)
	return r, nil
}

// outcome is what became of one change.
type outcome struct {
	// left says that it was not asked for.
	left, survives, unreached bool
	err                       error
}

// tryAll tries each change that is asked for.
func tryAll(ctx context.Context, suites []*suite, mutants []mutant, asked selection) []outcome {
	start := time.Now()
	outcomes := make([]outcome, len(mutants))
	var next, survive atomic.Int64
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for n := int(next.Add(1)) - 1; n < len(mutants); n = int(next.Add(1)) - 1 {
				if (n+1)%100 == 0 {
					fmt.Fprintf(os.Stderr, "%d of %d changes, %d survive, %v\n", n+1, len(mutants), survive.Load(), time.Since(start).Round(time.Second))
				}
				if outcomes[n] = try(ctx, suites, n, mutants[n].name(), asked); outcomes[n].survives {
					survive.Add(1)
				}
			}
		})
	}
	workers.Wait()
	return outcomes
}

// suites builds and measures the tests that are to notice.
func (t target) suites(ctx context.Context, f *finder, dir string) ([]*suite, error) {
	overlay, err := f.overlay(dir)
	if err != nil {
		return nil, err
	}
	var suites []*suite
	for _, pkg := range t.tests {
		s, err := build(ctx, pkg, t.without, overlay, dir)
		if err != nil {
			return nil, err
		}
		if err := s.measure(ctx, dir); err != nil {
			return nil, err
		}
		suites = append(suites, s)
	}
	return suites, nil
}

// try runs the tests that reach a change until one fails.
func try(ctx context.Context, suites []*suite, n int, name string, asked selection) outcome {
	if !asked.has(name) {
		return outcome{left: true}
	}
	batches := batchesFor(suites, n)
	for _, b := range batches {
		failed, _, err := b.run(ctx, b.tests, b.limit(), fmt.Sprintf("MUTANT=%d", n))
		if failed || err != nil {
			return outcome{err: err}
		}
	}
	return outcome{survives: true, unreached: len(batches) == 0}
}

// batch is tests that are run in one go.
type batch struct {
	*suite
	tests []*test
	takes time.Duration
}

// limit is how long a batch may take with a change: far longer than without it. By
// the clock it also waits for a machine that is busy.
func (b *batch) limit() limit {
	l := limit{wall: 10*b.takes + 30*time.Second, processor: time.Second}
	for _, t := range b.tests {
		l.processor += 10 * t.processor
	}
	return l
}

// quick is how long a test may take to be run together with others, and about how
// long such a batch takes.
const quick = 200 * time.Millisecond

// batchesFor returns the tests that reach a change: the quick ones of each suite
// in batches, the quickest first, and then the slow ones by themselves.
func batchesFor(suites []*suite, n int) []batch {
	var batches, slow []batch
	for _, s := range suites {
		var reach []*test
		for _, t := range s.tests {
			if t.reaches[n] {
				reach = append(reach, t)
			}
		}
		slices.SortStableFunc(reach, func(a, b *test) int { return cmp.Compare(a.takes, b.takes) })
		together := batch{suite: s}
		for _, t := range reach {
			if t.takes > quick {
				slow = append(slow, batch{s, []*test{t}, t.takes})
				continue
			}
			if together.takes > quick {
				batches, together = append(batches, together), batch{suite: s}
			}
			together.tests, together.takes = append(together.tests, t), together.takes+t.takes
		}
		if len(together.tests) > 0 {
			batches = append(batches, together)
		}
	}
	slices.SortStableFunc(slow, func(a, b batch) int { return cmp.Compare(a.takes, b.takes) })
	return append(batches, slow...)
}
