package intake

import (
	"time"

	"doorsill/internal/signing"
	"doorsill/internal/store"
)

// UnsignedUntil has pushes of tablets that have no key refused from a moment on.
// The zero time, which holds at first, refuses none. It is said before the first
// push.
func (in *Intake) UnsignedUntil(end time.Time) { in.unsignedUntil = end }

// verify refuses a push that the tablet's key did not sign. A tablet without a
// key can not sign yet.
func (in *Intake) verify(registered *store.TabletKey, p *push) error {
	if registered == nil {
		if !p.inFile && (in.unsignedUntil.IsZero() || in.now().Before(in.unsignedUntil)) {
			return nil
		}
		return &PushError{Code: CodeNoSignature, Field: "tablet", Want: "a tablet that has registered its key",
			Message: "This tablet does not sign yet what it sends, and unsigned entries are no longer taken. Nothing is lost: reload the app with a network and sign in again, then it is sent."}
	}
	key := keyOf(registered)
	switch {
	case p.verified == key:
		return nil
	case p.signature == "":
		return &PushError{Code: CodeNoSignature, Field: "Doorsill-Signature", Want: "a signature by the tablet's key",
			Message: "This tablet signs what it sends, and this came without a signature. Nothing was taken in: reload the app and sign in again."}
	case !key.Verify(p.signed, p.signature):
		return &PushError{Code: CodeSignature, Field: "Doorsill-Signature", Want: "a signature by the key that the tablet registered",
			Message: "What came in this tablet's name was signed with another key. Nothing was taken in. If this is your tablet, tell whoever leads your team: it has to be withdrawn and to sign in anew."}
	}
	p.verified = key
	return nil
}

func keyOf(registered *store.TabletKey) signing.Key {
	return signing.Key{Algorithm: registered.Algorithm, Public: registered.Public}
}
