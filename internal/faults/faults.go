// Package faults knows the named faults: what a service like this one meets of
// networks, devices, servers and large files, each by its number. A test says
// by its name which one it holds: TestFault07… in Go, "fault 07: …" elsewhere.
// A name alone holds nothing; Check asks the reports of a whole run of the tests
// whether one of that name passed.
package faults

import (
	"maps"
	"regexp"
	"strconv"
)

// Last is the highest number.
const Last = 50

// untested are faults that nothing can be tested about, with the reason; read
// only.
var untested = map[int]string{
	41: "a photo that is cut off and resumed: there are no photos yet",
	42: "a photo with a wrong checksum: there are no photos yet",
	43: "the same photo twice: there are no photos yet",
	44: "a photo before or after its event: there are no photos yet",
}

// Untested returns the faults that nothing can be tested about, with the reason.
func Untested() map[int]string { return maps.Clone(untested) }

// name is how a test's name begins that holds a fault.
var name = regexp.MustCompile(`^(?:TestFault|fault )(\d\d)(?:[A-Z]|: )`)

// NumberOf returns the number of the fault that a test is named after, and
// false when it is named after none.
func NumberOf(test string) (number int, ok bool) {
	found := name.FindStringSubmatch(test)
	if found == nil {
		return 0, false
	}
	number, err := strconv.Atoi(found[1])
	return number, err == nil
}
