// Package sample has gaps in its tests, which cmd/mutate must find.
package sample

import "errors"

// Most is how much may be asked for.
const Most = 3

var errTooMuch = errors.New("too much")

// Ask returns twice n, or an error above Most.
func Ask(n int) (int, error) {
	if n > Most {
		return 0, errTooMuch
	}
	return n * 2, nil
}

// Both wants two things, of which the test only tries without the first.
func Both(first, second bool) bool { return first && second }

// Count counts what is below a limit, and would not end without the step.
func Count(limit int) (n int) {
	total := 0
	for total < limit {
		total += 2
		n++
	}
	return n
}

// Kind sorts a word.
func Kind(word string) string {
	switch word {
	case "red", "green":
		return "colour"
	}
	return "other"
}

// Untested is called by no test.
func Untested(n int) bool { return n > 1 }
