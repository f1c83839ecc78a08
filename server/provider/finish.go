package provider

import (
	"context"
	"crypto/subtle"
	"errors"
	"fmt"
	"net/url"

	"github.com/coreos/go-oidc/v3/oidc"
	"golang.org/x/oauth2"
)

// Finish checks what the browser brought back in the query of the address, and
// returns who signed in. The error wraps ErrAttempt, ErrRefused or
// ErrUnreachable.
func (p *Provider) Finish(ctx context.Context, a Attempt, query url.Values) (Identity, error) {
	if a.State == "" || a.Nonce == "" || a.Verifier == "" || !same(a.State, query.Get("state")) {
		return Identity{}, ErrAttempt
	}
	if issuer := query.Get("iss"); issuer != "" && issuer != p.o.Issuer { // RFC 9207
		return Identity{}, ErrAttempt
	}
	if said := query.Get("error"); said != "" || query.Get("code") == "" {
		return Identity{}, fmt.Errorf("%w: the provider says %.60q", ErrRefused, said)
	}
	config, err := p.config(ctx)
	if err != nil {
		return Identity{}, err
	}
	ctx = p.with(ctx)
	token, err := config.Exchange(ctx, query.Get("code"), oauth2.VerifierOption(a.Verifier))
	if err != nil {
		return Identity{}, exchangeFailed(err)
	}
	// The library keeps keys for as long as it finds the one that it looks for,
	// also one that the provider has retired since: it looks them up anew here.
	found, err := oidc.NewProvider(ctx, p.o.Issuer)
	if err != nil {
		return Identity{}, fmt.Errorf("%w: %w", ErrUnreachable, err)
	}
	id, err := p.verify(ctx, found, token, a.Nonce)
	if err != nil || id.Email != "" {
		return id, err
	}
	return withEmail(ctx, found, token, id)
}

// exchangeFailed tells a provider that says no from one that says nothing. The
// text of a refusal is the provider's and may quote what was sent, so only its
// code goes on.
func exchangeFailed(err error) error {
	var said *oauth2.RetrieveError
	if errors.As(err, &said) && said.Response.StatusCode < 500 {
		return fmt.Errorf("%w: the provider says %.60q", ErrRefused, said.ErrorCode)
	}
	return fmt.Errorf("%w: exchange code", ErrUnreachable)
}

// verify checks the ID token: signature, issuer, audience and end by go-oidc,
// the nonce here.
func (p *Provider) verify(ctx context.Context, found *oidc.Provider, token *oauth2.Token, nonce string) (Identity, error) {
	raw, ok := token.Extra("id_token").(string)
	if !ok {
		return Identity{}, fmt.Errorf("%w: the provider sent no ID token", ErrRefused)
	}
	id, err := found.Verifier(&oidc.Config{ClientID: p.o.ClientID, Now: p.o.Now}).Verify(ctx, raw)
	if err != nil {
		return Identity{}, fmt.Errorf("%w: %w", ErrRefused, err)
	}
	if !same(id.Nonce, nonce) {
		return Identity{}, fmt.Errorf("%w: wrong nonce", ErrAttempt)
	}
	var claims struct {
		Email    string `json:"email"`
		Verified bool   `json:"email_verified"`
	}
	if err := id.Claims(&claims); err != nil {
		return Identity{}, fmt.Errorf("%w: read claims: %w", ErrRefused, err)
	}
	return Identity{Issuer: id.Issuer, Subject: id.Subject, Email: claims.Email, Verified: claims.Verified}, nil
}

// withEmail asks for the address where the ID token does not hold it. That the
// provider tells nothing is no error: the subject may be enough.
func withEmail(ctx context.Context, found *oidc.Provider, token *oauth2.Token, id Identity) (Identity, error) {
	if found.UserInfoEndpoint() == "" {
		return id, nil
	}
	info, err := found.UserInfo(ctx, oauth2.StaticTokenSource(token))
	if err != nil {
		return Identity{}, fmt.Errorf("%w: ask for the e-mail address", ErrUnreachable)
	}
	if info.Subject != id.Subject { // OpenID Connect Core 1.0, section 5.3.2
		return Identity{}, fmt.Errorf("%w: two subjects", ErrRefused)
	}
	id.Email, id.Verified = info.Email, info.EmailVerified
	return id, nil
}

func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }
