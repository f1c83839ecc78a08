package faults

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

func TestNumberOf(t *testing.T) {
	for name, want := range map[string]int{
		"TestFault07ProxyGivesAnOldAnswer": 7, "TestFault44A": 44, "TestFault99Zoo": 99,
		"fault 12: the browser is killed": 12, "fault 00: none": 0,
		"TestFault7One": -1, "TestFault07": -1, "TestFault07x": -1, "TestFaults07Are": -1, "FaultTest07A": -1, "a fault 12: x": -1, "fault 12 is": -1, "Fault 12: x": -1,
	} {
		number, ok := NumberOf(name)
		if ok != (want >= 0) || ok && number != want {
			t.Errorf("%q: %d, %v", name, number, ok)
		}
	}
}

// report is what the two reporters write, shortened.
const report = `<?xml version="1.0"?>
<testsuites tests="9"><testsuite name="doorsill/server" failures="0">
	<properties><property name="go.version" value="go1.26"></property></properties>
	<testcase classname="doorsill/server" name="TestFault01Lost/first"></testcase>
	<testcase classname="doorsill/server" name="TestFault01Lost"></testcase>
	<testcase classname="doorsill/server" name="TestFault02Full/disk"><skipped message="=== RUN   TestFault02Full/disk&#xA;    full.go:9: no small disk here"></skipped></testcase>
	<testcase classname="doorsill/server" name="TestFault02Full"></testcase>
	<testcase classname="doorsill/server" name="TestFault03Cut"><failure message="Failed">x</failure></testcase>
	<testcase classname="doorsill/server" name="TestOther"><skipped></skipped></testcase>
</testsuite></testsuites>`

const nodeReport = `<testsuites>
	<testcase name="fault 04: passes" time="0.006" classname="test"/>
	<testcase name="fault 05: is skipped" classname="test"><skipped type="skipped" message="no network"/></testcase>
	<testcase name="fault 06: is to be done" classname="test"><skipped type="todo" message="true"/></testcase>
	<testsuite name="fault 07: has parts" failures="0" skipped="1">
		<testcase name="one" classname="test"/>
		<testcase name="two" classname="test"><skipped type="skipped" message="why"/></testcase>
	</testsuite>
	<testsuite name="fault 08: has parts" failures="0"><testcase name="one" classname="test"/></testsuite>
	<testsuite name="a group"><testcase name="fault 09: in a group" classname="test"/></testsuite>
	<testcase name="fault 10: fails" classname="test"><failure type="testCodeFailure" message="x">` + "\x1b[2m" + `stack</failure></testcase>
	<!-- tests 9 -->
</testsuites>`

func TestReportsOfBothReporters(t *testing.T) {
	var got []string
	for _, text := range []string{report, nodeReport} {
		tests, err := Read(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range tests {
			got = append(got, fmt.Sprintf("%s|%s|%v|%s", one.Name, one.In, one.Passed, one.Skipped))
		}
	}
	want := []string{
		"TestFault01Lost|doorsill/server|true|",
		"TestFault02Full|doorsill/server|false|disk: === RUN TestFault02Full/disk full.go:9: no small disk here",
		"TestFault03Cut|doorsill/server|false|",
		"TestOther|doorsill/server|false|no reason given",
		"fault 04: passes|test|true|",
		"fault 05: is skipped|test|false|no network",
		"fault 06: is to be done|test|false|true",
		"fault 07: has parts|test|false|two: why",
		"fault 08: has parts|test|true|",
		"fault 09: in a group|test|true|",
		"fault 10: fails|test|false|",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	for _, broken := range []string{report[:300], "<testsuites><testcase name=", "<a></b>"} {
		if _, err := Read(strings.NewReader(broken)); err == nil {
			t.Errorf("a report that is cut off is read: %s", broken)
		}
	}
}

// whole is a run in which every fault that can be tested is.
func whole() (tests []Test) {
	for number := 1; number <= Last; number++ {
		if _, excused := untested[number]; !excused {
			tests = append(tests, Test{Name: fmt.Sprintf("TestFault%02dIsHeld", number), Passed: true})
		}
	}
	return tests
}

func TestCheck(t *testing.T) {
	if wrong := Check(whole()); len(wrong) > 0 {
		t.Errorf("of a whole run: %v", wrong)
	}
	if wrong := Check(nil); len(wrong) != Last-len(untested) {
		t.Errorf("%d faults missing when nothing ran", len(wrong))
	}
	seventh := slices.IndexFunc(whole(), func(one Test) bool { return one.Name == "TestFault07IsHeld" })
	for _, c := range []struct {
		name   string
		change func([]Test) []Test
		want   string
	}{
		{"gone", func(l []Test) []Test { return slices.Delete(l, seventh, seventh+1) }, "fault 07: no test of that name ran and passed"},
		{"failed", func(l []Test) []Test { l[seventh].Passed = false; return l }, "fault 07: no test of that name ran and passed"},
		{"skipped", func(l []Test) []Test {
			l[seventh].Passed, l[seventh].Skipped = false, "no disk"
			return l
		}, "fault 07: no test of it ran to its end; skipped were TestFault07IsHeld"},
		{"skipped, and another one passed", func(l []Test) []Test {
			return append(l, Test{Name: "fault 07: in the browser", Skipped: "no browser"})
		}, ""},
		{"excused and tested", func(l []Test) []Test {
			return append(l, Test{Name: "TestFault41Photo", Passed: true})
		}, "fault 41 is tested and excused all the same: a photo that is cut off and resumed: there are no photos yet"},
		{"a fault that there is not", func(l []Test) []Test { return append(l, Test{Name: "TestFault51Zoo", Passed: true}) }, "there is no fault 51: TestFault51Zoo"},
		{"fault nought", func(l []Test) []Test { return append(l, Test{Name: "fault 00: none", Passed: true}) }, "there is no fault 00: fault 00: none"},
		{"any other test", func(l []Test) []Test { return append(l, Test{Name: "TestAny"}) }, ""},
	} {
		if got := strings.Join(Check(c.change(whole())), "; "); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestSkippedAreNamed(t *testing.T) {
	got := Skipped([]Test{{Name: "TestA", In: "doorsill/a", Passed: true}, {Name: "TestB", In: "doorsill/b", Skipped: "no disk"}})
	if want := []string{"skipped: TestB (doorsill/b): no disk"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
