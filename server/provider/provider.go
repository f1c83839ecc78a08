// Package provider signs people in at the organisation's OpenID provider:
// OpenID Connect Core 1.0, authorisation code flow with PKCE (RFC 7636), state
// and nonce. It says who came back; whether they have an account here is not
// its business.
package provider

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"sync/atomic"
	"time"

	"github.com/coreos/go-oidc/v3/oidc"
	"golang.org/x/oauth2"
)

var (
	// ErrUnreachable is returned when the provider does not answer, or not
	// like an OpenID provider.
	ErrUnreachable = errors.New("the sign-in provider can not be reached")

	// ErrAttempt is returned when what came back does not belong to what this
	// browser began.
	ErrAttempt = errors.New("this sign-in was not begun here")

	// ErrRefused is returned when the provider, or the check of what it said,
	// refuses.
	ErrRefused = errors.New("the sign-in was refused")
)

// Options say which provider is asked.
type Options struct {
	// Issuer is the provider's address, as it calls itself.
	Issuer string
	// ClientID is what this service is registered as there.
	ClientID string
	// Secret returns what proves that. It is asked at each sign-in, so that a new
	// secret needs no new start.
	Secret func() (string, error)
	// Return is the address of this service that people come back to, as it is
	// registered there.
	Return string
	Now    func() time.Time
	// Client talks to the provider; nil takes one that waits for 10 s.
	Client *http.Client
}

// Provider is one OpenID provider. It is looked up when it is first needed, so
// that the service starts while the provider is down.
type Provider struct {
	o Options

	// endpoint is where it signs people in; nil until it was looked up.
	endpoint atomic.Pointer[oauth2.Endpoint]
}

// Identity is who the provider says that somebody is.
type Identity struct {
	Issuer, Subject string
	// Email is empty when the provider does not tell it; Verified is the
	// provider's word that it is theirs.
	Email    string
	Verified bool
}

// Attempt is what the browser must bring back. It is kept in a cookie.
type Attempt struct {
	State    string `json:"state"`
	Nonce    string `json:"nonce"`
	Verifier string `json:"verifier"`
}

// New checks the addresses; the provider is not asked yet.
func New(o Options) (*Provider, error) {
	secret, err := o.Secret()
	if err != nil {
		return nil, err
	}
	if o.ClientID == "" || secret == "" {
		return nil, errors.New("the client id and its secret are both needed")
	}
	for name, address := range map[string]string{"issuer": o.Issuer, "address to come back to": o.Return} {
		u, err := url.Parse(address)
		if err != nil || u.Host == "" || u.Fragment != "" || u.User != nil || !safe(u) {
			return nil, fmt.Errorf("%s: expected an https address, got %q", name, address)
		}
	}
	if o.Client == nil {
		o.Client = &http.Client{Timeout: 10 * time.Second}
	}
	return &Provider{o: o}, nil
}

// safe says whether what is sent to the address is encrypted or stays on this
// machine.
func safe(u *url.URL) bool {
	host := u.Hostname()
	return u.Scheme == "https" || u.Scheme == "http" && (host == "localhost" || net.ParseIP(host).IsLoopback())
}

// Begin returns where to send the browser, and what it must bring back.
func (p *Provider) Begin(ctx context.Context) (location string, a Attempt, err error) {
	config, err := p.config(ctx)
	if err != nil {
		return "", Attempt{}, err
	}
	// GenerateVerifier returns 256 random bits, which serve for all three.
	a = Attempt{State: oauth2.GenerateVerifier(), Nonce: oauth2.GenerateVerifier(), Verifier: oauth2.GenerateVerifier()}
	return config.AuthCodeURL(a.State, oidc.Nonce(a.Nonce), oauth2.S256ChallengeOption(a.Verifier)), a, nil
}

// config looks the provider up if that has not been done. Nobody waits for the
// look-up of somebody else: behind a provider that hangs they would queue.
func (p *Provider) config(ctx context.Context) (*oauth2.Config, error) {
	endpoint := p.endpoint.Load()
	if endpoint == nil {
		found, err := oidc.NewProvider(p.with(ctx), p.o.Issuer)
		if err != nil {
			return nil, fmt.Errorf("%w: %w", ErrUnreachable, err)
		}
		endpoint = new(found.Endpoint())
		p.endpoint.Store(endpoint)
	}
	secret, err := p.o.Secret()
	if err != nil {
		return nil, err
	}
	return &oauth2.Config{
		ClientID: p.o.ClientID, ClientSecret: secret, Endpoint: *endpoint,
		RedirectURL: p.o.Return, Scopes: []string{oidc.ScopeOpenID, "email"},
	}, nil
}

func (p *Provider) with(ctx context.Context) context.Context {
	return oidc.ClientContext(ctx, p.o.Client)
}
