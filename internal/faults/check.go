package faults

import (
	"fmt"
	"strings"
)

// Check returns what is wrong with a run of all tests: a fault without a test
// that ran and passed, one that is tested and said to be untested, and a test
// that is named after a fault that there is not.
func Check(tests []Test) (wrong []string) {
	passed, skipped := map[int]bool{}, map[int][]string{}
	for _, t := range tests {
		number, named := NumberOf(t.Name)
		switch {
		case !named:
		case number < 1 || number > Last:
			wrong = append(wrong, fmt.Sprintf("there is no fault %02d: %s", number, t.Name))
		case t.Passed:
			passed[number] = true
		case t.Skipped != "":
			skipped[number] = append(skipped[number], t.Name)
		}
	}
	for number := 1; number <= Last; number++ {
		reason, excused := untested[number]
		switch {
		case excused && passed[number]:
			wrong = append(wrong, fmt.Sprintf("fault %02d is tested and excused all the same: %s", number, reason))
		case excused || passed[number]:
		case len(skipped[number]) > 0:
			wrong = append(wrong, fmt.Sprintf("fault %02d: no test of it ran to its end; skipped were %s", number, strings.Join(skipped[number], ", ")))
		default:
			wrong = append(wrong, fmt.Sprintf("fault %02d: no test of that name ran and passed", number))
		}
	}
	return wrong
}

// Skipped returns a line for every test that was left out, or a part of it.
func Skipped(tests []Test) (lines []string) {
	for _, t := range tests {
		if t.Skipped != "" {
			lines = append(lines, fmt.Sprintf("skipped: %s (%s): %s", t.Name, t.In, t.Skipped))
		}
	}
	return lines
}
