package faults

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
)

// Test is one test of a report, with all its parts.
type Test struct {
	// Name is the function or the title, In its package, where the report has
	// one.
	Name, In string
	Passed   bool
	// Skipped says why the test or a part of it was left out; "" when nothing
	// was. A test of which a part was left out has not passed.
	Skipped string
}

// testcase is the element of a JUnit report.
type testcase struct {
	Name    string    `xml:"name,attr"`
	Class   string    `xml:"classname,attr"`
	Failure *struct{} `xml:"failure"`
	Error   *struct{} `xml:"error"`
	Skipped *struct {
		Message string `xml:"message,attr"`
		Text    string `xml:",chardata"`
	} `xml:"skipped"`
}

// reader gathers the tests of one report, in its order.
type reader struct {
	tests []*Test
	known map[[2]string]*Test
	// suites are the names of the suites that are open. Node makes a suite of
	// a test that has parts.
	suites []string
}

// Read reads a report in the JUnit form, as gotestsum and node write it.
func Read(report io.Reader) ([]Test, error) {
	text, err := io.ReadAll(report)
	if err != nil {
		return nil, err
	}
	r := reader{known: map[[2]string]*Test{}}
	for in := xml.NewDecoder(bytes.NewReader(bytes.Map(printed, text))); ; {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return r.all(), nil
		}
		if err == nil {
			err = r.read(in, token)
		}
		if err != nil {
			return nil, err
		}
	}
}

// printed leaves out control characters: node passes those on with which an
// error colours a terminal, and no XML may hold them.
func printed(c rune) rune {
	if c < ' ' && c != '\n' && c != '\t' && c != '\r' {
		return -1
	}
	return c
}

func (r *reader) read(in *xml.Decoder, token xml.Token) error {
	switch token := token.(type) {
	case xml.StartElement:
		switch token.Name.Local {
		case "testsuite":
			r.suites = append(r.suites, nameOf(token))
		case "testcase":
			var c testcase
			if err := in.DecodeElement(&c, &token); err != nil {
				return err
			}
			r.add(&c)
		}
	case xml.EndElement:
		if token.Name.Local == "testsuite" {
			r.suites = r.suites[:len(r.suites)-1]
		}
	}
	return nil
}

func nameOf(e xml.StartElement) string {
	for _, a := range e.Attr {
		if a.Name.Local == "name" {
			return a.Value
		}
	}
	return ""
}

// whole is the name of the test that a case is, or is a part of: "TestX" of
// "TestX/part", or the suite that is named after a fault.
func (r *reader) whole(c *testcase) string {
	for _, suite := range r.suites {
		if _, named := NumberOf(suite); named {
			return suite
		}
	}
	if strings.HasPrefix(c.Name, "Test") {
		name, _, _ := strings.Cut(c.Name, "/")
		return name
	}
	return c.Name
}

func (r *reader) add(c *testcase) {
	name := r.whole(c)
	key := [2]string{c.Class, name}
	t := r.known[key]
	if t == nil {
		t = &Test{Name: name, In: c.Class, Passed: true}
		r.known[key] = t
		r.tests = append(r.tests, t)
	}
	if c.Failure != nil || c.Error != nil || c.Skipped != nil {
		t.Passed = false
	}
	if c.Skipped != nil {
		t.Skipped = c.why(name)
	}
}

// why says in one line why a test, or which part of it, was left out.
func (c *testcase) why(test string) string {
	const most = 200
	why := strings.Join(strings.Fields(c.Skipped.Message+" "+c.Skipped.Text), " ")
	if why == "" {
		why = "no reason given"
	}
	if c.Name != test {
		why = strings.TrimPrefix(c.Name, test+"/") + ": " + why
	}
	if runes := []rune(why); len(runes) > most {
		why = string(runes[:most]) + "…"
	}
	return why
}

func (r *reader) all() []Test {
	tests := make([]Test, len(r.tests))
	for i, t := range r.tests {
		tests[i] = *t
	}
	return tests
}
