package seal

import (
	"bytes"
	"crypto/ecdh"
	"crypto/hkdf"
	"crypto/hpke"
	"crypto/rand"
	"crypto/sha256"
	"crypto/x509"
	"encoding/base64"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"doorsill/internal/folder"
)

// KeyFile is the name of the organisation's key within the data folder.
const KeyFile = "organisation.key"

// ErrKey is wrapped by every error about a key that can not be used.
var ErrKey = errors.New("not an organisation key")

const pemType = "PRIVATE KEY"

// Key is the organisation's key pair, with those of before it.
type Key struct {
	pair    *ecdh.PrivateKey
	private hpke.PrivateKey
	// earlier are the keys that this one took the place of, newest first. They
	// open what was sealed to them, and nothing is sealed to them any more.
	earlier []*Key
}

// NewKey makes a key pair.
func NewKey() (*Key, error) {
	pair, err := ecdh.P256().GenerateKey(rand.Reader)
	if err != nil {
		return nil, fmt.Errorf("make organisation key: %w", err)
	}
	return keyOf(pair)
}

// ParseKey reads a key from PEM with PKCS #8 inside; keys of before follow in the
// same form, newest first. The error wraps ErrKey.
func ParseKey(data []byte) (*Key, error) {
	var all []*Key
	for len(all) == 0 || len(bytes.TrimSpace(data)) > 0 {
		var block *pem.Block
		if block, data = pem.Decode(data); block == nil || block.Type != pemType {
			return nil, fmt.Errorf("read organisation key %d of the file: expected PEM of type %s: %w", len(all)+1, pemType, ErrKey)
		}
		one, err := parsePKCS8(block.Bytes)
		if err != nil {
			return nil, err
		}
		all = append(all, one)
	}
	all[0].earlier = all[1:]
	return all[0], nil
}

func parsePKCS8(der []byte) (*Key, error) {
	any, err := x509.ParsePKCS8PrivateKey(der)
	if err != nil {
		return nil, fmt.Errorf("read organisation key: %w: %w", err, ErrKey)
	}
	signing, ok := any.(interface {
		ECDH() (*ecdh.PrivateKey, error)
	})
	if !ok {
		return nil, fmt.Errorf("read organisation key: expected a key on the curve P-256: %w", ErrKey)
	}
	pair, err := signing.ECDH()
	if err != nil || pair.Curve() != ecdh.P256() {
		return nil, fmt.Errorf("read organisation key: expected a key on the curve P-256: %w", ErrKey)
	}
	// Any number is some private half: a changed bit would make another key of it,
	// which opens nothing that was sealed before.
	if !bytes.Contains(der, pair.PublicKey().Bytes()) {
		return nil, fmt.Errorf("read organisation key: expected two halves of one key: %w", ErrKey)
	}
	return keyOf(pair)
}

func keyOf(pair *ecdh.PrivateKey) (*Key, error) {
	private, err := hpke.NewDHKEMPrivateKey(pair)
	if err != nil {
		return nil, fmt.Errorf("use organisation key: %w: %w", err, ErrKey)
	}
	return &Key{pair: pair, private: private}, nil
}

// PEM writes the key pair down, secret and all, and then those of before.
func (k *Key) PEM() ([]byte, error) {
	var text []byte
	for _, one := range append([]*Key{k}, k.earlier...) {
		der, err := x509.MarshalPKCS8PrivateKey(one.pair)
		if err != nil {
			return nil, fmt.Errorf("write organisation key: %w", err)
		}
		text = append(text, pem.EncodeToMemory(&pem.Block{Type: pemType, Bytes: der})...)
	}
	return text, nil
}

// Public is the public half: the uncompressed point in base64.
func (k *Key) Public() string {
	return base64.StdEncoding.EncodeToString(k.pair.PublicKey().Bytes())
}

// ID names the key: the first 16 hex digits of its public half's SHA-256.
func (k *Key) ID() string { return idOf(k.pair.PublicKey()) }

