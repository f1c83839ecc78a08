package account_test

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/model"
)

const (
	home      = "192.0.2.1" // where mara signed in
	elsewhere = "203.0.113.7"
	clinic    = "192.0.2.50" // in the network of home
)

// ward is somebody who has signed in in a browser at home.
type ward struct {
	service
	c       account.Caller
	browser string
}

func newWard(t *testing.T) *ward {
	t.Helper()
	w := &ward{service: newService(t)}
	w.person(t, "mara", map[string]string{w.team(t, "North"): model.RoleClinician})
	w.signInAt(t, home)
	return w
}

// signInAt signs her in in a new browser at an address, as an outsider's tries
// would not let her without one.
func (w *ward) signInAt(t *testing.T, source string) {
	t.Helper()
	_, c, err := w.SignIn(t.Context(), account.SignIn{Login: "mara", Password: password, Source: source})
	if err != nil {
		t.Fatal(err)
	}
	w.c, w.browser = c, c.Browser
}

// try signs in; with the secret of her browser if browser is not empty.
func (w *ward) try(t *testing.T, source, login, pass, browser string) error {
	t.Helper()
	_, _, err := w.SignIn(t.Context(), account.SignIn{Login: login, Password: pass, Source: source, Browsers: map[string]string{w.c.Person: browser}})
	return err
}

// hammer tries one name from so many addresses of as many networks.
func (w *ward) hammer(t *testing.T, login string, tries int) {
	t.Helper()
	for i := range tries {
		err := w.try(t, fmt.Sprintf("198.18.%d.5", i%250), login, "guess", "")
		if !errors.Is(err, account.ErrWrongPassword) && !errors.Is(err, account.ErrTooMany) {
			t.Fatal(err)
		}
	}
}

