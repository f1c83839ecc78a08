package main

import (
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"io"
	"math/big"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// selfSigned writes a certificate for localhost and its key.
func selfSigned(t *testing.T, dir string, serial int64) (cert, key string) {
	t.Helper()
	pair, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := &x509.Certificate{
		SerialNumber: big.NewInt(serial), Subject: pkix.Name{CommonName: "localhost"}, DNSNames: []string{"localhost"},
		NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour),
	}
	der, err := x509.CreateCertificate(rand.Reader, template, template, pair.Public(), pair)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(pair)
	if err != nil {
		t.Fatal(err)
	}
	cert, key = filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	for path, block := range map[string]*pem.Block{cert: {Type: "CERTIFICATE", Bytes: der}, key: {Type: "PRIVATE KEY", Bytes: secret}} {
		if err := os.WriteFile(path, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return cert, key
}

// askOver sends one request over a new connection and returns the answer and
// the certificate's serial number.
func askOver(t *testing.T, address, path string) (*http.Response, int64) {
	t.Helper()
	client := http.Client{Timeout: 10 * time.Second, Transport: &http.Transport{
		DisableKeepAlives: true, TLSClientConfig: &tls.Config{InsecureSkipVerify: true}, // it is self-signed
	}}
	got, err := client.Get(address + path)
	if err != nil {
		t.Fatal(err)
	}
	if err := got.Body.Close(); err != nil {
		t.Error(err)
	}
	return got, got.TLS.PeerCertificates[0].SerialNumber.Int64()
}

// hangUp tells this process what an operator tells the server after replacing
// the files.
func hangUp(t *testing.T) {
	t.Helper()
	if err := syscall.Kill(os.Getpid(), syscall.SIGHUP); err != nil {
		t.Fatal(err)
	}
}

func TestServeReadsItsCertificateAgain(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	out, log := &screen{hit: make(chan struct{}, 1)}, &screen{hit: make(chan struct{}, 1)}
	dir, ended := t.TempDir(), make(chan int, 1)
	cert, key := selfSigned(t, dir, 1)
	go func() {
		ended <- run(ctx, []string{"serve", "--data", dir, "--addr", "127.0.0.1:0", "--tls-cert", cert, "--tls-key", key}, strings.NewReader(""), out, log)
	}()
	address := out.await(t, `listens on (https://127\.0\.0\.1:\d+)`)
	got, serial := askOver(t, address, "/healthz")
	if got.StatusCode != 200 || serial != 1 || got.Header.Get("Strict-Transport-Security") == "" || got.TLS.Version < tls.VersionTLS12 {
		t.Errorf("over TLS: %d, certificate %d, headers %v", got.StatusCode, serial, got.Header)
	}
	if err := os.WriteFile(cert, []byte("half a fi"), 0o600); err != nil {
		t.Fatal(err)
	}
	hangUp(t)
	why := log.await(t, `"msg":"certificate not read again; the one from before stays","error":"([^"]+)"`)
	if _, serial := askOver(t, address, "/healthz"); serial != 1 || !strings.Contains(why, "cert.pem") {
		t.Errorf("after a broken file: certificate %d, and the log says %q", serial, why)
	}
	selfSigned(t, dir, 2)
	hangUp(t)
	log.await(t, `"msg":"(certificate read again)"`)
	if _, serial := askOver(t, address, "/healthz"); serial != 2 {
		t.Errorf("after a good file: certificate %d", serial)
	}
	cancel()
	if code := <-ended; code != 0 {
		t.Errorf("exit code %d", code)
	}
}

func TestServeNeedsACertificateThatCanBeRead(t *testing.T) {
	var errOut strings.Builder
	dir := t.TempDir()
	code := run(t.Context(), []string{"serve", "--data", dir, "--addr", "127.0.0.1:0", "--tls-cert", filepath.Join(dir, "none.pem"), "--tls-key", filepath.Join(dir, "none.key")}, strings.NewReader(""), io.Discard, &errOut)
	if code != exitFailed || !strings.Contains(errOut.String(), "none.pem") {
		t.Errorf("%d %s", code, errOut.String())
	}
}
