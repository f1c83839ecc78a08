package account

import (
	"context"
	"errors"
	"fmt"

	"doorsill/internal/audit"
	"doorsill/internal/signing"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// ErrKeyTaken is returned when a tablet has another key, and that key did not
// sign the new one.
var ErrKeyTaken = errors.New("tablet has another key")

// NewTabletKey is a key that a tablet wants to sign with.
type NewTabletKey struct {
	signing.Key
	// Proof is the new key's own signature over signing.KeyStatement, in base64;
	// Before is that of the key which it replaces, or empty.
	Proof, Before string
}

// SetTabletKey registers what a tablet signs with from now on. Only a session on
// that tablet may do so. A key is never replaced silently: another one needs the
// signature of the one before, else the error is ErrKeyTaken, and the tablet has
// to be withdrawn. The same key again changes nothing.
func (s *Service) SetTabletKey(ctx context.Context, c Caller, id string, n NewTabletKey) error {
	switch {
	case !c.SignedIn():
		return ErrSignedOut
	case c.Tablet != id || c.Withdrawn:
		return ErrNotAllowed
	}
	if bad := n.Check(); bad != nil {
		return bad
	}
	statement := signing.KeyStatement(id, n.Key)
	if !n.Verify(statement, n.Proof) {
		return validation.Invalid("proof", "the new key's signature over itself")
	}
	news := false
	err := s.store.Update(ctx, func(w store.Writer) error {
		t, err := ownTablet(w, c, id)
		if err != nil {
			return err
		}
		if t.Key != nil {
			known := signing.Key{Algorithm: t.Key.Algorithm, Public: t.Key.Public}
			if known == n.Key {
				return nil
			}
			if !known.Verify(statement, n.Before) {
				return ErrKeyTaken
			}
		}
		news = true
		t.Key = &store.TabletKey{Algorithm: n.Algorithm, Public: n.Public, At: stamp(s.now())}
		return w.SetTablet(t)
	})
	if err != nil {
		return fmt.Errorf("set tablet key: %w", err)
	}
	if !news {
		return nil
	}
	return s.note(c.Source, c.Person, "set tablet key", id, audit.OK)
}
