package main

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"slices"
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
func (t target) run(ctx context.Context, only string) (*result, error) {
	known, err := readKnown(t.name)
	if err != nil {
		return nil, err
	}
	r, err := t.against(ctx, only)
	if err != nil {
		return nil, err
	}
	r.known = known
	return r, nil
}

// against runs the tests against one change at a time.
func (t target) against(ctx context.Context, only string) (*result, error) {
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
	f := find(source, only)
	suites, err := t.suites(ctx, f, dir)
	if err != nil {
		return nil, err
	}
	numberAlike(f.mutants)
	r := &result{target: t, changes: len(f.mutants)}
	for n := range f.mutants {
		if err := r.try(ctx, suites, n, &f.mutants[n]); err != nil {
			return nil, err
		}
		if (n+1)%100 == 0 {
			fmt.Fprintf(os.Stderr, "%s: %d of %d changes, %d survive, %v\n", t.name, n+1, r.changes, len(r.survivors), time.Since(start).Round(time.Second))
		}
	}
	r.took = time.Since(start)
	return r, nil
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
func (r *result) try(ctx context.Context, suites []*suite, n int, m *mutant) error {
	batches := batchesFor(suites, n)
	for _, b := range batches {
		failed, err := b.run(ctx, b.tests, 10*b.takes+5*time.Second, fmt.Sprintf("MUTANT=%d", n))
		if failed || err != nil {
			return err
		}
	}
	if len(batches) == 0 {
		r.unreached++
		m.unreached = true
	}
	r.survivors = append(r.survivors, *m)
	return nil
}

// batch is tests that are run in one go.
type batch struct {
	*suite
	tests []*test
	takes time.Duration
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
