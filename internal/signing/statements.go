package signing

import "strings"

// The first lines of what is signed.
const (
	forKey      = "doorsill-key/1"
	forPush     = "doorsill-push/1"
	forEnvelope = "doorsill-envelope/1"
)

func statement(lines ...string) []byte { return []byte(strings.Join(lines, "\n")) }

// KeyStatement is what a tablet signs when it registers a key: with the new one,
// and with the one before where it replaces one.
func KeyStatement(tablet string, k Key) []byte {
	return statement(forKey, tablet, k.Algorithm, k.Public)
}

// PushStatement is what a tablet signs of a push: the first line, without the line
// break. That line names log, tablet and numbers, and holds the hash of all that
// follows it.
func PushStatement(first []byte) []byte { return statement(forPush, string(first)) }

// EnvelopeStatement is what a tablet signs of a sealed envelope: what the box is
// bound to, and the box itself with its one-time key as they stand in the envelope.
// Nothing of what is in the box can be guessed from the signature.
func EnvelopeStatement(bound []byte, enc, sealed string) []byte {
	return statement(forEnvelope, string(bound), enc, sealed)
}
