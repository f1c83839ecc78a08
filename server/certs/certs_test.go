package certs_test

import (
	"crypto/tls"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"doorsill/server/certs"
)

const domain = "doorsill.example"

// listen answers handshakes until the test ends.
func listen(t *testing.T, c *tls.Config) string {
	t.Helper()
	l, err := tls.Listen("tcp", "127.0.0.1:0", c)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = l.Close() })
	go func() {
		for {
			conn, err := l.Accept()
			if err != nil {
				return
			}
			go func() {
				_ = conn.(*tls.Conn).Handshake() // the client's side says what went wrong
				_ = conn.Close()
			}()
		}
	}()
	return l.Addr().String()
}

// shown is the certificate that a new handshake gets.
func shown(t *testing.T, address string, c *tls.Config) (serial string, err error) {
	t.Helper()
	dialer := tls.Dialer{NetDialer: &net.Dialer{Timeout: 10 * time.Second}, Config: c}
	conn, err := dialer.DialContext(t.Context(), "tcp", address)
	if err != nil {
		return "", err
	}
	defer conn.Close()
	return conn.(*tls.Conn).ConnectionState().PeerCertificates[0].SerialNumber.String(), nil
}

func TestNewHandshakesGetTheNewCertificate(t *testing.T) {
	a, dir := newAuthority(t), t.TempDir()
	end := time.Now().Add(48 * time.Hour)
	cert, key := a.files(t, dir, domain, end)
	files, err := certs.LoadFiles(cert, key, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	address := listen(t, files.Config())
	first, err := shown(t, address, a.client(domain))
	if err != nil {
		t.Fatal(err)
	}
	write(t, cert, []byte("half a fi"))
	if err := files.Reload(); err == nil || !strings.Contains(err.Error(), cert) {
		t.Errorf("a broken file: %v", err)
	}
	a.files(t, dir, domain, time.Now().Add(-time.Hour))
	if err := files.Reload(); err == nil || !strings.Contains(err.Error(), "ran out") {
		t.Errorf("a certificate of the past: %v", err)
	}
	if err := os.Remove(key); err != nil {
		t.Fatal(err)
	}
	if err := files.Reload(); err == nil || !strings.Contains(err.Error(), key) {
		t.Errorf("without a key: %v", err)
	}
	if now, err := shown(t, address, a.client(domain)); err != nil || now != first {
		t.Errorf("after three broken files: certificate %s (%v), want the one from before, %s", now, err, first)
	}
	a.files(t, dir, domain, end)
	if err := files.Reload(); err != nil {
		t.Fatal(err)
	}
	if now, err := shown(t, address, a.client(domain)); err != nil || now == first {
		t.Errorf("after a good file: certificate %s (%v), want a new one", now, err)
	}
	if left := time.Until(files.Ends()); left < 47*time.Hour {
		t.Errorf("the certificate in use ends in %v", left)
	}
}

func TestAPairThatDoesNotFitIsNamed(t *testing.T) {
	a := newAuthority(t)
	cert, _ := a.files(t, t.TempDir(), domain, time.Now().Add(time.Hour))
	_, key := a.files(t, t.TempDir(), domain, time.Now().Add(time.Hour))
	if _, err := certs.LoadFiles(cert, key, time.Now); err == nil || !strings.Contains(err.Error(), key) {
		t.Errorf("another pair's key: %v", err)
	}
}

func TestOldVersionsOfTLSAreRefused(t *testing.T) {
	a := newAuthority(t)
	cert, key := a.files(t, t.TempDir(), domain, time.Now().Add(time.Hour))
	files, err := certs.LoadFiles(cert, key, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	address, client := listen(t, files.Config()), a.client(domain)
	client.MinVersion, client.MaxVersion = tls.VersionTLS10, tls.VersionTLS11
	if _, err := shown(t, address, client); err == nil {
		t.Error("a handshake of TLS 1.1 went through")
	}
}

// TestACertificateIsFetchedOnce runs the whole way of RFC 8555 against an
// authority in this process: account, order, tls-alpn-01, signing, download.
func TestACertificateIsFetchedOnce(t *testing.T) {
	a, cache := newAuthority(t), filepath.Join(t.TempDir(), "acme")
	way := certs.ACME{Domain: domain, Cache: cache, Directory: a.URL + "/directory"}
	a.at = listen(t, way.Config())
	first, err := shown(t, a.at, a.client(domain))
	if err != nil {
		t.Fatal(err)
	}
	// After a restart the cache is enough.
	a.at = listen(t, way.Config())
	if again, err := shown(t, a.at, a.client(domain)); err != nil || again != first {
		t.Errorf("after a restart: certificate %s (%v), want %s", again, err, first)
	}
	if _, err := shown(t, a.at, a.client("elsewhere.example")); err == nil {
		t.Error("a certificate for a name that is not ours")
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.orders != 1 {
		t.Errorf("%d orders, want 1", a.orders)
	}
	if info, err := os.Stat(cache); err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("the cache: %v, %v", info.Mode(), err)
	}
}
