package intake_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"doorsill/internal/intake"
)

// TestEachCodeOfTheProtocolHasItsReason: a code that PROTOCOL.md, section 4, names
// has a sentence of its own and not the one for codes that nobody knows.
func TestEachCodeOfTheProtocolHasItsReason(t *testing.T) {
	page, err := os.ReadFile("../record/PROTOCOL.md")
	if err != nil {
		t.Fatal(err)
	}
	_, table, _ := strings.Cut(string(page), "Codes of a quarantined event:")
	table, _, _ = strings.Cut(table, "\n## ")
	rows := regexp.MustCompile("(?m)^\\| `([a-z-]+)` \\|").FindAllStringSubmatch(table, -1)
	if len(rows) < 20 {
		t.Fatalf("only %d codes found", len(rows))
	}
	for _, row := range rows {
		if got := intake.Reason(row[1]); got == intake.Reason("") {
			t.Errorf("%s: a hint begins with %q", row[1], got)
		}
	}
}