func TestHammeringANameFromElsewhereStopsNobody(t *testing.T) {
	w := newWard(t)
	w.hammer(t, "mara", 600)
	// A new tablet in a network that she never was in has to wait, and is told why.
	var wait *account.TooMany
	if err := w.try(t, elsewhere, "mara", password, ""); !errors.As(err, &wait) || !wait.Name || wait.Wait > time.Hour {
		t.Errorf("a new tablet elsewhere: %v", err)
	}
	for _, c := range []struct{ name, source, browser string }{
		{"at her own address", home, ""},
		{"with a new tablet, in a network of hers", clinic, ""},
		{"in her own browser, wherever it is", "203.0.114.7", w.browser},
	} {
		if err := w.try(t, c.source, "mara", password, c.browser); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	// A new password begins the count anew.
	if err := w.SetPassword(t.Context(), account.Console(), w.c.Person, "", password); err != nil {
		t.Fatal(err)
	}
	if err := w.try(t, elsewhere, "mara", password, ""); err != nil {
		t.Errorf("a new tablet elsewhere, after an admin set the password anew: %v", err)
	}
}

// TestGuessesForOneNameAreFew counts what gets as far as being compared when
// somebody with an address for each try goes on for ten days; also for a name that
// nobody has, or the waits would tell who exists.
func TestGuessesForOneNameAreFew(t *testing.T) {
	w := newWard(t)
	for _, login := range []string{"mara", "nobody-has-this"} {
		compared, after := 0, map[time.Duration]int{}
		begin := w.clock.Now()
		for i := range 10 * 24 * 6 { // every ten minutes
			err := w.try(t, fmt.Sprintf("10.%d.%d.9", i/250, i%250), login, "guess", "")
			if errors.Is(err, account.ErrWrongPassword) {
				compared++
			}
			after[w.clock.Now().Sub(begin)] = compared
			w.clock.turn(10 * time.Minute)
		}
		if compared != 100 {
			t.Errorf("%s: %d guesses in ten days, want the 100 that NIST SP 800-63B allows", login, compared)
		}
		if n := after[50*time.Minute]; n > 11 {
			t.Errorf("%s: %d guesses in the first 50 minutes", login, n)
		}
		if n := after[24*time.Hour]; n > 45 {
			t.Errorf("%s: %d guesses on the first day", login, n)
		}
	}
	if err := w.try(t, elsewhere, "mara", password, w.browser); err != nil {
		t.Errorf("the person in her own browser: %v", err)
	}
}

// TestTheFirstGuessesForAName: ten are compared without a wait; the tenth and each
// after it make wait.
func TestTheFirstGuessesForAName(t *testing.T) {
	w := newWard(t)
	guess := func(i int) error { return w.try(t, fmt.Sprintf("10.1.%d.9", i), "mara", "guess", "") }
	for i := range 10 {
		if err := guess(i); !errors.Is(err, account.ErrWrongPassword) {
			t.Fatalf("guess %d, from another source each: %v", i+1, err)
		}
	}
	var wait *account.TooMany
	if err := guess(10); !errors.As(err, &wait) || wait.Wait != 30*time.Second {
		t.Errorf("guess 11: %v; want a wait of 30 s", err)
	}
	w.clock.turn(30 * time.Second)
	if err := guess(11); !errors.Is(err, account.ErrWrongPassword) {
		t.Errorf("after 30 s: %v", err)
	}
	if err := guess(12); !errors.As(err, &wait) || wait.Wait != time.Minute {
		t.Errorf("after one more: %v; want twice as long", err)
	}
}

func TestHammeringBehindOneAddressLeavesKnownBrowsersTheirTries(t *testing.T) {
	w := newWard(t)
	for i := range 60 {
		_ = w.try(t, clinic, []string{"mara", fmt.Sprint("name", i)}[i%2], "guess", "")
	}
	if err := w.try(t, clinic, "mara", password, ""); !errors.Is(err, account.ErrTooMany) {
		t.Fatalf("a browser that nobody knows, behind the address of the guesses: %v", err)
	}
	if err := w.try(t, clinic, "mara", password, "made-up"); !errors.Is(err, account.ErrTooMany) {
		t.Errorf("a made-up secret of a browser: %v", err)
	}
	if err := w.try(t, clinic, "mara", password, w.browser); err != nil {
		t.Errorf("the person in her own browser: %v", err)
	}
	// The browser's own tries are not endless either.
	var err error
	for range 6 {
		err = w.try(t, clinic, "mara", "guess", w.browser)
	}
	if !errors.Is(err, account.ErrTooMany) {
		t.Errorf("the sixth guess in a known browser: %v", err)
	}
}

// TestWhatIsKnownOfAPersonAllowsNoEndlessGuesses: a known browser and a known
// network have 100 for themselves and are then as unknown as others.
func TestWhatIsKnownOfAPersonAllowsNoEndlessGuesses(t *testing.T) {
	for name, own := range map[string]bool{"her browser": true, "her network": false} {
		t.Run(name, func(t *testing.T) {
			w := newWard(t)
			browser, source := "", clinic
			if own {
				browser, source = w.browser, elsewhere
			}
			compared := 0
			for range 12 * 24 * 7 {
				if err := w.try(t, source, "mara", "guess", browser); errors.Is(err, account.ErrWrongPassword) {
					compared++
				}
				w.clock.turn(5 * time.Minute)
			}
			if compared != 200 { // those of strangers follow
				t.Errorf("%d guesses in a week, want 100 and the 100 of strangers", compared)
			}
		})
	}
}

// TestAClockThatIsSetBackKeepsNobodyOut: waits from a wrong future are none.
func TestAClockThatIsSetBackKeepsNobodyOut(t *testing.T) {
	w := newWard(t)
	w.clock.turn(10 * 365 * 24 * time.Hour)
	w.hammer(t, "mara", 10)
	w.hammer(t, "davit", 1)
	w.clock.turn(-10 * 365 * 24 * time.Hour)
	w.person(t, "davit", nil)
	if err := w.try(t, elsewhere, "davit", password, ""); err != nil {
		t.Errorf("after one wrong try in the future: %v", err)
	}
	var wait *account.TooMany
	if err := w.try(t, elsewhere, "mara", password, ""); !errors.As(err, &wait) || wait.Wait > 30*time.Second {
		t.Errorf("after ten: %v, want a wait of the same length as before", err)
	}
	w.clock.turn(31 * time.Second)
	if err := w.try(t, elsewhere, "mara", password, ""); err != nil {
		t.Errorf("after that wait: %v", err)
	}
}

func TestABrowserIsForgotten(t *testing.T) {
	w := newWard(t)
	w.hammer(t, "mara", 60)
	w.clock.turn(account.BrowserFor - time.Hour)
	if err := w.try(t, elsewhere, "mara", password, w.browser); err != nil {
		t.Errorf("within the time: %v", err)
	}
	first := w.browser
	for i := range 16 {
		w.signInAt(t, fmt.Sprintf("172.16.%d.1", i))
	}
	w.hammer(t, "mara", 60)
	if err := w.try(t, elsewhere, "mara", password, first); !errors.Is(err, account.ErrTooMany) {
		t.Errorf("the seventeenth browser: %v", err)
	}
	if err := w.try(t, elsewhere, "mara", password, w.browser); err != nil {
		t.Errorf("the last one: %v", err)
	}
	w.clock.turn(account.BrowserFor + time.Hour)
	w.hammer(t, "mara", 60)
	if err := w.try(t, elsewhere, "mara", password, w.browser); !errors.Is(err, account.ErrTooMany) {
		t.Errorf("after the time: %v", err)
	}
}

// TestKnownTellsWhoseARequestIs and lets nobody in by it.
func TestKnownTellsWhoseARequestIs(t *testing.T) {
	w := newWard(t)
	session, c := w.signIn(t, "mara")
	other := w.person(t, "davit", map[string]string{w.team(t, "South"): model.RoleClinician})
	for _, k := range []struct {
		name, session, person, browser, want string
	}{
		{"a session", session, "", "", c.Person},
		{"a browser", "", c.Person, w.browser, c.Person},
		{"nothing", "", "", "", ""},
		{"a made-up session", "made-up", "", "", ""},
		{"another person’s browser", "", other.ID, w.browser, ""},
		{"nobody's browser", "", "nobody", w.browser, ""},
	} {
		if got, err := w.Known(t.Context(), k.session, map[string]string{k.person: k.browser}); got != k.want || err != nil {
			t.Errorf("%s: %q, %v, want %q", k.name, got, err, k.want)
		}
	}
	if _, err := w.Authenticate(t.Context(), w.browser, home); !errors.Is(err, account.ErrSignedOut) {
		t.Errorf("the secret of a browser as that of a session: %v", err)
	}
	w.clock.turn(13 * time.Hour)
	if got, err := w.Known(t.Context(), session, nil); got != "" || err != nil {
		t.Errorf("a session that has ended: %q, %v", got, err)
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
