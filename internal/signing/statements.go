package signing

import (
	"bytes"
	"strings"
)

// The first lines of what is signed.
const (
	forKey      = "doorsill-key/1"
	forPush     = "doorsill-push/1"
	forEnvelope = "doorsill-envelope/1"
	forSignIn   = "doorsill-sign-in/1"
)

func statement(lines ...string) []byte { return []byte(strings.Join(lines, "\n")) }

// NewKey is what a tablet signs when it registers a key: with the new one, and
// with the one before where it replaces one.
func NewKey(tablet string, k Key) []byte { return statement(forKey, tablet, k.Algorithm, k.Public) }

// Push is what a tablet signs of a push: the first line, without its end. It
// names log, tablet and numbers, and holds the hash of all that follows.
func Push(first []byte) []byte { return bytes.Join([][]byte{[]byte(forPush), first}, []byte("\n")) }

// Envelope is what a tablet signs of a sealed envelope: what the box is bound
// to, and the box itself with its one-time key as they stand in the envelope.
// Nothing of what is in the box can be guessed from the signature.
func Envelope(bound []byte, enc, sealed string) []byte {
	return statement(forEnvelope, string(bound), enc, sealed)
}

// SignIn is what a tablet signs to show at a sign-in that it is itself: the
// challenge that the server gave for it.
func SignIn(tablet, challenge string) []byte { return statement(forSignIn, tablet, challenge) }
