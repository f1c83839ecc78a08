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
}

// writers come from one template for all structs, and a test compares them with
// encoding/json. The other generated files are changed as if written by hand: the
// names, ranges and words in them differ by field.
var writers = []string{"write_gen.go"}

// targets is read only.
var targets = []target{
	{"record", "./internal/record", []string{"./internal/record", "./internal/tablet", "./internal/caseload", "./internal/verify", "./internal/intake"}, nil},
	{"model", "./internal/model", []string{"./internal/model", "./internal/record", "./internal/tablet", "./internal/engine", "./internal/intake"}, writers},
	{"strictjson", "./internal/strictjson", []string{"./internal/strictjson", "./internal/record", "./internal/model", "./internal/checklist"}, nil},
	{"validation", "./internal/validation", []string{"./internal/validation", "./internal/record", "./internal/model"}, nil},
	{"readiness", "./internal/engine/readiness", []string{"./internal/engine/readiness", "./internal/engine"}, nil},
	{"access", "./internal/engine/access", []string{"./internal/engine/access", "./internal/engine/readiness", "./internal/engine"}, nil},
	{"quantity", "./internal/engine/quantity", []string{"./internal/engine/readiness", "./internal/engine"}, nil},
	{"store", "./internal/store/bolt", []string{"./internal/store/bolt", "./internal/verify", "./internal/intake"}, nil},
	{"intake", "./internal/intake", []string{"./internal/intake", "./internal/verify", "./internal/caseload"}, nil},
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
