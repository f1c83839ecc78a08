package signing

import (
	"crypto/ecdsa"
	"crypto/ed25519"
	"crypto/elliptic"
	"crypto/sha256"
	"encoding/base64"
	"math/big"

	"doorsill/internal/validation"
)

// Algorithms of a key, by their names in JOSE (RFC 9864, RFC 7518).
const (
	Ed25519 = "Ed25519"
	ES256   = "ES256"
)

const (
	pointSize     = 65 // an uncompressed point on P-256
	signatureSize = 64 // of either algorithm; that of ECDSA is r and s, 32 bytes each
)

// Key is the public half of a tablet's key pair. The zero Key is none and
// verifies nothing.
type Key struct {
	Algorithm string `json:"algorithm"`
	// Public is base64: the 32 bytes of RFC 8032, or the uncompressed point.
	Public string `json:"public"`
}

// Check says whether the key can be used; the error names the field "algorithm" or
// "public".
func (k Key) Check() *validation.Error {
	raw, exact := decode(k.Public)
	switch {
	case k.Algorithm != Ed25519 && k.Algorithm != ES256:
		return validation.Invalid("algorithm", Ed25519+" or "+ES256)
	case !exact, k.Algorithm == Ed25519 && len(raw) != ed25519.PublicKeySize, k.Algorithm == ES256 && pointOf(raw) == nil:
		return validation.Invalid("public", "the public key in base64: 32 bytes of Ed25519, or an uncompressed point on P-256")
	case k.Algorithm == Ed25519 && !hasSecret(raw):
		return validation.Invalid("public", "a key that has a private half")
	}
	return nil
}

// Verify says whether a signature, in base64, is this key's over a statement.
func (k Key) Verify(statement []byte, signature string) bool {
	made, exact := decode(signature)
	if !exact || len(made) != signatureSize || k.Check() != nil {
		return false
	}
	raw, _ := decode(k.Public)
	if k.Algorithm == Ed25519 {
		return ed25519.Verify(raw, statement, made)
	}
	sum := sha256.Sum256(statement)
	return ecdsa.Verify(pointOf(raw), sum[:], new(big.Int).SetBytes(made[:32]), new(big.Int).SetBytes(made[32:]))
}

// pointOf reads an uncompressed point, nil where it is none on the curve.
func pointOf(raw []byte) *ecdsa.PublicKey {
	if len(raw) != pointSize {
		return nil
	}
	key, err := ecdsa.ParseUncompressedPublicKey(elliptic.P256(), raw)
	if err != nil {
		return nil
	}
	return key
}

// decode reads base64 and says whether it is written in the one way that counts:
// without line breaks, which could make one statement look like another.
func decode(text string) ([]byte, bool) {
	raw, err := base64.StdEncoding.DecodeString(text)
	return raw, err == nil && base64.StdEncoding.EncodeToString(raw) == text
}
