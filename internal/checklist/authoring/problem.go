package authoring

import (
	"strconv"
	"strings"
)

// Problem is one thing that is wrong in a definition file.
type Problem struct {
	// File is the name that was given to Parse, Line counts from 1.
	File string `json:"file"`
	Line int    `json:"line"`
	// Field is the path to the value, such as sections[0].items[3].weight;
	// empty when the file as a whole is meant.
	Field string `json:"field"`
	// Want is what was expected there, Got what was found.
	Want string `json:"want"`
	Got  string `json:"got"`
}

// String is the problem in one line: file:line: field: expected …, got ….
func (p Problem) String() string {
	var b strings.Builder
	b.WriteString(p.File + ":" + strconv.Itoa(p.Line) + ": ")
	if p.Field != "" {
		b.WriteString(p.Field + ": ")
	}
	b.WriteString("expected " + p.Want + ", got " + p.Got)
	return b.String()
}

// Problems is the error of Parse: everything that is wrong, in the order of
// the file, a line each.
type Problems []Problem

func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, problem := range p {
		lines[i] = problem.String()
	}
	return strings.Join(lines, "\n")
}

// Warning is something that is allowed but probably not meant.
type Warning struct {
	File  string `json:"file"`
	Line  int    `json:"line"`
	Field string `json:"field"`
	Text  string `json:"text"`
}

// String is the warning in one line: file:line: field: warning: ….
func (w Warning) String() string {
	field := ""
	if w.Field != "" {
		field = w.Field + ": "
	}
	return w.File + ":" + strconv.Itoa(w.Line) + ": " + field + "warning: " + w.Text
}
