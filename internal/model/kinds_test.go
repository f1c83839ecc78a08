package model_test

import (
	"slices"
	"testing"

	"doorsill/internal/model"
)

// TestKindsNameWhatTheFrontEndKnows: the table's subjects and roles are of the lists
// that the front end has its types from, and each of those occurs.
func TestKindsNameWhatTheFrontEndKnows(t *testing.T) {
	subjects, roles := map[string]bool{}, map[string]bool{}
	for _, kind := range model.Kinds() {
		subjects[kind.Subject] = true
		for _, role := range kind.Roles {
			roles[role] = true
		}
	}
	for _, c := range []struct {
		known []string
		named map[string]bool
	}{{model.Subjects(), subjects}, {model.Roles(), roles}} {
		for name := range c.named {
			if !slices.Contains(c.known, name) {
				t.Errorf("%q is not of %v", name, c.known)
			}
		}
		if len(c.named) != len(c.known) {
			t.Errorf("of %v only %v occur", c.known, c.named)
		}
	}
}
