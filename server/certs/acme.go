package certs

import (
	"crypto/tls"

	"golang.org/x/crypto/acme"
	"golang.org/x/crypto/acme/autocert"
)

// ACME says how certificates are asked for.
type ACME struct {
	// Domain is the one name that certificates are asked for; a handshake for
	// any other is refused, or an outsider could use up the authority's
	// patience.
	Domain string
	// Cache is the folder that keeps the account's and the certificate's keys;
	// it is made with mode 0700.
	Cache string
	// Directory is the authority's address; empty takes Let's Encrypt's.
	Directory string
}

// Config asks for the certificate with the first handshake, keeps it in the
// cache and renews it before it runs out. The authority must reach the server
// on port 443 of the domain (challenge tls-alpn-01, RFC 8737).
func (a ACME) Config() *tls.Config {
	m := &autocert.Manager{
		Prompt: autocert.AcceptTOS, HostPolicy: autocert.HostWhitelist(a.Domain), Cache: autocert.DirCache(a.Cache),
	}
	if a.Directory != "" {
		m.Client = &acme.Client{DirectoryURL: a.Directory}
	}
	c := config()
	c.GetCertificate = m.GetCertificate
	c.NextProtos = append(c.NextProtos, acme.ALPNProto)
	return c
}
