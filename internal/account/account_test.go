package account_test

import (
	"context"
	"crypto/rand"
	"errors"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/audit"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/validation"
)

// service is accounts over a fresh store, with a clock that a test turns.
type service struct {
	*account.Service
	store store.Store
	clock *clock
}

type clock struct {
	mu  sync.Mutex
	now time.Time
}

func (c *clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.now
}

func (c *clock) turn(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = c.now.Add(d)
}

const password = "seven loose cobblestones"

func newService(t *testing.T) service {
	t.Helper()
	db, err := bolt.Open(filepath.Join(t.TempDir(), "records.db"), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	c := &clock{now: time.Date(2026, 3, 10, 9, 0, 0, 0, time.UTC)}
	trail := audit.New(db, c.Now)
	s, err := account.New(account.Options{
		Store: db, Trail: trail, Now: c.Now, Cost: account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1},
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		trail.Close()
		if _, err := audit.Verify(context.Background(), db); err != nil {
			t.Error(err)
		}
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	return service{s, db, c}
}

func (s service) team(t *testing.T, name string) string {
	t.Helper()
	team, err := s.AddTeam(t.Context(), account.Console(), name)
	if err != nil {
		t.Fatal(err)
	}
	return team.ID
}

func (s service) person(t *testing.T, login string, roles map[string]string) account.PersonView {
	t.Helper()
	p, err := s.AddPerson(t.Context(), account.Console(), account.NewPerson{
		Login: login, Name: "Somebody Invented", Password: password, Admin: roles == nil, Roles: roles,
	})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func (s service) signIn(t *testing.T, login string) (string, account.Caller) {
	t.Helper()
	secret, c, err := s.SignIn(t.Context(), account.SignIn{Login: login, Password: password, Source: "192.0.2.1", Agent: "test"})
	if err != nil {
		t.Fatal(err)
	}
	return secret, c
}

func TestSignInGivesTheCallersRoles(t *testing.T) {
	s := newService(t)
	north := s.team(t, "North")
	s.person(t, "mara", map[string]string{north: model.RoleLead})
	secret, c := s.signIn(t, "  MARA ")
	if !c.Leads(north) || c.Admin || !c.SignedIn() {
		t.Errorf("caller %+v does not lead the team", c)
	}
	again, err := s.Authenticate(t.Context(), secret, "192.0.2.1")
	if err != nil || again.Person != c.Person {
		t.Errorf("the cookie stands for %q (%v), want %q", again.Person, err, c.Person)
	}
	if len(secret) < 43 {
		t.Errorf("secret of %d characters holds less than 256 bits", len(secret))
	}
}

func TestSecretsAreStoredHashedOnly(t *testing.T) {
	s := newService(t)
	s.person(t, "admin", nil)
	secret, c := s.signIn(t, "admin")
	err := s.store.View(t.Context(), func(r store.Reader) error {
		p, err := r.PersonByLogin("admin")
		if !strings.HasPrefix(p.Hash, "$argon2id$v=19$m=64,t=1,p=1$") || strings.Contains(p.Hash, password) {
			t.Errorf("password is stored as %q", p.Hash)
		}
		if c.Session == secret {
			t.Error("the session is stored under its secret")
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestSignInRefusesAlike(t *testing.T) {
	s := newService(t)
	p := s.person(t, "closed", map[string]string{s.team(t, "North"): model.RoleClinician})
	s.person(t, "open", nil)
	if _, err := s.ChangePerson(t.Context(), account.Console(), p.ID, account.PersonChange{Name: "X", Closed: true}); err != nil {
		t.Fatal(err)
	}
	for _, in := range []account.SignIn{
		{Login: "nobody", Password: password}, {Login: "open", Password: "wrong"}, {Login: "closed", Password: password}, {},
	} {
		in.Source = "192.0.2.9"
		if _, _, err := s.SignIn(t.Context(), in); !errors.Is(err, account.ErrWrongPassword) {
			t.Errorf("%q with %q: error %v, want %v", in.Login, in.Password, err, account.ErrWrongPassword)
		}
	}
}

func TestGuessingDoesNotLockThePersonOut(t *testing.T) {
	s := newService(t)
	s.person(t, "mara", nil)
	try := func(source, pass string) error {
		_, _, err := s.SignIn(t.Context(), account.SignIn{Login: "mara", Password: pass, Source: source})
		return err
	}
	for range 5 {
		if err := try("198.51.100.7", "guess"); !errors.Is(err, account.ErrWrongPassword) {
			t.Fatal(err)
		}
	}
	err := try("198.51.100.7", password)
	var tooMany *account.TooMany
	if !errors.As(err, &tooMany) || tooMany.Wait <= 0 || tooMany.Wait > 30*time.Second || tooMany.Name {
		t.Errorf("sixth try from one place: %v", err)
	}
	if err := try("192.0.2.1", password); err != nil {
		t.Errorf("the person herself, from elsewhere: %v", err)
	}
	s.clock.turn(31 * time.Second)
	if err := try("198.51.100.7", password); err != nil {
		t.Errorf("after waiting: %v", err)
	}
}

func TestOneSourceCanNotTryManyLogins(t *testing.T) {
	s := newService(t)
	var err error
	for i := range 40 {
		// One household has a whole /64 of addresses.
		source := "2001:db8:1:2::" + string(rune('a'+i%6))
		_, _, err = s.SignIn(t.Context(), account.SignIn{Login: strings.Repeat("x", i+1), Password: "guess", Source: source})
	}
	if !errors.Is(err, account.ErrTooMany) {
		t.Errorf("fortieth login from one network: %v, want %v", err, account.ErrTooMany)
	}
}

func TestTheTrailNamesWhoAndWhatButNoSecret(t *testing.T) {
	s := newService(t)
	p := s.person(t, "mara", nil)
	s.signIn(t, "mara")
	_, _, _ = s.SignIn(t.Context(), account.SignIn{Login: "typed my password here", Password: "guess", Source: "x\" result=ok"})
	var lines []store.AuditEntry
	err := s.store.View(t.Context(), func(r store.Reader) error {
		for e, err := range r.AuditEntries(0) {
			if err != nil {
				return err
			}
			lines = append(lines, e)
		}
		return nil
	})
	if err != nil || len(lines) != 3 {
		t.Fatalf("trail %+v (%v)", lines, err)
	}
	if e := lines[0]; e.Person != "console" || e.Action != "add person" || e.Subject != p.ID {
		t.Errorf("adding a person left %+v", e)
	}
	if e := lines[1]; e.Person != p.ID || e.Detail != `from="192.0.2.1" result=ok` {
		t.Errorf("signing in left %+v", e)
	}
	if e := lines[2]; e.Person != "" || e.Subject != "" || e.Detail != `from="x\" result=ok" result=denied` {
		t.Errorf("a failed try left %+v", e)
	}
}

func TestAnAdminHasNoTeamWhateverIsStored(t *testing.T) {
	s := newService(t)
	north := s.team(t, "North")
	p := s.person(t, "ada", nil)
	err := s.store.Update(t.Context(), func(w store.Writer) error {
		return w.SetMembership(store.Membership{Person: p.ID, Team: north, Role: model.RoleLead})
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, c := s.signIn(t, "ada"); c.Member(north) || !c.Admin {
		t.Errorf("an admin signs in as %+v", c)
	}
}

func TestAnOldHashIsMadeAnewAtSignIn(t *testing.T) {
	s := newService(t)
	p := s.person(t, "ada", nil)
	h, err := account.NewHasher(account.Cost{MemoryKiB: 32, Passes: 1, Lanes: 1}, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	old, err := h.Hash(t.Context(), password)
	if err != nil {
		t.Fatal(err)
	}
	stored := func(change func(*store.Person)) (hash string) {
		err := s.store.Update(t.Context(), func(w store.Writer) error {
			one, err := w.Person(p.ID)
			change(&one)
			hash = one.Hash
			return errors.Join(err, w.SetPerson(one))
		})
		if err != nil {
			t.Fatal(err)
		}
		return hash
	}
	stored(func(one *store.Person) { one.Hash = old })
	s.signIn(t, "ada")
	if now := stored(func(*store.Person) {}); now == old || !strings.Contains(now, "m=64,") {
		t.Errorf("after signing in the hash is %q", now)
	}
	s.signIn(t, "ada")
}

// TestPasswordsAreNotMadeOfWhoAndWhere: the server knows more of a person than they
// type.
func TestPasswordsAreNotMadeOfWhoAndWhere(t *testing.T) {
	s := newService(t)
	p := s.person(t, "mara", map[string]string{s.team(t, "Harbour Lights"): model.RoleClinician})
	if err := s.SetIdentity(t.Context(), account.Console(), p.ID, "quillon.marrow@lakeside.example", ""); err != nil {
		t.Fatal(err)
	}
	for _, easy := range []string{"harbour-lights-26", "quillon.marrow.26", "lakeside example 1", "somebody invented"} {
		var bad *validation.Error
		if err := s.SetPassword(t.Context(), account.Console(), p.ID, "", easy); !errors.As(err, &bad) || bad.Path != "password" {
			t.Errorf("%q: %v", easy, err)
		}
	}
	_, err := s.AddPerson(t.Context(), account.Console(), account.NewPerson{
		Login: "davit", Name: "Davit", Password: "harbour-lights-26", Roles: p.Roles,
	})
	var bad *validation.Error
	if !errors.As(err, &bad) || bad.Path != "password" {
		t.Errorf("a first password that is the team's name: %v", err)
	}
	if err := s.SetPassword(t.Context(), account.Console(), p.ID, "", "nine quiet lighthouse lamps"); err != nil {
		t.Error(err)
	}
}
