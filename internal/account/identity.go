package account

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"doorsill/internal/audit"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

var (
	// ErrNoAccount is returned when the provider signed in somebody for whom no open
	// account names. Accounts are made by admins only.
	ErrNoAccount = errors.New("no account for this person")

	// ErrUnverified is returned when an account names the e-mail address, but
	// the provider does not vouch that it is theirs.
	ErrUnverified = errors.New("e-mail address is not verified")
)

const (
	maxEmail   = 254 // RFC 5321, section 4.5.3.1.3, less the brackets
	maxSubject = 255 // OpenID Connect Core 1.0, section 2
)

// ProviderIdentity is somebody whom the organisation's sign-in provider has signed in.
type ProviderIdentity struct {
	Issuer, Subject string
	Email           string
	EmailVerified   bool
}

// SetIdentity says who a person is at the sign-in provider, by e-mail address,
// by subject, or not at all when both are empty; admins only. The first sign-in
// by e-mail address writes the subject down, since an address can be given to
// somebody else one day. The error may be a *validation.Error.
func (s *Service) SetIdentity(ctx context.Context, c Caller, person, email, subject string) error {
	if err := adminOnly(c); err != nil {
		return err
	}
	email, subject = foldEmail(email), strings.TrimSpace(subject)
	if at := strings.LastIndex(email, "@"); email != "" && (at < 1 || at == len(email)-1 || len(email) > maxEmail || strings.ContainsAny(email, " \t\r\n")) {
		return validation.Invalid("email", "an e-mail address, or nothing")
	}
	if len(subject) > maxSubject {
		return validation.Invalid("subject", "at most 255 characters")
	}
	err := s.store.Update(ctx, func(w store.Writer) error {
		p, err := w.Person(person)
		if err != nil {
			return found(err)
		}
		if err := freeIdentity(w, person, email, subject); err != nil {
			return err
		}
		p.Email, p.Subject, p.Issuer = email, subject, ""
		return w.SetPerson(p)
	})
	if err != nil {
		return fmt.Errorf("set identity: %w", err)
	}
	return s.note(c.Source, c.Person, "set identity", person, audit.OK)
}

// freeIdentity refuses what names another person already.
func freeIdentity(r store.Reader, but, email, subject string) error {
	people, err := r.People()
	if err != nil {
		return err
	}
	for _, p := range people {
		switch {
		case p.ID == but:
		case email != "" && p.Email == email:
			return validation.Invalid("email", "an address that no other person has here")
		case subject != "" && p.Subject == subject:
			return validation.Invalid("subject", "a subject that no other person has here")
		}
	}
	return nil
}

// SignInByProvider opens a session for somebody whom the provider has signed in.
// Password and Login of in count for nothing. The error is ErrNoAccount,
// ErrUnverified, or one of the store.
func (s *Service) SignInByProvider(ctx context.Context, v ProviderIdentity, in SignIn) (secret string, c Caller, err error) {
	person, err := s.personOf(ctx, v)
	if errors.Is(err, ErrNoAccount) || errors.Is(err, ErrUnverified) {
		err = errors.Join(err, s.refused(in.Source, person.ID, "sign in by provider", false))
	}
	if err != nil {
		return "", Caller{}, err
	}
	in.byProvider = true
	return s.signedIn(ctx, person, in, "sign in by provider")
}

// personOf finds the one open account that names the person. One that has a
// subject is found by nothing else. With an error the person may be known all
// the same, for the trail.
func (s *Service) personOf(ctx context.Context, v ProviderIdentity) (p store.Person, err error) {
	if v.Subject == "" {
		return p, ErrNoAccount
	}
	err = s.store.Update(ctx, func(w store.Writer) error {
		people, err := w.People()
		if err != nil {
			return err
		}
		if p = pick(people, v); p.ID == "" || !p.Active {
			return ErrNoAccount
		}
		if p.Subject == "" && !v.EmailVerified {
			return ErrUnverified
		}
		if p.Subject == v.Subject && p.Issuer == v.Issuer {
			return nil
		}
		p.Subject, p.Issuer = v.Subject, v.Issuer
		return w.SetPerson(p)
	})
	return p, err
}

func pick(people []store.Person, v ProviderIdentity) (byEmail store.Person) {
	email := foldEmail(v.Email)
	for _, p := range people {
		switch {
		case p.Subject == v.Subject && (p.Issuer == "" || p.Issuer == v.Issuer):
			return p
		case p.Subject == "" && email != "" && p.Email == email:
			byEmail = p
		}
	}
	return byEmail
}

// foldEmail makes one address out of the ways to type it. Only the letters that
// every keyboard has are folded: other letters that look or fold alike can be
// another person's address. Strictly the part before the @ has a case; no
// provider in use gives two people addresses that differ in it alone (common
// practice, no source).
func foldEmail(email string) string {
	return strings.Map(func(r rune) rune {
		if 'A' <= r && r <= 'Z' {
			return r + 'a' - 'A'
		}
		return r
	}, strings.TrimSpace(email))
}
