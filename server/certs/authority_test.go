package certs_test

import (
	"crypto"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/asn1"
	"encoding/base64"
	"encoding/json"
	"encoding/pem"
	"fmt"
	"math/big"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"
)

// authority signs certificates, and offers them by ACME as RFC 8555 has it,
// with the one challenge of RFC 8737. It does not check the requests'
// signatures: it stands in for an authority whom the server trusts.
type authority struct {
	*httptest.Server
	root *x509.Certificate
	key  crypto.Signer
	// at is where the domain leads.
	at string

	mu     sync.Mutex
	domain string
	proven bool
	issued []byte // PEM chain
	orders int
}

func newAuthority(t *testing.T) *authority {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	a := &authority{key: key}
	template := &x509.Certificate{
		SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "An invented authority"},
		NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour),
		IsCA: true, BasicConstraintsValid: true, KeyUsage: x509.KeyUsageCertSign,
	}
	der, err := x509.CreateCertificate(rand.Reader, template, template, key.Public(), key)
	if err != nil {
		t.Fatal(err)
	}
	if a.root, err = x509.ParseCertificate(der); err != nil {
		t.Fatal(err)
	}
	a.Server = httptest.NewServer(a.routes(t))
	t.Cleanup(a.Server.Close)
	return a
}

// sign makes a certificate for a key and returns the chain as PEM.
func (a *authority) sign(domain string, key crypto.PublicKey, end time.Time) ([]byte, error) {
	template := &x509.Certificate{
		SerialNumber: big.NewInt(time.Now().UnixNano()), Subject: pkix.Name{CommonName: domain}, DNSNames: []string{domain},
		NotBefore: time.Now().Add(-2 * time.Hour), NotAfter: end,
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
	}
	der, err := x509.CreateCertificate(rand.Reader, template, a.root, key, a.key)
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), err
}

// files writes a pair that ends at a time.
func (a *authority) files(t *testing.T, dir, domain string, end time.Time) (cert, key string) {
	t.Helper()
	pair, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	chain, err := a.sign(domain, pair.Public(), end)
	if err != nil {
		t.Fatal(err)
	}
	der, err := x509.MarshalPKCS8PrivateKey(pair)
	if err != nil {
		t.Fatal(err)
	}
	cert, key = filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	write(t, cert, chain)
	write(t, key, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: der}))
	return cert, key
}

func write(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// client trusts the authority and takes the domain to be at the address.
func (a *authority) client(domain string) *tls.Config {
	roots := x509.NewCertPool()
	roots.AddCert(a.root)
	return &tls.Config{ServerName: domain, RootCAs: roots}
}

func (a *authority) routes(t *testing.T) http.Handler {
	mux := http.NewServeMux()
	say := func(path string, status int, answer func(payload []byte) any) {
		mux.HandleFunc(path, func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Replay-Nonce", rand.Text())
			w.Header().Set("Location", a.URL+path+"/1")
			body := answer(payloadOf(r))
			if chain, ok := body.([]byte); ok {
				_, _ = w.Write(chain)
				return
			}
			w.WriteHeader(status)
			if err := json.NewEncoder(w).Encode(body); err != nil {
				t.Error(err)
			}
		})
	}
	type object = map[string]any
	say("/directory", 200, func([]byte) any {
		return object{"newNonce": a.URL + "/nonce", "newAccount": a.URL + "/account", "newOrder": a.URL + "/order"}
	})
	say("/nonce", 200, func([]byte) any { return object{} })
	say("/account", 201, func([]byte) any { return object{"status": "valid"} })
	say("/order", 201, func(p []byte) any {
		var in struct{ Identifiers []struct{ Value string } }
		if err := json.Unmarshal(p, &in); err != nil || len(in.Identifiers) != 1 {
			t.Errorf("order %s: %v", p, err)
			return object{}
		}
		a.begin(in.Identifiers[0].Value)
		return a.order()
	})
	say("/order/1", 200, func([]byte) any { return a.order() })
	say("/authz", 200, func([]byte) any { return a.authz() })
	say("/challenge", 200, func([]byte) any {
		if err := a.prove(); err != nil {
			t.Error(err)
		}
		return a.authz()["challenges"].([]object)[0]
	})
	say("/finalize", 200, func(p []byte) any {
		if err := a.issue(p); err != nil {
			t.Error(err)
		}
		return a.order()
	})
	say("/certificate", 200, func([]byte) any { return a.chain() })
	return mux
}

// payloadOf takes a request's payload out of its JWS.
func payloadOf(r *http.Request) []byte {
	var jws struct{ Payload string }
	if json.NewDecoder(r.Body).Decode(&jws) != nil {
		return nil
	}
	payload, _ := base64.RawURLEncoding.DecodeString(jws.Payload)
	return payload
}

func (a *authority) begin(domain string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.domain, a.proven, a.issued = domain, false, nil
	a.orders++
}

func (a *authority) order() map[string]any {
	a.mu.Lock()
	defer a.mu.Unlock()
	status := "pending"
	switch {
	case a.issued != nil:
		status = "valid"
	case a.proven:
		status = "ready"
	}
	return map[string]any{
		"status": status, "authorizations": []string{a.URL + "/authz"}, "finalize": a.URL + "/finalize", "certificate": a.URL + "/certificate",
		"identifiers": []map[string]any{{"type": "dns", "value": a.domain}},
	}
}

func (a *authority) authz() map[string]any {
	a.mu.Lock()
	defer a.mu.Unlock()
	status := "pending"
	if a.proven {
		status = "valid"
	}
	return map[string]any{
		"status": status, "identifier": map[string]any{"type": "dns", "value": a.domain},
		"challenges": []map[string]any{{"type": "tls-alpn-01", "url": a.URL + "/challenge", "token": "token", "status": status}},
	}
}

// prove asks the domain as RFC 8737 section 3 says.
func (a *authority) prove() error {
	a.mu.Lock()
	domain := a.domain
	a.mu.Unlock()
	conn, err := tls.Dial("tcp", a.at, &tls.Config{ServerName: domain, NextProtos: []string{"acme-tls/1"}, InsecureSkipVerify: true})
	if err != nil {
		return fmt.Errorf("challenge %s: %w", domain, err)
	}
	defer conn.Close()
	leaf := conn.ConnectionState().PeerCertificates[0]
	marked := slices.ContainsFunc(leaf.Extensions, func(e pkix.Extension) bool {
		return e.Critical && e.Id.Equal(asn1.ObjectIdentifier{1, 3, 6, 1, 5, 5, 7, 1, 31})
	})
	if !marked || !slices.Equal(leaf.DNSNames, []string{domain}) || conn.ConnectionState().NegotiatedProtocol != "acme-tls/1" {
		return fmt.Errorf("challenge %s: answered with a certificate for %v", domain, leaf.DNSNames)
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	a.proven = true
	return nil
}

func (a *authority) issue(payload []byte) error {
	var in struct{ CSR string }
	if err := json.Unmarshal(payload, &in); err != nil {
		return err
	}
	der, err := base64.RawURLEncoding.DecodeString(in.CSR)
	if err != nil {
		return err
	}
	request, err := x509.ParseCertificateRequest(der)
	if err != nil {
		return err
	}
	chain, err := a.sign(request.DNSNames[0], request.PublicKey, time.Now().Add(90*24*time.Hour))
	a.mu.Lock()
	defer a.mu.Unlock()
	a.issued = chain
	return err
}

func (a *authority) chain() []byte {
	a.mu.Lock()
	defer a.mu.Unlock()
	return a.issued
}
