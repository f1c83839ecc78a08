package account

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"sort"
	"strings"
	"unicode/utf8"

	"doorsill/internal/audit"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

const (
	maxLogin = 64
	maxName  = 120
)

var loginShape = regexp.MustCompile(`^[\p{Ll}\p{Lo}0-9][\p{Ll}\p{Lo}0-9._@+-]*$`)

// Console is the caller of the command line: whoever can run the program on
// the server's own data may manage people.
func Console() Caller {
	return Caller{Person: "console", Name: "Console", Admin: true, Source: "console"}
}

// NewPerson is somebody to be added.
type NewPerson struct {
	Login      string
	Name       string
	Credential string
	Password   string
	// Printed says that the password is told to everybody, as the demo's is, and
	// so is not asked to be hard to guess.
	Printed bool
	Admin   bool
	// Roles holds a role by team id; empty for an admin.
	Roles map[string]string
}

// PersonChange replaces what is known of a person, but login and password.
type PersonChange struct {
	Name       string
	Credential string
	Admin      bool
	// Closed keeps the person from signing in; nothing of theirs is removed.
	Closed bool
	Roles  map[string]string
}

// PersonView is what a caller may see of a person. Login, Email and Subject are
// empty for callers who are not admins; Roles then holds only teams that both
// work in.
type PersonView struct {
	ID, Login, Name, Credential string
	Email, Subject              string
	Admin, Closed               bool
	Roles                       map[string]string
}

// AddPerson makes an account; admins only. The error may be a *validation.Error.
func (s *Service) AddPerson(ctx context.Context, c Caller, n NewPerson) (PersonView, error) {
	if err := adminOnly(c); err != nil {
		return PersonView{}, err
	}
	n.Login, n.Name, n.Credential = foldLogin(n.Login), strings.TrimSpace(n.Name), strings.TrimSpace(n.Credential)
	if err := n.check(); err != nil {
		return PersonView{}, err
	}
	err := s.store.View(ctx, func(r store.Reader) error {
		if n.Printed {
			return nil
		}
		return s.checkNewPassword(r, n.Password, store.Person{Login: n.Login, Name: n.Name, Credential: n.Credential}, n.Roles)
	})
	if err != nil {
		return PersonView{}, err
	}
	hash, err := s.hasher.Hash(ctx, n.Password)
	if err != nil {
		return PersonView{}, err
	}
	id, err := s.newID()
	if err != nil {
		return PersonView{}, err
	}
	p := store.Person{
		ID: id, Name: n.Name, Credential: n.Credential, Login: n.Login,
		Hash: hash, Admin: n.Admin, Active: true, Created: stamp(s.now()),
	}
	err = s.store.Update(ctx, func(w store.Writer) error {
		if err := w.SetPerson(p); errors.Is(err, store.ErrTaken) {
			return validation.Invalid("login", "a login that nobody has yet")
		} else if err != nil {
			return err
		}
		return setRoles(w, id, n.Roles)
	})
	if err != nil {
		return PersonView{}, fmt.Errorf("add person: %w", err)
	}
	return viewOf(p, n.Roles), s.note(c.Source, c.Person, "add person", id, audit.OK)
}

func (n NewPerson) check() error {
	if !loginShape.MatchString(n.Login) {
		return validation.Invalid("login", "letters, digits and . _ @ + -, such as j.meyer")
	}
	if err := checkNames(n.Name, n.Credential); err != nil {
		return err
	}
	return checkRoles(n.Admin, n.Roles)
}

func checkNames(name, credential string) error {
	if n := utf8.RuneCountInString(name); n == 0 || n > maxName {
		return validation.Invalid("name", "1 to 120 characters")
	}
	if utf8.RuneCountInString(credential) > maxName {
		return validation.Invalid("credential", "at most 120 characters")
	}
	return nil
}

func checkRoles(admin bool, roles map[string]string) error {
	if admin && len(roles) > 0 {
		return validation.Invalid("teams", "no team for an admin, who sees no clinical content; a second account serves somebody who does both")
	}
	for _, role := range roles {
		switch role {
		case model.RoleClinician, model.RoleAssistant, model.RoleLead:
		default:
			return validation.Invalid("role", "clinician, assistant or lead")
		}
	}
	return nil
}

