package account_test

import (
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/validation"
)

// TestTabletNamesSayWhoseTheyAre, to who has the secret.
func TestTabletNamesSayWhoseTheyAre(t *testing.T) {
	names := account.NewTabletNames([]byte("a secret"))
	name := account.NameOf(names, strings.Repeat("ab", 16), "mara")
	if len(name) != 64 || !validation.ValidID(name) {
		t.Fatalf("name %q", name)
	}
	for _, c := range []struct {
		why, id, person string
		names           account.TabletNames
		marked, theirs  bool
	}{
		{"theirs", name, "mara", names, true, true},
		{"somebody else's", name, "nils", names, true, false},
		{"a changed mark", name[:63] + "x", "mara", names, false, false},
		{"another mark", name[:32] + strings.Repeat("0", 32), "mara", names, true, false},
		{"another random part", strings.Repeat("00", 16) + name[32:], "mara", names, true, false},
		{"another server's", name, "mara", account.NewTabletNames([]byte("another")), true, false},
		{"marked before the secret was changed", name, "mara", account.NewTabletNames([]byte("another"), []byte("a secret")), true, true},
		{"somebody else's, before it was changed", name, "nils", account.NewTabletNames([]byte("another"), []byte("a secret")), true, false},
		{"of an earlier version", name[:32], "mara", names, false, false},
		{"no secret", name, "mara", account.TabletNames{}, false, false},
	} {
		if marked, theirs := c.names.Whose(c.id, c.person); marked != c.marked || theirs != c.theirs {
			t.Errorf("%s: marked %v, theirs %v", c.why, marked, theirs)
		}
	}
}
