package tablettest

import (
	"crypto/ecdsa"
	"crypto/ed25519"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"fmt"

	"doorsill/internal/signing"
	"doorsill/internal/store"
)

// Signer is a tablet's key pair.
type Signer struct {
	signing.Key
	edwards ed25519.PrivateKey
	curve   *ecdsa.PrivateKey
}

// NewSigner makes a key pair of Ed25519; one seed gives always the same.
func NewSigner(seed string) *Signer {
	bytes := sha256.Sum256([]byte(seed))
	return SignerOf(bytes[:])
}

// SignerOf is the key pair of Ed25519 of a private key as RFC 8032 writes it.
func SignerOf(private []byte) *Signer {
	key := ed25519.NewKeyFromSeed(private)
	public := key.Public().(ed25519.PublicKey)
	return &Signer{Key: signing.Key{Algorithm: signing.Ed25519, Public: base64.StdEncoding.EncodeToString(public)}, edwards: key}
}

// CurveSignerOf is the key pair of ES256 of a private key on P-256.
func CurveSignerOf(private []byte) *Signer {
	key, err := ecdsa.ParseRawPrivateKey(elliptic.P256(), private)
	if err != nil {
		panic(fmt.Sprintf("tablettest: read private key: %v", err))
	}
	point, err := key.PublicKey.Bytes()
	if err != nil {
		panic(fmt.Sprintf("tablettest: write public key: %v", err))
	}
	return &Signer{Key: signing.Key{Algorithm: signing.ES256, Public: base64.StdEncoding.EncodeToString(point)}, curve: key}
}

// Sign signs a statement; the signature is base64.
func (s *Signer) Sign(statement []byte) string {
	if s.edwards != nil {
		return base64.StdEncoding.EncodeToString(ed25519.Sign(s.edwards, statement))
	}
	sum := sha256.Sum256(statement)
	r, t, err := ecdsa.Sign(rand.Reader, s.curve, sum[:])
	if err != nil {
		panic(fmt.Sprintf("tablettest: sign: %v", err))
	}
	var made [64]byte
	r.FillBytes(made[:32])
	t.FillBytes(made[32:])
	return base64.StdEncoding.EncodeToString(made[:])
}

// Registered is the key as the store has it.
func (s *Signer) Registered() *store.TabletKey {
	return &store.TabletKey{Algorithm: s.Algorithm, Public: s.Public, At: "2026-03-01T08:00:00.000Z"}
}
