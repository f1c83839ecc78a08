package server

import (
	"fmt"
	"net/http"
	"testing"

	"doorsill/internal/account"
)

func (s *site) addTablet(t *testing.T, who, body string) (TabletMade, reply) {
	t.Helper()
	var made TabletMade
	got := s.ask(t, who, "POST", "/api/v1/tablets", body)
	if got.Code == http.StatusCreated {
		got.into(t, &made)
	}
	return made, got
}

// TestATabletsNameIsItsPersons, also where the server does not know it, as after a
// restore: nobody else takes it.
func TestATabletsNameIsItsPersons(t *testing.T) {
	before := newSite(t, Options{})
	foreign := before.tablet // marked by another server's key, for another person
	s := newSite(t, Options{})
	if _, got := s.addTablet(t, clinician, fmt.Sprintf(`{"label":"x","id":%q}`, foreign)); got.Code != http.StatusBadRequest || got.refused(t).Field != "id" {
		t.Errorf("a name that another key marked: %d %s", got.Code, got.Body)
	}
	secrets, err := s.organisation.Secrets("doorsill tablet names/1")
	if err != nil {
		t.Fatal(err)
	}
	names := account.NewTabletNames(secrets...)
	if marked, theirs := names.Whose(s.tablet, s.ids[clinician]); !marked || !theirs {
		t.Fatalf("tablet %s: marked %v, theirs %v", s.tablet, marked, theirs)
	}
	if _, got := s.addTablet(t, lead, fmt.Sprintf(`{"label":"x","id":%q}`, s.tablet)); got.Code != http.StatusBadRequest {
		t.Errorf("a colleague takes the name: %d %s", got.Code, got.Body)
	}
	if made, got := s.addTablet(t, clinician, fmt.Sprintf(`{"label":"x","id":%q}`, s.tablet)); made.ID != s.tablet {
		t.Errorf("its own person: %d %s", got.Code, got.Body)
	}
	old := "0123456789abcdef0123456789abcdef"
	if made, got := s.addTablet(t, clinician, fmt.Sprintf(`{"label":"x","id":%q}`, old)); made.ID != old {
		t.Errorf("a name of an earlier version: %d %s", got.Code, got.Body)
	}
}

// TestTenTabletsADay: the next one waits until tomorrow, and a known one does not
// count.
func TestTenTabletsADay(t *testing.T) {
	s := newSite(t, Options{})
	for n := 1; n < account.MostTabletsADay; n++ { // the site has made one
		if _, got := s.addTablet(t, clinician, `{"label":"more"}`); got.Code != http.StatusCreated {
			t.Fatalf("tablet %d: %d %s", n+1, got.Code, got.Body)
		}
	}
	if _, got := s.addTablet(t, clinician, `{"label":"more"}`); got.Code != http.StatusTooManyRequests || got.refused(t).Error != "too-many" {
		t.Errorf("one more: %d %s", got.Code, got.Body)
	}
	if made, got := s.addTablet(t, clinician, fmt.Sprintf(`{"label":"x","id":%q}`, s.tablet)); made.ID != s.tablet {
		t.Errorf("a known one: %d %s", got.Code, got.Body)
	}
	if _, got := s.addTablet(t, lead, `{"label":"more"}`); got.Code != http.StatusCreated {
		t.Errorf("somebody else: %d %s", got.Code, got.Body)
	}
}

// TestOnlyMembersOfATeamRegister new tablets.
func TestOnlyMembersOfATeamRegister(t *testing.T) {
	s := newSite(t, Options{})
	_, err := s.Accounts.ChangePerson(t.Context(), account.Console(), s.ids[clinician], account.PersonChange{Name: "An invented clinician"})
	if err != nil {
		t.Fatal(err)
	}
	if _, got := s.addTablet(t, clinician, `{"label":"x"}`); got.Code != http.StatusForbidden {
		t.Errorf("somebody without a team: %d %s", got.Code, got.Body)
	}
	if made, got := s.addTablet(t, clinician, fmt.Sprintf(`{"label":"x","id":%q}`, s.tablet)); made.ID != s.tablet {
		t.Errorf("the tablet that they had: %d %s", got.Code, got.Body)
	}
}
