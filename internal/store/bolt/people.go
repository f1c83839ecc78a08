package bolt

import (
	"errors"
	"fmt"
	"iter"

	"doorsill/internal/store"
)

func (t *tx) Person(id string) (store.Person, error) {
	return get[store.Person](t, bucketPeople, []byte(id))
}

func (t *tx) PersonByLogin(login string) (store.Person, error) {
	// A login that nobody has, such as the empty one, leads to no id, and no person has that.
	id := t.bucket(bucketLogins).Get([]byte(login))
	return t.Person(string(id))
}

func (t *tx) People() ([]store.Person, error) { return all[store.Person](t, bucketPeople) }

func (t *tx) SetPerson(p store.Person) error {
	logins := t.bucket(bucketLogins)
	if holder := logins.Get([]byte(p.Login)); holder != nil && string(holder) != p.ID {
		return fmt.Errorf("set person: login %q: %w", p.Login, store.ErrTaken)
	}
	old, err := t.Person(p.ID)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return err
	}
	// The old login leads to nobody from now on; one that stays is put back below.
	if err := logins.Delete([]byte(old.Login)); err != nil {
		return fmt.Errorf("set person: %w", err)
	}
	if p.Login != "" {
		if err := logins.Put([]byte(p.Login), []byte(p.ID)); err != nil {
			return fmt.Errorf("set person: %w", err)
		}
	}
	return put(t, bucketPeople, []byte(p.ID), p)
}

func (t *tx) Team(id string) (store.Team, error) { return get[store.Team](t, bucketTeams, []byte(id)) }

func (t *tx) Teams() ([]store.Team, error) { return all[store.Team](t, bucketTeams) }

func (t *tx) SetTeam(team store.Team) error { return put(t, bucketTeams, []byte(team.ID), team) }

func (t *tx) MembershipsOfPerson(person string) ([]store.Membership, error) {
	var list []store.Membership
	for team, role := range t.each(bucketMembers, under(person)) {
		list = append(list, store.Membership{Person: person, Team: string(team), Role: string(role)})
	}
	return list, nil
}

func (t *tx) MembershipsOfTeam(team string) ([]store.Membership, error) {
	var list []store.Membership
	for person, role := range t.each(bucketMembersOf, under(team)) {
		list = append(list, store.Membership{Person: string(person), Team: team, Role: string(role)})
	}
	return list, nil
}

func (t *tx) SetMembership(m store.Membership) error {
	return errors.Join(
		t.bucket(bucketMembers).Put(append(under(m.Person), m.Team...), []byte(m.Role)),
		t.bucket(bucketMembersOf).Put(append(under(m.Team), m.Person...), []byte(m.Role)),
	)
}

func (t *tx) RemoveMembership(person, team string) error {
	return errors.Join(
		t.bucket(bucketMembers).Delete(append(under(person), team...)),
		t.bucket(bucketMembersOf).Delete(append(under(team), person...)),
	)
}

func (t *tx) Session(hash string) (store.Session, error) {
	return get[store.Session](t, bucketSessions, []byte(hash))
}

func (t *tx) Sessions() ([]store.Session, error) { return all[store.Session](t, bucketSessions) }

func (t *tx) SessionsOfPerson(person string) ([]store.Session, error) {
	var list []store.Session
	for hash := range t.each(bucketSignedIn, under(person)) {
		session, err := t.Session(string(hash))
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
	if err := t.bucket(bucketSignedIn).Put(append(under(s.Person), s.Hash...), nil); err != nil {
		return fmt.Errorf("set session: %w", err)
	}
	return put(t, bucketSessions, []byte(s.Hash), s)
}

func (t *tx) RemoveSession(hash string) error {
	session, err := t.Session(hash)
	if errors.Is(err, store.ErrNotFound) {
		return nil
	}
	if err != nil {
		return err
	}
	return errors.Join(
		t.bucket(bucketSignedIn).Delete(append(under(session.Person), hash...)),
		t.bucket(bucketSessions).Delete([]byte(hash)),
	)
}

func (t *tx) RemoveSessionsOfPerson(person string) (int, error) {
	sessions, err := t.SessionsOfPerson(person)
	if err != nil {
		return 0, err
	}
	return len(sessions), t.removeSessions(sessions)
}

func (t *tx) RemoveSessionsExpired(before string) (int, error) {
	sessions, err := t.Sessions()
	if err != nil {
		return 0, err
	}
	var expired []store.Session
	for _, session := range sessions {
		if session.Expires < before {
			expired = append(expired, session)
		}
	}
	return len(expired), t.removeSessions(expired)
}

func (t *tx) removeSessions(sessions []store.Session) error {
	for _, session := range sessions {
		if err := t.RemoveSession(session.Hash); err != nil {
			return err
		}
	}
	return nil
}

func (t *tx) LastAudit() (store.AuditEntry, error) {
	key, data := t.bucket(bucketAudit).Cursor().Last()
	if key == nil {
		return store.AuditEntry{}, store.ErrNotFound
	}
	return decode[store.AuditEntry](bucketAudit, key, data)
}

func (t *tx) AuditEntries(after int64) iter.Seq2[store.AuditEntry, error] {
	return func(yield func(store.AuditEntry, error) bool) {
		c := t.bucket(bucketAudit).Cursor()
		for key, data := c.Seek(numberKey(after + 1)); key != nil; key, data = c.Next() {
			entry, err := decode[store.AuditEntry](bucketAudit, key, data)
			if !yield(entry, err) || err != nil {
				return
			}
		}
	}
}

func (t *tx) AppendAudit(entry store.AuditEntry) error {
	audit := t.bucket(bucketAudit)
	key, _ := audit.Cursor().Last()
	if last := numberOf(key); entry.Seq != last+1 {
		return fmt.Errorf("append audit %d after %d: %w", entry.Seq, last, store.ErrOrder)
	}
	audit.FillPercent = fullPages
	return put(t, bucketAudit, numberKey(entry.Seq), entry)
}
