package account

import (
	"context"
	"errors"
	"slices"
	"time"

	"doorsill/internal/store"
)

// A browser in which somebody has signed in gets a secret that says so, and
// nothing else: it opens nothing. Guesses from elsewhere do not count against it,
// nor against the network that it was in.
const (
	maxBrowsers = 16
	// BrowserFor is how long a browser is known after its person last signed in
	// there.
	BrowserFor = 90 * 24 * time.Hour
	// rememberEvery bounds how often a use is written down.
	rememberEvery = 24 * time.Hour
)

// knownBrowser returns the person's entry for the browser that holds the secret.
func (s *Service) knownBrowser(p store.Person, secret string) (store.Browser, bool) {
	if secret == "" || !p.Active {
		return store.Browser{}, false
	}
	hash := hashSecret(secret)
	for _, b := range s.browsersOf(p) {
		if b.Hash == hash {
			return b, true
		}
	}
	return store.Browser{}, false
}

// browsersOf are the browsers that are still known.
func (s *Service) browsersOf(p store.Person) (known []store.Browser) {
	oldest := stamp(s.now().Add(-BrowserFor))
	for _, b := range p.Browsers {
		if b.Seen > oldest {
			known = append(known, b)
		}
	}
	return known
}

// knownNetwork says whether the person has signed in from this network.
func (s *Service) knownNetwork(p store.Person, network string) bool {
	return p.Active && slices.ContainsFunc(s.browsersOf(p), func(b store.Browser) bool { return b.Network == network })
}

// remember notes that the person has signed in in a browser, and returns the
// secret that it keeps: the one that it sent along when that is the person's own,
// else the fresh one. Beyond 16 the one that was not used for longest is
// forgotten.
func (s *Service) remember(w store.Writer, person, sent, fresh, source string) (secret string, err error) {
	p, err := w.Person(person)
	if err != nil {
		return "", err
	}
	now, from := s.now(), attackerNetwork(source)
	b, known := s.knownBrowser(p, sent)
	if known && b.Network == from && b.Seen > stamp(now.Add(-rememberEvery)) {
		return sent, nil
	}
	secret = fresh
	if known {
		secret = sent
	}
	used := store.Browser{Hash: hashSecret(secret), Network: from, Seen: stamp(now)}
	others := slices.DeleteFunc(s.browsersOf(p), func(b store.Browser) bool { return b.Hash == used.Hash })
	p.Browsers = slices.Insert(others[:min(len(others), maxBrowsers-1)], 0, used)
	return secret, w.SetPerson(p)
}

// Known returns whose place a request may take that comes with the secret of a
// session, or of browsers by person: the person's id, or empty for a stranger.
// It writes nothing, for a request that may have to be turned away, and lets
// nobody do anything.
func (s *Service) Known(ctx context.Context, session string, browsers map[string]string) (person string, err error) {
	if session == "" && len(browsers) == 0 {
		return "", nil
	}
	err = s.store.View(ctx, func(r store.Reader) error {
		one, err := r.Session(hashSecret(session))
		if err == nil && one.Expires > stamp(s.now()) {
			person = one.Person
			return nil
		}
		if err != nil && !errors.Is(err, store.ErrNotFound) {
			return err
		}
		for id, secret := range browsers {
			p, err := r.Person(id)
			if errors.Is(err, store.ErrNotFound) {
				continue
			}
			if err != nil {
				return err
			}
			if _, ok := s.knownBrowser(p, secret); ok {
				person = id
				return nil
			}
		}
		return nil
	})
	return person, err
}
