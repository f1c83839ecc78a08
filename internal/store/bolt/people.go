package bolt

import (
	"errors"
	"fmt"

	"doorsill/internal/store"
)

func (t *tx) Person(id string) (store.Person, error) {
	return get[store.Person](t, bucketPeople, []byte(id))
}

func (t *tx) PersonByLogin(login string) (store.Person, error) {
	// A login that nobody has, such as the empty one, leads to no id, and no person has that.
	id, _, err := t.table(bucketLogins).get([]byte(login))
	if err != nil {
		return store.Person{}, err
	}
	return t.Person(string(id))
}

func (t *tx) People() ([]store.Person, error) { return all[store.Person](t, bucketPeople) }

func (t *tx) SetPerson(p store.Person) error {
	logins := t.table(bucketLogins)
	holder, held, err := logins.get([]byte(p.Login))
	if err != nil {
		return fmt.Errorf("set person: %w", err)
	}
	if held && string(holder) != p.ID {
		return fmt.Errorf("set person: login %q: %w", p.Login, store.ErrTaken)
	}
	old, err := t.Person(p.ID)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return err
	}
	// The old login leads to nobody from now on; one that stays is put back below.
	if err := logins.remove([]byte(old.Login)); err != nil {
		return fmt.Errorf("set person: %w", err)
	}
	if p.Login != "" {
		if err := logins.put([]byte(p.Login), []byte(p.ID)); err != nil {
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
	prefix := under(person)
	for e, err := range t.table(bucketMembers).under(prefix) {
		if err != nil {
			return list, err
		}
		list = append(list, store.Membership{Person: person, Team: string(e.key[len(prefix):]), Role: string(e.value)})
	}
	return list, nil
}

func (t *tx) MembershipsOfTeam(team string) ([]store.Membership, error) {
	var list []store.Membership
	prefix := under(team)
	for e, err := range t.table(bucketMembersOf).under(prefix) {
		if err != nil {
			return list, err
		}
		list = append(list, store.Membership{Person: string(e.key[len(prefix):]), Team: team, Role: string(e.value)})
	}
	return list, nil
}

func (t *tx) SetMembership(m store.Membership) error {
	return errors.Join(
		t.table(bucketMembers).put(append(under(m.Person), m.Team...), []byte(m.Role)),
		t.table(bucketMembersOf).put(append(under(m.Team), m.Person...), []byte(m.Role)),
	)
}

func (t *tx) RemoveMembership(person, team string) error {
	return errors.Join(
		t.table(bucketMembers).remove(append(under(person), team...)),
		t.table(bucketMembersOf).remove(append(under(team), person...)),
	)
}
