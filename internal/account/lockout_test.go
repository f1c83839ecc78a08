package account_test

import (
	"errors"
	"fmt"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/model"
)

// ward is somebody with a tablet at home and one that was withdrawn.
type ward struct {
	service
	tablet, withdrawn string
}

func newWard(t *testing.T) ward {
	t.Helper()
	w := ward{service: newService(t)}
	w.person(t, "mara", map[string]string{w.team(t, "North"): model.RoleClinician})
	for _, id := range []*string{&w.tablet, &w.withdrawn} {
		_, c := w.signIn(t, "mara")
		made, err := w.AddTablet(t.Context(), c, account.NewTablet{Label: "blue"})
		if err != nil {
			t.Fatal(err)
		}
		*id = made.ID
	}
	if _, err := w.RevokeTablet(t.Context(), account.Console(), w.withdrawn); err != nil {
		t.Fatal(err)
	}
	return w
}

func (w ward) try(t *testing.T, source, login, pass, tablet string) error {
	t.Helper()
	_, _, err := w.SignIn(t.Context(), account.SignIn{Login: login, Password: pass, Source: source, Tablet: tablet})
	return err
}

func TestHammeringANameFromElsewhereStopsNobody(t *testing.T) {
	w := newWard(t)
	for i := range 600 {
		err := w.try(t, fmt.Sprintf("198.51.100.%d", i%200), "mara", "guess", "")
		if !errors.Is(err, account.ErrWrongPassword) && !errors.Is(err, account.ErrTooMany) {
			t.Fatal(err)
		}
	}
	if err := w.try(t, "192.0.2.1", "mara", password, ""); err != nil {
		t.Errorf("the person at her own address: %v", err)
	}
	if err := w.try(t, "192.0.2.1", "mara", password, w.tablet); err != nil {
		t.Errorf("the person at her own address and tablet: %v", err)
	}
}

func TestHammeringBehindOneAddressLeavesKnownTabletsTheirTries(t *testing.T) {
	w := newWard(t)
	const clinic = "192.0.2.50"
	for i := range 60 {
		_ = w.try(t, clinic, []string{"mara", fmt.Sprint("name", i)}[i%2], "guess", "")
	}
	if err := w.try(t, clinic, "mara", password, ""); !errors.Is(err, account.ErrTooMany) {
		t.Fatalf("a browser that nobody knows, behind the address of the guesses: %v", err)
	}
	for name, tablet := range map[string]string{"a withdrawn tablet": w.withdrawn, "a tablet that is none": "unheard-of"} {
		if err := w.try(t, clinic, "mara", password, tablet); !errors.Is(err, account.ErrTooMany) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := w.try(t, clinic, "mara", password, w.tablet); err != nil {
		t.Errorf("the person at her own tablet: %v", err)
	}
	// The tablet's own tries are not endless either.
	var err error
	for range 6 {
		err = w.try(t, clinic, "mara", "guess", w.tablet)
	}
	if !errors.Is(err, account.ErrTooMany) {
		t.Errorf("the sixth guess with a tablet's id: %v", err)
	}
	// And whoever uses those up from elsewhere does not shut the owner out.
	if err := w.try(t, "192.0.2.1", "mara", password, w.tablet); err != nil {
		t.Errorf("the person at another address, while a stranger uses her tablet's id: %v", err)
	}
}

func TestNobodyElseCanKeepAPersonFromChangingThePassword(t *testing.T) {
	w := newWard(t)
	_, c := w.signIn(t, "mara")
	for range 40 {
		_ = w.try(t, c.Source, "mara", "guess", "")
	}
	if err := w.SetPassword(t.Context(), c, c.Person, password, "nine quiet lighthouse lamps"); err != nil {
		t.Errorf("%v", err)
	}
}
