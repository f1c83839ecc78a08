package main

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"time"

	"doorsill/server/provider"
)

// oidcOptions say at which OpenID provider people can sign in besides with
// their password.
type oidcOptions struct {
	issuer, clientID, secretFile, publicURL string
}

// options defines the options; the environment gives their defaults, where a
// service is set up by its environment.
func (o *oidcOptions) options(flags *flag.FlagSet) {
	flags.StringVar(&o.issuer, "oidc-issuer", os.Getenv("DOORSILL_OIDC_ISSUER"), "let people sign in at the OpenID provider at `URL`, too ($DOORSILL_OIDC_ISSUER)")
	flags.StringVar(&o.clientID, "oidc-client-id", os.Getenv("DOORSILL_OIDC_CLIENT_ID"), "this service's `ID` at the provider ($DOORSILL_OIDC_CLIENT_ID)")
	flags.StringVar(&o.secretFile, "oidc-secret-file", os.Getenv("DOORSILL_OIDC_SECRET_FILE"), "its secret there, in `FILE`, which is read at each sign-in ($DOORSILL_OIDC_SECRET_FILE)")
	flags.StringVar(&o.publicURL, "public-url", os.Getenv("DOORSILL_PUBLIC_URL"), "the `URL` that people open; the provider sends them back to URL/api/v1/oidc/return ($DOORSILL_PUBLIC_URL)")
}

// provider returns the provider, or nil when none was named.
func (o oidcOptions) provider() (*provider.Provider, error) {
	if o.issuer == "" && o.clientID == "" && o.secretFile == "" {
		return nil, nil
	}
	if o.issuer == "" || o.clientID == "" || o.secretFile == "" || o.publicURL == "" {
		return nil, &usageError{"--oidc-issuer, --oidc-client-id, --oidc-secret-file and --public-url belong together", "give all four or none"}
	}
	if _, err := o.secret(); err != nil {
		return nil, err
	}
	p, err := provider.New(provider.Options{
		Issuer: o.issuer, ClientID: o.clientID, Secret: o.secret,
		Return: strings.TrimSuffix(o.publicURL, "/") + "/api/v1/oidc/return", Now: time.Now,
	})
	if err != nil {
		return nil, &usageError{"the sign-in provider can not be used: " + err.Error(), "see --oidc-issuer, --oidc-client-id, --oidc-secret-file and --public-url"}
	}
	return p, nil
}

// secret reads the file anew each time.
func (o oidcOptions) secret() (string, error) {
	secret, err := os.ReadFile(o.secretFile)
	if err != nil {
		return "", fmt.Errorf("read secret of the sign-in provider: %w", err)
	}
	return strings.TrimSpace(string(secret)), nil
}
