package bolt

import (
	"errors"
	"fmt"
	"strings"

	"doorsill/internal/store"
)

func (t *tx) Session(hash string) (store.Session, error) {
	return get[store.Session](t, bucketSessions, []byte(hash))
}

func (t *tx) Sessions() ([]store.Session, error) { return all[store.Session](t, bucketSessions) }

func (t *tx) SessionsOfPerson(person string) ([]store.Session, error) {
	hashes, err := t.names(bucketSignedIn, under(person))
	if err != nil {
		return nil, err
	}
	var list []store.Session
	for _, hash := range hashes {
		session, err := t.Session(hash)
		if errors.Is(err, store.ErrNotFound) {
			err = fmt.Errorf("read session that is listed: %w", store.ErrDamaged)
		}
		if err != nil {
			return list, err
		}
		list = append(list, session)
	}
	return list, nil
}

func (t *tx) SetSession(s store.Session) error {
	if err := t.RemoveSession(s.Hash); err != nil {
		return err
	}
	if err := t.table(bucketSignedIn).put(append(under(s.Person), s.Hash...), nil); err != nil {
		return fmt.Errorf("set session: %w", err)
	}
	return put(t, bucketSessions, []byte(s.Hash), s)
}

// RemoveSession ends a session that can not be read as well: nobody may be kept
// signed in by damage. Whose it was is then looked for.
func (t *tx) RemoveSession(hash string) error {
	session, err := t.Session(hash)
	switch {
	case errors.Is(err, store.ErrNotFound):
		return nil
	case errors.Is(err, store.ErrDamaged):
		if session.Person, err = t.signedIn(hash); err != nil {
			return err
		}
	case err != nil:
		return err
	}
	return t.endSession(session.Person, hash)
}

// signedIn finds whose a session is by the lists of people's sessions.
func (t *tx) signedIn(hash string) (person string, err error) {
	keys, err := t.names(bucketSignedIn, nil)
	for _, key := range keys {
		if owner, of, _ := strings.Cut(key, "\x00"); of == hash {
			person = owner
		}
	}
	return person, err
}

func (t *tx) endSession(person, hash string) error {
	return errors.Join(
		t.table(bucketSignedIn).remove(append(under(person), hash...)),
		t.table(bucketSessions).remove([]byte(hash)),
	)
}

func (t *tx) RemoveSessionsOfPerson(person string) (int, error) {
	hashes, err := t.names(bucketSignedIn, under(person))
	for _, hash := range hashes {
		err = errors.Join(err, t.endSession(person, hash))
	}
	return len(hashes), err
}

// RemoveSessionsExpired is called at every sign-in, so that a session that can
// not be read must not stop it: it has ended. Where not even that can be written
// it stays, and nobody is let in by it.
func (t *tx) RemoveSessionsExpired(before string) (int, error) {
	var expired []string
	for e, err := range t.table(bucketSessions).under(nil) {
		if err == nil {
			var session store.Session
			session, err = decode[store.Session](bucketSessions, e.key, e.value)
			if err == nil && session.Expires >= before {
				continue
			}
		}
		if e.key != nil {
			expired = append(expired, string(e.key))
		}
	}
	ended := 0
	for _, hash := range expired {
		err := t.RemoveSession(hash)
		if errors.Is(err, store.ErrDamaged) {
			continue
		}
		if err != nil {
			return ended, err
		}
		ended++
	}
	return ended, nil
}
