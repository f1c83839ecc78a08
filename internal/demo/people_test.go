package demo

import (
	"testing"

	"doorsill/internal/passphrase"
)

// TestThePrintedPasswordOpensInventedAccountsOnly: who reads the demo's page knows
// it, so nobody may choose it for a real account.
func TestThePrintedPasswordOpensInventedAccountsOnly(t *testing.T) {
	if passphrase.Check(Password) == nil {
		t.Errorf("%q is accepted for a real account", Password)
	}
}