// setRoles makes the person's teams exactly these.
func setRoles(w store.Writer, person string, roles map[string]string) error {
	before, err := w.MembershipsOfPerson(person)
	if err != nil {
		return err
	}
	for _, m := range before {
		if _, stays := roles[m.Team]; stays {
			continue
		}
		if err := w.RemoveMembership(person, m.Team); err != nil {
			return err
		}
	}
	for _, team := range sortedKeys(roles) {
		if _, err := w.Team(team); errors.Is(err, store.ErrNotFound) {
			return validation.Invalid("teams", "ids of teams that exist")
		} else if err != nil {
			return err
		}
		if err := w.SetMembership(store.Membership{Person: person, Team: team, Role: roles[team]}); err != nil {
			return err
		}
	}
	return nil
}

// ChangePerson replaces what is known of a person; admins only. Closing an
// account ends its sessions. The last open admin account can not be closed.
func (s *Service) ChangePerson(ctx context.Context, c Caller, id string, ch PersonChange) (PersonView, error) {
	if err := adminOnly(c); err != nil {
		return PersonView{}, err
	}
	ch.Name, ch.Credential = strings.TrimSpace(ch.Name), strings.TrimSpace(ch.Credential)
	if err := errors.Join(checkNames(ch.Name, ch.Credential), checkRoles(ch.Admin, ch.Roles)); err != nil {
		return PersonView{}, err
	}
	var p store.Person
	err := s.store.Update(ctx, func(w store.Writer) (err error) {
		if p, err = w.Person(id); err != nil {
			return found(err)
		}
		if p.Admin && p.Active && (!ch.Admin || ch.Closed) {
			if err := anotherAdmin(w, id); err != nil {
				return err
			}
		}
		p.Name, p.Credential, p.Admin, p.Active = ch.Name, ch.Credential, ch.Admin, !ch.Closed
		if err := w.SetPerson(p); err != nil {
			return err
		}
		if ch.Closed {
			if _, err := w.RemoveSessionsOfPerson(id); err != nil {
				return err
			}
		}
		return setRoles(w, id, ch.Roles)
	})
	if err != nil {
		return PersonView{}, fmt.Errorf("change person: %w", err)
	}
	return viewOf(p, ch.Roles), s.note(c.Source, c.Person, "change person", id, audit.OK)
}

// anotherAdmin refuses when nobody else could manage people.
func anotherAdmin(r store.Reader, but string) error {
	people, err := r.People()
	if err != nil {
		return err
	}
	for _, p := range people {
		if p.ID != but && p.Admin && p.Active {
			return nil
		}
	}
	return validation.Invalid("admin", "at least one open admin account besides this one")
}

// People lists everybody for an admin, and the colleagues of the caller's own
// teams for others, ordered by name.
func (s *Service) People(ctx context.Context, c Caller) (list []PersonView, err error) {
	if !c.SignedIn() {
		return nil, ErrSignedOut
	}
	err = s.store.View(ctx, func(r store.Reader) error {
		people, err := r.People()
		if err != nil {
			return err
		}
		for _, p := range people {
			roles, err := rolesOf(r, p.ID)
			if err != nil {
				return err
			}
			if v, ok := c.sees(viewOf(p, roles)); ok {
				list = append(list, v)
			}
		}
		return nil
	})
	sort.SliceStable(list, func(i, j int) bool { return list[i].Name < list[j].Name })
	return list, err
}

// sees narrows a person to what the caller may see of them.
func (c Caller) sees(v PersonView) (PersonView, bool) {
	if c.Admin {
		return v, true
	}
	shared := make(map[string]string)
	for team, role := range v.Roles {
		if c.Member(team) {
			shared[team] = role
		}
	}
	if len(shared) == 0 && v.ID != c.Person {
		return PersonView{}, false
	}
	v.Login, v.Email, v.Subject, v.Roles = "", "", "", shared
	return v, true
}

func viewOf(p store.Person, roles map[string]string) PersonView {
	return PersonView{
		ID: p.ID, Login: p.Login, Name: p.Name, Credential: p.Credential, Email: p.Email, Subject: p.Subject,
		Admin: p.Admin, Closed: !p.Active, Roles: roles,
	}
}

func adminOnly(c Caller) error {
	switch {
	case !c.SignedIn():
		return ErrSignedOut
	case !c.Admin:
		return ErrNotAllowed
	}
	return nil
}

func sortedKeys(m map[string]string) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

// Empty says whether nobody can sign in yet.
func (s *Service) Empty(ctx context.Context) (empty bool, err error) {
	err = s.store.View(ctx, func(r store.Reader) error {
		people, err := r.People()
		empty = len(people) == 0
		return err
	})
	return empty, err
}
