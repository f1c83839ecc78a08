package backup

import (
	"errors"
	"fmt"
	"strings"

	"filippo.io/age"
)

// ErrRecipient is wrapped when a text is no key that backups can be made for.
var ErrRecipient = errors.New("expected a public key that begins with age1")

// LeastPassphrase is the fewest characters of a backup's passphrase. Whoever
// has the file can try as many as they like.
const LeastPassphrase = 20

// Recipients reads public keys, one a line; empty lines and lines that begin
// with # are passed over. The error wraps ErrRecipient.
func Recipients(text string) ([]age.Recipient, error) {
	list, err := age.ParseRecipients(strings.NewReader(text))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrRecipient, err)
	}
	return list, nil
}

// Identities reads the secret keys that belong to recipients, as age-keygen
// writes them. The error wraps ErrKey.
func Identities(text string) ([]age.Identity, error) {
	list, err := age.ParseIdentities(strings.NewReader(text))
	if err != nil {
		return nil, fmt.Errorf("%w: expected a file with a line that begins with AGE-SECRET-KEY-1: %w", ErrKey, err)
	}
	return list, nil
}

// Passphrase is a passphrase to make backups with and to open them. work is
// the logarithm of the cost of one try; 0 takes the usual one, about a second.
func Passphrase(text string, work int) (age.Recipient, age.Identity, error) {
	recipient, err := age.NewScryptRecipient(text)
	if err != nil {
		return nil, nil, fmt.Errorf("use passphrase: %w", err)
	}
	if work > 0 {
		recipient.SetWorkFactor(work)
	}
	identity, err := age.NewScryptIdentity(text)
	if err != nil {
		return nil, nil, fmt.Errorf("use passphrase: %w", err)
	}
	return recipient, identity, nil
}

// NewKey makes a key pair to make backups for: the public key, which the server
// is given, and the secret, which must be kept where the server is not.
func NewKey() (public, secret string, err error) {
	pair, err := age.GenerateX25519Identity()
	if err != nil {
		return "", "", fmt.Errorf("make backup key: %w", err)
	}
	return pair.Recipient().String(), pair.String(), nil
}
