package main

import (
	"context"
	"crypto/rand"
	"crypto/rsa"
	"errors"
	"fmt"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/go-jose/go-jose/v4"
	"github.com/zitadel/oidc/v3/example/server/exampleop"
	"github.com/zitadel/oidc/v3/example/server/storage"
	"github.com/zitadel/oidc/v3/pkg/op"
)

// providerKey is a key that a provider signs with, and publishes.
type providerKey struct {
	id  string
	key *rsa.PrivateKey
}

func newProviderKey(t *testing.T, id string) *providerKey {
	t.Helper()
	key, err := rsa.GenerateKey(rand.Reader, 2048)
	if err != nil {
		t.Fatal(err)
	}
	return &providerKey{id, key}
}

// ID, Key and SignatureAlgorithm are what the provider signs with.
func (s *providerKey) ID() string                                  { return s.id }
func (s *providerKey) Key() any                                    { return s.key }
func (s *providerKey) SignatureAlgorithm() jose.SignatureAlgorithm { return jose.RS256 }

// published is the public half.
type published struct{ *providerKey }

func (p published) Key() any                           { return &p.key.PublicKey }
func (p published) Algorithm() jose.SignatureAlgorithm { return jose.RS256 }
func (p published) Use() string                        { return "sig" }

// rotating is an OpenID provider whose signing key, published keys and client
// secret can be changed while it runs.
type rotating struct {
	*storage.Storage
	mu        sync.Mutex
	signs     *providerKey
	publishes []*providerKey
	secret    string
}

// set changes the keys.
func (r *rotating) set(signs *providerKey, publishes ...*providerKey) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.signs, r.publishes = signs, publishes
}

func (r *rotating) setSecret(secret string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.secret = secret
}

func (r *rotating) SigningKey(context.Context) (op.SigningKey, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.signs, nil
}

func (r *rotating) KeySet(context.Context) (list []op.Key, err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, one := range r.publishes {
		list = append(list, published{one})
	}
	return list, nil
}

func (r *rotating) AuthorizeClientIDSecret(_ context.Context, _, secret string) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	if secret != r.secret {
		return errors.New("another secret")
	}
	return nil
}

// invented is the one person of the provider.
type invented struct{}

const inventedPassword = "the organisation's own"

func (invented) GetUserByID(string) *storage.User {
	return &storage.User{ID: "subject", Username: "mara", Password: inventedPassword, Email: "mara@clinic.example", EmailVerified: true}
}
func (invented) GetUserByUsername(string) *storage.User { return invented{}.GetUserByID("") }
func (invented) ExampleClientID() string                { return "service" }

// TestTheProvidersKeysAreRotated is the drill: the organisation's provider signs
// with a new key and retires the old one, and gives this service another secret,
// while the program runs. A key that the provider does not publish signs nobody
// in.
func TestTheProvidersKeysAreRotated(t *testing.T) {
	dir, secretFile := t.TempDir(), filepath.Join(t.TempDir(), "secret")
	staffed(t, dir, 1)
	ran(t, 0, "", "account", "identity", "--data", dir, "--login", clinicianNo(0), "--email", "mara@clinic.example")
	put(t, secretFile, []byte("the first secret\n"))
	first, second, strange := newProviderKey(t, "first"), newProviderKey(t, "second"), newProviderKey(t, "second")
	const back = "http://localhost/api/v1/oidc/return"
	r := &rotating{secret: "the first secret"}
	r.set(first, first)
	r.Storage = storage.NewStorageWithClients(invented{}, map[string]*storage.Client{"doorsill": storage.WebClient("doorsill", "unused", back)})
	idp := httptest.NewUnstartedServer(nil)
	issuer := "http://" + idp.Listener.Addr().String()
	idp.Config.Handler = exampleop.SetupServer(issuer, r, nil, false)
	idp.Start()
	defer idp.Close()
	p := startServer(t, dir, os.Args[0], "--oidc-issuer", issuer, "--oidc-client-id", "doorsill", "--oidc-secret-file", secretFile, "--public-url", "http://localhost")

	const in, refused = "/", "/sign-in?refused="
	p.wantSignIn(t, "with the first key", idp.URL, in)
	r.set(second, first, second)
	p.wantSignIn(t, "with the second, while both are published", idp.URL, in)
	r.set(second, second)
	p.wantSignIn(t, "when the first was retired", idp.URL, in)
	r.set(first, second)
	p.wantSignIn(t, "with the retired one", idp.URL, refused)
	r.set(strange, second)
	p.wantSignIn(t, "with another key by the name of the published one", idp.URL, refused)
	r.set(second, second)

	r.setSecret("the second secret")
	p.wantSignIn(t, "with the secret of before", idp.URL, refused)
	put(t, secretFile, []byte("the second secret\n"))
	p.wantSignIn(t, "with the new secret, without a new start", idp.URL, in)
	if err := os.Remove(secretFile); err != nil {
		t.Fatal(err)
	}
	p.wantSignIn(t, "without a secret", idp.URL, refused)
}

// wantSignIn has the person of the provider sign in and wants to be sent on to an
// address that begins so.
func (p *program) wantSignIn(t *testing.T, when, idp, want string) {
	t.Helper()
	got, err := signInThrough(p.url, idp)
	if err != nil {
		t.Fatalf("%s: %v", when, err)
	}
	if !strings.HasPrefix(got, want) || want == "/" && got != want {
		t.Errorf("signing in %s leads to %s, want %s", when, got, want)
	}
}

// signInThrough goes from page to page like a browser, and returns where it is
// sent when it came back.
func signInThrough(here, idp string) (location string, err error) {
	jar, err := cookiejar.New(nil)
	if err != nil {
		return "", err
	}
	b := &http.Client{Jar: jar, CheckRedirect: func(r *http.Request, _ []*http.Request) error {
		if !strings.HasPrefix(r.URL.String(), idp) {
			return http.ErrUseLastResponse
		}
		return nil
	}}
	page, err := b.Get(here + "/api/v1/oidc/start")
	if err != nil {
		return "", err
	}
	_ = page.Body.Close()
	id := page.Request.URL.Query().Get("authRequestID")
	if id == "" { // the sign-in could not even begin
		return page.Header.Get("Location"), nil
	}
	page, err = b.PostForm(idp+"/login/username", url.Values{"id": {id}, "username": {"mara"}, "password": {inventedPassword}})
	if err != nil {
		return "", err
	}
	_ = page.Body.Close()
	came, err := page.Location()
	if err != nil {
		return "", fmt.Errorf("the provider sends nobody back: %w", err)
	}
	back, err := b.Get(here + came.RequestURI())
	if err != nil {
		return "", err
	}
	_ = back.Body.Close()
	return back.Header.Get("Location"), nil
}
