// Package certs gives the server its certificates: from files that can be
// replaced while it runs, or from a certificate authority by ACME (RFC 8555).
package certs

import (
	"crypto/tls"
	"fmt"
	"sync/atomic"
	"time"
)

// config is what both ways share: nothing older than TLS 1.2, whose suites Go
// chooses, and HTTP/2 where the browser has it.
func config() *tls.Config {
	return &tls.Config{MinVersion: tls.VersionTLS12, NextProtos: []string{"h2", "http/1.1"}}
}

// Files is a certificate chain and its key in two PEM files.
type Files struct {
	cert, key string
	now       func() time.Time
	current   atomic.Pointer[tls.Certificate]
}

// LoadFiles reads the pair. The error names the files and what is wrong.
func LoadFiles(cert, key string, now func() time.Time) (*Files, error) {
	f := &Files{cert: cert, key: key, now: now}
	pair, err := f.read()
	if err != nil {
		return nil, err
	}
	f.current.Store(pair)
	return f, nil
}

func (f *Files) read() (*tls.Certificate, error) {
	pair, err := tls.LoadX509KeyPair(f.cert, f.key)
	if err != nil {
		return nil, fmt.Errorf("read certificate %s with key %s: %w", f.cert, f.key, err)
	}
	return &pair, nil
}

// Reload reads the pair again, for handshakes from now on. When it returns an
// error the certificate from before stays: a half-copied file must not take the
// service down, and neither must one that has run out.
func (f *Files) Reload() error {
	pair, err := f.read()
	if err != nil {
		return err
	}
	if end := pair.Leaf.NotAfter; end.Before(f.now()) {
		return fmt.Errorf("read certificate %s: it ran out on %s", f.cert, end.UTC().Format(time.DateOnly))
	}
	f.current.Store(pair)
	return nil
}

// Ends is when the certificate in use runs out.
func (f *Files) Ends() time.Time { return f.current.Load().Leaf.NotAfter }

// Config answers each handshake with the certificate of that moment.
func (f *Files) Config() *tls.Config {
	c := config()
	c.GetCertificate = func(*tls.ClientHelloInfo) (*tls.Certificate, error) { return f.current.Load(), nil }
	return c
}
