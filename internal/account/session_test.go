package account_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/model"
)

func TestSessionsEnd(t *testing.T) {
	for _, c := range []struct {
		name  string
		after func(s service, secret string)
		open  bool
	}{
		{"not while it is used", func(s service, secret string) {
			for range 3 {
				s.clock.turn(3 * time.Hour)
				_, _ = s.Authenticate(context.Background(), secret, "")
			}
		}, true},
		{"after four idle hours", func(s service, _ string) { s.clock.turn(4*time.Hour + time.Second) }, false},
		{"after twelve hours whatever happens", func(s service, secret string) {
			for range 5 {
				s.clock.turn(3 * time.Hour)
				_, _ = s.Authenticate(context.Background(), secret, "")
			}
		}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newService(t)
			s.person(t, "mara", nil)
			secret, _ := s.signIn(t, "mara")
			c.after(s, secret)
			if _, err := s.Authenticate(t.Context(), secret, ""); (err == nil) != c.open {
				t.Errorf("session: error %v, want open %v", err, c.open)
			}
		})
	}
}

func TestSessionsAreListedAndEnded(t *testing.T) {
	s := newService(t)
	s.person(t, "mara", map[string]string{s.team(t, "North"): model.RoleClinician})
	s.person(t, "other", nil)
	first, c := s.signIn(t, "mara")
	s.clock.turn(time.Minute)
	second, _ := s.signIn(t, "mara")
	third, on := s.signIn(t, "mara")
	if _, err := s.AddTablet(t.Context(), on, account.NewTablet{Label: "the blue one"}); err != nil {
		t.Fatal(err)
	}
	strange, other := s.signIn(t, "other")
	list, err := s.Sessions(t.Context(), c)
	if err != nil || len(list) != 3 || !list[2].Current || list[0].Current {
		t.Fatalf("sessions %+v, %v", list, err)
	}
	if list[2].Tablet != "" || list[0].Tablet+list[1].Tablet != "the blue one" {
		t.Errorf("where they are: %+v", list)
	}
	if err := s.EndSession(t.Context(), other, list[0].ID); !errors.Is(err, account.ErrNotFound) {
		t.Errorf("ending somebody else's session: %v", err)
	}
	if err := s.EndSession(t.Context(), c, list[0].ID); err != nil {
		t.Fatal(err)
	}
	alive := func() (n int) {
		for _, secret := range []string{first, second, third} {
			if _, err := s.Authenticate(t.Context(), secret, ""); err == nil {
				n++
			}
		}
		return n
	}
	if got := alive(); got != 2 {
		t.Errorf("%d sessions left after ending one of three", got)
	}
	if err := s.SignOutEverywhere(t.Context(), c, c.Person); err != nil {
		t.Fatal(err)
	}
	if got := alive(); got != 0 {
		t.Errorf("%d sessions left after signing out everywhere", got)
	}
	if _, err := s.Authenticate(t.Context(), strange, ""); err != nil {
		t.Errorf("another person was signed out too: %v", err)
	}
	if err := s.SignOutEverywhere(t.Context(), account.Caller{Person: "x"}, other.Person); !errors.Is(err, account.ErrNotAllowed) {
		t.Errorf("signing somebody else out: %v", err)
	}
}

func TestSigningInAgainEndsTheSessionBefore(t *testing.T) {
	s := newService(t)
	s.person(t, "mara", nil)
	before, _ := s.signIn(t, "mara")
	after, _, err := s.SignIn(t.Context(), account.SignIn{Login: "mara", Password: password, Replaces: before})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Authenticate(t.Context(), before, ""); !errors.Is(err, account.ErrSignedOut) {
		t.Errorf("the old cookie: %v", err)
	}
	if _, err := s.Authenticate(t.Context(), after, ""); err != nil || after == before {
		t.Errorf("the new cookie: %v", err)
	}
}
