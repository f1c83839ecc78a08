package main

import (
	"fmt"
	"slices"
)

// target is a package that is changed, and the packages whose tests are to
// notice: its own first, the quickest of the others next.
type target struct {
	name, pkg string
	tests     []string
}

// targets is read only.
var targets = []target{
	{"record", "./internal/record", []string{"./internal/record", "./internal/engine/visittext", "./internal/caseload", "./internal/verify", "./internal/intake"}},
	{"readiness", "./internal/engine/readiness", []string{"./internal/engine/readiness", "./internal/engine"}},
	{"access", "./internal/engine/access", []string{"./internal/engine/access", "./internal/engine/readiness", "./internal/engine"}},
	{"store", "./internal/store/bolt", []string{"./internal/store/bolt", "./internal/verify", "./internal/intake"}},
	{"intake", "./internal/intake", []string{"./internal/intake", "./internal/verify", "./internal/caseload"}},
}

// choose returns the targets of these names, or all.
func choose(names []string) ([]target, error) {
	if len(names) == 0 {
		return targets, nil
	}
	var chosen []target
	for _, name := range names {
		at := slices.IndexFunc(targets, func(t target) bool { return t.name == name })
		if at < 0 {
			return nil, fmt.Errorf("%s is not in cmd/mutate/targets.go", name)
		}
		chosen = append(chosen, targets[at])
	}
	return chosen, nil
}
