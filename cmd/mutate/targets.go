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
	// leaveOut are files that are not changed.
	leaveOut []string
	// without are the first words of tests that are not run: simulations of many
	// people or ways, which take seconds for each change that they reach and say
	// only that a share of them became larger.
	without []string
}

// writers come from one template for all structs, and a test compares them with
// encoding/json. The other generated files are changed as if written by hand: the
// names, ranges and words in them differ by field.
var writers = []string{"write_gen.go"}

// targets is read only.
var targets = []target{
	{name: "record", pkg: "./internal/record", tests: []string{"./internal/record", "./internal/tablet", "./internal/caseload", "./internal/verify", "./internal/intake"}},
	{name: "model", pkg: "./internal/model", tests: []string{"./internal/model", "./internal/record", "./internal/tablet", "./internal/engine", "./internal/intake"}, leaveOut: writers},
	{name: "strictjson", pkg: "./internal/strictjson", tests: []string{"./internal/strictjson", "./internal/record", "./internal/model", "./internal/checklist"}},
	{name: "validation", pkg: "./internal/validation", tests: []string{"./internal/validation", "./internal/record", "./internal/model"}},
	{name: "readiness", pkg: "./internal/engine/readiness", tests: []string{"./internal/engine/readiness", "./internal/engine"}},
	{name: "access", pkg: "./internal/engine/access", tests: []string{"./internal/engine/access", "./internal/engine/readiness", "./internal/engine"}},
	{name: "quantity", pkg: "./internal/engine/quantity", tests: []string{"./internal/engine/readiness", "./internal/engine"}},
	{name: "trend", pkg: "./internal/engine/trend", tests: []string{"./internal/engine/trend", "./internal/engine"}, without: []string{"TestTheBandHolds"}},
	{name: "store", pkg: "./internal/store/bolt", tests: []string{"./internal/store/bolt", "./internal/verify", "./internal/intake"}},
	{name: "intake", pkg: "./internal/intake", tests: []string{"./internal/intake", "./internal/verify", "./internal/caseload"}},
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
