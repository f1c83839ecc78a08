package account_test

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/store"
)

// denied is what the trail says of failed sign-ins: its lines, and how many they
// stand for, by person and source.
func (s service) denied(t *testing.T) (lines int, times map[string]int) {
	t.Helper()
	form := regexp.MustCompile(`^from="([^"]*)"(?: times=(\d+))? result=denied$`)
	times = map[string]int{}
	err := s.store.View(t.Context(), func(r store.Reader) error {
		for e, err := range r.AuditEntries(0) {
			if err != nil {
				return err
			}
			m := form.FindStringSubmatch(e.Detail)
			if m == nil {
				continue
			}
			n := 1
			if m[2] != "" {
				if n, err = strconv.Atoi(m[2]); err != nil {
					return err
				}
			}
			lines++
			times[e.Person+" from "+m[1]] += n
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return lines, times
}

// TestOneAddressCanNotGrowTheTrail hammers for a day: two people by name, and
// names that nobody has.
func TestOneAddressCanNotGrowTheTrail(t *testing.T) {
	s := newService(t)
	mara, odo := s.person(t, "mara", nil).ID, s.person(t, "odo", nil).ID
	const hours, tries = 24, 1800 // a try every two seconds
	checked := 0
	for i := range hours * tries {
		login := []string{"mara", "odo", fmt.Sprint("nobody", i)}[i%3]
		_, _, err := s.SignIn(t.Context(), account.SignIn{Login: login, Password: "guess", Source: "192.0.2.7"})
		if errors.Is(err, account.ErrWrongPassword) {
			checked++
		} else if !errors.Is(err, account.ErrTooMany) {
			t.Fatal(err)
		}
		s.clock.turn(2 * time.Second)
	}
	if checked < 10_000 {
		t.Fatalf("only %d tries came as far as the password: nothing would have grown", checked)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	lines, times := s.denied(t)
	if most := (hours + 1) * (30 + 3); lines > most {
		t.Errorf("a day of guessing left %d lines, want at most %d", lines, most)
	}
	for _, who := range []string{mara, odo, ""} {
		if got := times[who+" from 192.0.2.7"]; got != hours*tries/3 {
			t.Errorf("of %q the trail counts %d failed sign-ins, want %d", who, got, hours*tries/3)
		}
	}
}

func TestWhatWasOnlyCountedIsWrittenWhenTheHourIsOver(t *testing.T) {
	s := newService(t)
	mara := s.person(t, "mara", nil).ID
	for range 12 {
		_, _, _ = s.SignIn(t.Context(), account.SignIn{Login: "mara", Password: "guess", Source: "192.0.2.7"})
	}
	if lines, times := s.denied(t); lines != 5 || times[mara+" from 192.0.2.7"] != 5 {
		t.Errorf("at once: %d lines for %v, want one for each of the five that were checked", lines, times)
	}
	s.clock.turn(time.Hour + time.Second)
	s.signIn(t, "mara") // anybody's, from anywhere
	if lines, times := s.denied(t); lines != 6 || times[mara+" from 192.0.2.7"] != 12 {
		t.Errorf("an hour later: %d lines for %v, want one more for the seven that were not", lines, times)
	}
}

// TestAClockThatIsSetBackKeepsNothingWaiting also has one source with many
// addresses: an IPv6 /64 counts as one.
func TestAClockThatIsSetBackKeepsNothingWaiting(t *testing.T) {
	s := newService(t)
	for i := range 40 {
		_, _, _ = s.SignIn(t.Context(), account.SignIn{Login: "mara", Password: "guess", Source: fmt.Sprintf("2001:db8::%x", i+1)})
	}
	s.clock.turn(-365 * 24 * time.Hour)
	_, _, _ = s.SignIn(t.Context(), account.SignIn{Login: "mara", Password: "guess", Source: "192.0.2.9"})
	if _, times := s.denied(t); times[" from 2001:db8::/64"] != 35 {
		t.Errorf("the trail counts %v, want the 35 that were refused", times)
	}
}