// Earlier names the keys of before, newest first.
func (k *Key) Earlier() (ids []string) {
	for _, one := range k.earlier {
		ids = append(ids, one.ID())
	}
	return ids
}

// named returns the key with an id, this one or one of before; nil when there is
// none.
func (k *Key) named(id string) *Key {
	for _, one := range append([]*Key{k}, k.earlier...) {
		if one.ID() == id {
			return one
		}
	}
	return nil
}

func idOf(public *ecdh.PublicKey) string {
	sum := sha256.Sum256(public.Bytes())
	return hex.EncodeToString(sum[:8])
}

// Secrets makes secrets for one purpose from the private halves, by HKDF-SHA-256
// (RFC 5869): that of this key, then those of the keys before it, newest first.
// Whoever has them learns nothing of the keys.
func (k *Key) Secrets(purpose string) (secrets [][]byte, err error) {
	for _, one := range append([]*Key{k}, k.earlier...) {
		secret, err := hkdf.Key(sha256.New, one.pair.Bytes(), nil, purpose, sha256.Size)
		if err != nil {
			return nil, fmt.Errorf("derive a secret for %s: %w", purpose, err)
		}
		secrets = append(secrets, secret)
	}
	return secrets, nil
}

// ReadKey reads the key of a data folder. The error wraps fs.ErrNotExist when
// there is none, and ErrKey when what is there is not a key.
func ReadKey(folder string) (*Key, error) {
	data, err := os.ReadFile(filepath.Join(folder, KeyFile))
	if err != nil {
		return nil, fmt.Errorf("read organisation key: %w", err)
	}
	return ParseKey(data)
}

// KeyOf reads the key of a data folder and makes one where there is none. A
// key that is there is never replaced, not even a damaged one: boxes that were
// sealed to it would be lost for good.
func KeyOf(folder string) (*Key, error) {
	key, err := ReadKey(folder)
	if !errors.Is(err, fs.ErrNotExist) {
		return key, err
	}
	key, err = NewKey()
	if err != nil {
		return nil, err
	}
	text, err := key.PEM()
	if err != nil {
		return nil, err
	}
	err = putOnce(filepath.Join(folder, KeyFile), text)
	if errors.Is(err, fs.ErrExist) {
		return ReadKey(folder) // somebody else was quicker
	}
	if err != nil {
		return nil, fmt.Errorf("keep organisation key: %w", err)
	}
	return key, nil
}

// Rotate puts a new key in the place of a data folder's, which is kept to open
// what was sealed to it. The file is replaced whole: a power cut leaves the one
// or the other. It returns the new key.
func Rotate(folder string) (*Key, error) {
	before, err := ReadKey(folder)
	if err != nil {
		return nil, err
	}
	key, err := NewKey()
	if err != nil {
		return nil, err
	}
	key.earlier = append([]*Key{before}, before.earlier...)
	before.earlier = nil
	text, err := key.PEM()
	if err == nil {
		err = put(filepath.Join(folder, KeyFile), text, os.Rename)
	}
	if err != nil {
		return nil, fmt.Errorf("rotate organisation key: %w", err)
	}
	return key, nil
}

// putOnce writes a file whole and durable, or not at all; it never replaces one.
func putOnce(path string, data []byte) error { return put(path, data, os.Link) }

// put writes a file whole and durable, or not at all. name gives what was written
// its name.
func put(path string, data []byte, name func(written, path string) error) error {
	file, err := os.CreateTemp(filepath.Dir(path), KeyFile+".*") // made with mode 0600
	if err != nil {
		return err
	}
	defer os.Remove(file.Name())
	_, err = file.Write(data)
	if err = errors.Join(err, file.Sync(), file.Close()); err != nil {
		return err
	}
	if err := name(file.Name(), path); err != nil {
		return err
	}
	return folder.Sync(filepath.Dir(path))
}
