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
	// without are the first words of tests that are not run.
	without []string
	// begun: not every survivor has been looked at yet, so that it is run only when
	// it is named.
	begun bool
}

// writers come from one template for all structs, and a test compares them with
// encoding/json. The other generated files are changed as if written by hand: the
// names, ranges and words in them differ by field.
var writers = []string{"write_gen.go"}

// atRandom are tests of the engine that try many visits, people or ways at random.
// They take up to a minute, for each change that they reach, and what they notice by
// chance today they may not notice tomorrow.
var atRandom = []string{
	"TestForceNeverRaises", "TestNothingLeftOutRaises", "TestNoAnswerMadeWorse", "TestNoPlaceMadeWorse", "TestOrderDoesNotMatter",
	"TestTheBandHolds", "TestLessForceIsNeverForeseen", "TestTheUnitOfForceDoesNotMove",
	"TestDoorwaysAgree", "TestCornersAgree", "TestANarrowerPassage", "TestAQuickCheckIsNeverBetter", "TestEachStepIsTheLeast",
	"TestAWiderChair", "TestTheUnitOfLength", "TestWhatADriverCanDo", "TestTurningAboutAgrees",
}

// targets is read only.
var targets = []target{
	{name: "record", pkg: "./internal/record", tests: []string{"./internal/record", "./internal/tablet", "./internal/caseload", "./internal/verify", "./internal/intake"}},
	{name: "model", pkg: "./internal/model", tests: []string{"./internal/model", "./internal/record", "./internal/tablet", "./internal/engine", "./internal/intake"}, leaveOut: writers, without: atRandom},
	{name: "strictjson", pkg: "./internal/strictjson", tests: []string{"./internal/strictjson", "./internal/record", "./internal/model", "./internal/checklist"}},
	{name: "validation", pkg: "./internal/validation", tests: []string{"./internal/validation", "./internal/record", "./internal/model"}},
	{name: "readiness", pkg: "./internal/engine/readiness", tests: []string{"./internal/engine/readiness", "./internal/engine"}, without: atRandom},
	{name: "access", pkg: "./internal/engine/access", tests: []string{"./internal/engine/access", "./internal/engine/readiness", "./internal/engine"}, without: atRandom},
	{name: "quantity", pkg: "./internal/engine/quantity", tests: []string{"./internal/engine/readiness", "./internal/engine"}, without: atRandom},
	{name: "trend", pkg: "./internal/engine/trend", tests: []string{"./internal/engine/trend", "./internal/engine"}, without: atRandom},
	{name: "strength", pkg: "./internal/engine/strength", tests: []string{"./internal/engine/strength", "./internal/engine/access", "./internal/engine"}, without: atRandom},
	{name: "endurance", pkg: "./internal/engine/endurance", tests: []string{"./internal/engine/endurance", "./internal/engine"}, without: atRandom},
	{name: "passage", pkg: "./internal/engine/passage", tests: []string{"./internal/engine/passage", "./internal/engine"}, without: atRandom},
	{name: "advice", pkg: "./internal/engine/advice", tests: []string{"./internal/engine/advice", "./internal/engine"}, without: atRandom},
	{name: "trial", pkg: "./internal/engine/trial", tests: []string{"./internal/engine/trial", "./internal/engine"}, without: atRandom},
	{name: "provenance", pkg: "./internal/engine/provenance", tests: []string{"./internal/engine/provenance", "./internal/engine/endurance", "./internal/engine"}, without: atRandom},
	{name: "engine", pkg: "./internal/engine", tests: []string{"./internal/engine", "./internal/tablet"}, without: atRandom, begun: true},
	{name: "store", pkg: "./internal/store/bolt", tests: []string{"./internal/store/bolt", "./internal/verify", "./internal/intake"}},
	{name: "intake", pkg: "./internal/intake", tests: []string{"./internal/intake", "./internal/verify", "./internal/caseload"}},
}

// choose returns the targets of these names, or all of which every survivor is
// known.
func choose(names []string) ([]target, error) {
	if len(names) == 0 {
		return slices.DeleteFunc(slices.Clone(targets), func(t target) bool { return t.begun }), nil
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
