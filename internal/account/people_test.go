package account_test

import (
	"errors"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

func TestRolesChangeAtOnce(t *testing.T) {
	s := newService(t)
	north, south := s.team(t, "North"), s.team(t, "South")
	p := s.person(t, "mara", map[string]string{north: model.RoleLead})
	secret, _ := s.signIn(t, "mara")
	if _, err := s.ChangePerson(t.Context(), account.Console(), p.ID, account.PersonChange{
		Name: "Mara", Roles: map[string]string{south: model.RoleAssistant},
	}); err != nil {
		t.Fatal(err)
	}
	c, err := s.Authenticate(t.Context(), secret, "")
	if err != nil || c.Member(north) || c.Role(south) != model.RoleAssistant {
		t.Errorf("roles %v (%v), want assistant in the other team only", c.Teams, err)
	}
	if _, err := s.ChangePerson(t.Context(), account.Console(), p.ID, account.PersonChange{Name: "Mara", Closed: true}); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Authenticate(t.Context(), secret, ""); !errors.Is(err, account.ErrSignedOut) {
		t.Errorf("a closed account still works: %v", err)
	}
}

func TestPeopleAreCheckedByField(t *testing.T) {
	s := newService(t)
	north := s.team(t, "North")
	s.person(t, "taken", nil)
	for _, c := range []struct {
		field string
		n     account.NewPerson
	}{
		{"login", account.NewPerson{Login: "", Name: "A", Password: password}},
		{"login", account.NewPerson{Login: "a b", Name: "A", Password: password}},
		{"login", account.NewPerson{Login: "TAKEN", Name: "A", Password: password}},
		{"name", account.NewPerson{Login: "a", Password: password}},
		{"credential", account.NewPerson{Login: "a", Name: "A", Credential: strings.Repeat("x", 121), Password: password}},
		{"password", account.NewPerson{Login: "a", Name: "A", Password: "short"}},
		{"role", account.NewPerson{Login: "a", Name: "A", Password: password, Roles: map[string]string{north: "boss"}}},
		{"teams", account.NewPerson{Login: "a", Name: "A", Password: password, Roles: map[string]string{"none": model.RoleLead}}},
		{"teams", account.NewPerson{Login: "a", Name: "A", Password: password, Admin: true, Roles: map[string]string{north: model.RoleLead}}},
	} {
		_, err := s.AddPerson(t.Context(), account.Console(), c.n)
		var bad *validation.Error
		if !errors.As(err, &bad) || bad.Path != c.field || bad.Want == "" {
			t.Errorf("%+v: error %v, want one about %s", c.n, err, c.field)
		}
	}
	if _, err := s.AddPerson(t.Context(), account.Caller{Person: "p"}, account.NewPerson{}); !errors.Is(err, account.ErrNotAllowed) {
		t.Errorf("somebody who is no admin adds a person: %v", err)
	}
}

func TestTheLastAdminStays(t *testing.T) {
	s := newService(t)
	p := s.person(t, "only", nil)
	for _, ch := range []account.PersonChange{{Name: "X", Admin: true, Closed: true}, {Name: "X"}} {
		var bad *validation.Error
		if _, err := s.ChangePerson(t.Context(), account.Console(), p.ID, ch); !errors.As(err, &bad) || bad.Path != "admin" {
			t.Errorf("%+v: error %v", ch, err)
		}
	}
	s.person(t, "second", nil)
	if _, err := s.ChangePerson(t.Context(), account.Console(), p.ID, account.PersonChange{Name: "X", Closed: true}); err != nil {
		t.Errorf("with a second admin: %v", err)
	}
}

func TestPeopleShowsColleaguesOnly(t *testing.T) {
	s := newService(t)
	north, south := s.team(t, "North"), s.team(t, "South")
	s.person(t, "mara", map[string]string{north: model.RoleClinician})
	s.person(t, "both", map[string]string{north: model.RoleAssistant, south: model.RoleLead})
	s.person(t, "far", map[string]string{south: model.RoleClinician})
	_, c := s.signIn(t, "mara")
	list, err := s.People(t.Context(), c)
	if err != nil || len(list) != 2 {
		t.Fatalf("people %+v (%v), want the two of the team", list, err)
	}
	for _, p := range list {
		if p.Login != "" || len(p.Roles) != 1 || p.Roles[north] == "" {
			t.Errorf("a colleague sees %+v", p)
		}
	}
	teams, err := s.Teams(t.Context(), c)
	if err != nil || len(teams) != 1 || teams[0].ID != north {
		t.Errorf("teams %+v (%v)", teams, err)
	}
	all, err := s.People(t.Context(), account.Console())
	if err != nil || len(all) != 3 || all[0].Login == "" {
		t.Errorf("an admin sees %+v (%v)", all, err)
	}
}

func TestPasswordsAreSetByTheirOwnerOrAnAdmin(t *testing.T) {
	s := newService(t)
	p := s.person(t, "mara", nil)
	_, c := s.signIn(t, "mara")
	elsewhere, _ := s.signIn(t, "mara")
	next := "nine quiet lighthouse lamps"
	if err := s.SetPassword(t.Context(), c, p.ID, "wrong", next); !errors.Is(err, account.ErrWrongPassword) {
		t.Errorf("with a wrong current password: %v", err)
	}
	if err := s.SetPassword(t.Context(), account.Caller{Person: "x"}, p.ID, password, next); !errors.Is(err, account.ErrNotAllowed) {
		t.Errorf("somebody else's password: %v", err)
	}
	if err := s.SetPassword(t.Context(), c, p.ID, password, next); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Authenticate(t.Context(), elsewhere, ""); !errors.Is(err, account.ErrSignedOut) {
		t.Errorf("the other session after a new password: %v", err)
	}
	if _, _, err := s.SignIn(t.Context(), account.SignIn{Login: "mara", Password: next}); err != nil {
		t.Errorf("with the new password: %v", err)
	}
	if err := s.SetPassword(t.Context(), account.Console(), p.ID, "", password); err != nil {
		t.Errorf("an admin sets a password: %v", err)
	}
	if err := s.SetPassword(t.Context(), account.Console(), "nobody", "", password); !errors.Is(err, account.ErrNotFound) {
		t.Errorf("of nobody: %v", err)
	}
}

func TestATabletKeepsItsNameAtAServerThatDoesNotKnowIt(t *testing.T) {
	s := newService(t)
	north := s.team(t, "North")
	s.person(t, "mara", map[string]string{north: model.RoleClinician})
	s.person(t, "lena", map[string]string{north: model.RoleLead})
	_, mara := s.signIn(t, "mara")
	_, lena := s.signIn(t, "lena")
	for range 2 { // an answer may be lost, and the tablet asks again
		made, err := s.AddTablet(t.Context(), mara, account.NewTablet{Label: "blue", ID: "tab-of-mara"})
		if err != nil || made.ID != "tab-of-mara" || made.Person != mara.Person {
			t.Fatalf("tablet %+v, %v", made, err)
		}
	}
	for who, refused := range map[string]struct {
		account.Caller
		id string
	}{
		"another person's":       {lena, "tab-of-mara"},
		"the server's own":       {lena, "server"},
		"what no server gave":    {lena, "tab of lena"},
		"what fits no event":     {lena, strings.Repeat("a", 65)},
		"what names two entries": {lena, "tab:1"},
	} {
		var invalid *validation.Error
		if _, err := s.AddTablet(t.Context(), refused.Caller, account.NewTablet{ID: refused.id}); !errors.As(err, &invalid) || invalid.Path != "id" {
			t.Errorf("%s: %v", who, err)
		}
	}
}

func TestTabletsBelongToOnePerson(t *testing.T) {
	s := newService(t)
	north := s.team(t, "North")
	s.person(t, "mara", map[string]string{north: model.RoleClinician})
	s.person(t, "lena", map[string]string{north: model.RoleLead})
	secret, c := s.signIn(t, "mara")
	tablet, err := s.AddTablet(t.Context(), c, account.NewTablet{Label: "blue one"})
	if err != nil || len(tablet.ID) != 32 {
		t.Fatalf("tablet %+v, %v", tablet, err)
	}
	if c, err = s.Authenticate(t.Context(), secret, ""); err != nil || c.Tablet != tablet.ID {
		t.Errorf("the session is bound to %q (%v)", c.Tablet, err)
	}
	_, lead := s.signIn(t, "lena")
	if err := s.Holding(t.Context(), lead, tablet.ID, 3, ""); !errors.Is(err, account.ErrNotAllowed) {
		t.Errorf("somebody else speaks for the tablet: %v", err)
	}
	if err := s.Holding(t.Context(), c, tablet.ID, 3, "2026-03-09T18:00:00+01:00"); err != nil {
		t.Fatal(err)
	}
	list, err := s.TabletsOfTeam(t.Context(), lead, north)
	if err != nil || len(list) != 1 || list[0].Waiting != 3 || list[0].OldestWaiting != "2026-03-09T17:00:00.000Z" {
		t.Errorf("the lead sees %+v (%v)", list, err)
	}
	held, err := s.HoldingElsewhere(t.Context(), c, "another")
	if err != nil || len(held) != 1 || held[0].ID != tablet.ID || held[0].Waiting != 3 {
		t.Errorf("a new tablet of the same person learns %+v (%v)", held, err)
	}
	if held, err := s.HoldingElsewhere(t.Context(), lead, ""); err != nil || len(held) != 0 {
		t.Errorf("somebody else learns %+v (%v)", held, err)
	}
	if _, err := s.TabletsOfTeam(t.Context(), c, north); !errors.Is(err, account.ErrNotAllowed) {
		t.Errorf("a clinician lists the team's tablets: %v", err)
	}
	_, other, err := s.SignIn(t.Context(), account.SignIn{Login: "lena", Password: password, Tablet: tablet.ID})
	if err != nil || other.Tablet != "" {
		t.Errorf("another person's session is bound to %q (%v)", other.Tablet, err)
	}
	if _, err := s.AddTablet(t.Context(), account.Console(), account.NewTablet{Label: "x"}); !errors.Is(err, account.ErrNotAllowed) {
		t.Errorf("an admin registers a tablet: %v", err)
	}
}
