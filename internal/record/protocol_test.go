package record_test

import (
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"doorsill/internal/model"
)

// writers are the words of PROTOCOL.md for the roles that may write a kind.
var writers = map[string]string{
	"lead clinician assistant": "all",
	"lead clinician":           "clinicians",
	"lead":                     "leads",
	"":                         "server",
}

// Somebody who writes another client reads of every kind what it is about, who
// may write it and each field of its body.
func TestProtocolNamesEveryKindAndField(t *testing.T) {
	text, err := os.ReadFile("PROTOCOL.md")
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string][]string{}
	for _, row := range regexp.MustCompile("(?m)^\\| `([a-z-]+)` \\| (.*) \\| ([a-z]+) \\| (.*) \\|$").FindAllStringSubmatch(string(text), -1) {
		rows[row[1]] = row[2:]
	}
	for _, kind := range model.Kinds() {
		row := rows[kind.Name]
		if row == nil {
			t.Errorf("no row of %s", kind.Name)
			continue
		}
		if subject, writer := row[0], row[1]; !strings.Contains(subject, kind.Subject) || writer != writers[strings.Join(kind.Roles, " ")] {
			t.Errorf("%s is said to be about a %s and written by %s; it is about a %s and written by %v", kind.Name, subject, writer, kind.Subject, kind.Roles)
		}
		body := reflect.TypeOf(kind.New()).Elem()
		for i := range body.NumField() {
			name, _, _ := strings.Cut(body.Field(i).Tag.Get("json"), ",")
			if !strings.Contains(row[2], "`"+name+"`") {
				t.Errorf("the row of %s does not name %s", kind.Name, name)
			}
		}
	}
}
