package seal_test

import (
	"bytes"
	"crypto/ecdh"
	"crypto/hpke"
	"encoding/hex"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"doorsill/internal/seal"
)

var folder = filepath.Join("..", "..", "testdata", "seal")

func newKey(t *testing.T) *seal.Key {
	t.Helper()
	key, err := seal.NewKey()
	if err != nil {
		t.Fatal(err)
	}
	return key
}

var header = seal.Header{Tablet: "tablet-1", Person: "person-1", From: 3, To: 4}

const lines = "{\"n\":3}\n{\"n\":4}\n"

func sealed(t *testing.T, key *seal.Key) seal.Envelope {
	t.Helper()
	e, err := seal.Seal(key.Public(), header, []byte(lines))
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func TestOnlyItsKeyOpensAnEnvelope(t *testing.T) {
	key := newKey(t)
	e := sealed(t, key)
	got, err := key.Open(e)
	if err != nil || string(got) != lines {
		t.Fatalf("opened %q, %v", got, err)
	}
	if _, err := newKey(t).Open(e); !errors.Is(err, seal.ErrOtherKey) {
		t.Errorf("another key: %v", err)
	}
	other := newKey(t)
	e.Key = other.ID()
	if _, err := other.Open(e); !errors.Is(err, seal.ErrEnvelope) {
		t.Errorf("another key whose id was put in: %v", err)
	}
}

// TestWhatTheHeaderSaysIsBound changes one field at a time.
func TestWhatTheHeaderSaysIsBound(t *testing.T) {
	key := newKey(t)
	changes := map[string]func(*seal.Envelope){
		"tablet": func(e *seal.Envelope) { e.Tablet = "tablet-2" },
		"person": func(e *seal.Envelope) { e.Person = "person-2" },
		"from":   func(e *seal.Envelope) { e.From, e.To = 2, 3 },
		"to":     func(e *seal.Envelope) { e.To = 5 },
		"format": func(e *seal.Envelope) { e.Format = "doorsill-sealed/2" },
		"box":    func(e *seal.Envelope) { e.Sealed = "AAAA" + e.Sealed[4:] },
		"enc":    func(e *seal.Envelope) { e.Enc = sealed(t, key).Enc },
		"base64": func(e *seal.Envelope) { e.Sealed = "*" },
	}
	for name, change := range changes {
		e := sealed(t, key)
		change(&e)
		if got, err := key.Open(e); !errors.Is(err, seal.ErrEnvelope) {
			t.Errorf("%s: opened %q, %v", name, got, err)
		}
	}
}

func TestParseNamesTheFieldThatIsWrong(t *testing.T) {
	good, err := json.Marshal(sealed(t, newKey(t)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := seal.Parse(good); err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{``, `{}`, `[]`, `{"format":"doorsill-sealed/1","key":"k","tablet":"t","person":"p","from":0,"to":1}`,
		`{"format":"doorsill-sealed/1","key":"k","tablet":"t","person":"p","from":1,"to":1001}`,
		`{"format":"doorsill-sealed/1","key":"k","tablet":"t\n","person":"p","from":1,"to":1}`,
		`{"person":"other",` + string(good[1:]), string(good) + string(good), `{"surprise":1}`} {
		if _, err := seal.Parse([]byte(bad)); !errors.Is(err, seal.ErrEnvelope) {
			t.Errorf("%s: %v", bad, err)
		}
	}
}

func TestAKeyIsMadeOnceAndNeverReplaced(t *testing.T) {
	dir := t.TempDir()
	first, err := seal.KeyOf(dir)
	if err != nil {
		t.Fatal(err)
	}
	second, err := seal.KeyOf(dir)
	if err != nil || second.ID() != first.ID() {
		t.Fatalf("the second start has key %v, %v; expected the first's", second, err)
	}
	info, err := os.Stat(filepath.Join(dir, seal.KeyFile))
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Fatalf("mode %v, %v; expected 0600", info.Mode(), err)
	}
	if left, _ := os.ReadDir(dir); len(left) != 1 {
		t.Errorf("%d files are left in the folder, expected the key alone", len(left))
	}
	path := filepath.Join(dir, seal.KeyFile)
	if err := os.WriteFile(path, []byte("scribble"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := seal.KeyOf(dir); !errors.Is(err, seal.ErrKey) {
		t.Errorf("a damaged key: %v; expected a refusal", err)
	}
	if kept, _ := os.ReadFile(path); string(kept) != "scribble" {
		t.Error("the damaged key was replaced")
	}
}

// TestAChangedBitMakesNoOtherKey: whatever bit of the file a disk changes, what is
// read is the same key or none.
func TestAChangedBitMakesNoOtherKey(t *testing.T) {
	key, err := seal.NewKey()
	if err != nil {
		t.Fatal(err)
	}
	text, err := key.PEM()
	if err != nil {
		t.Fatal(err)
	}
	refused := 0
	for at := range 8 * len(text) {
		changed := bytes.Clone(text)
		changed[at/8] ^= 1 << (at % 8)
		read, err := seal.ParseKey(changed)
		switch {
		case errors.Is(err, seal.ErrKey):
			refused++
		case err != nil || read.ID() != key.ID():
			t.Fatalf("bit %d of the file: %v, %v; want the same key or none", at, read, err)
		}
	}
	if refused < 7*len(text) {
		t.Errorf("%d of %d changes are refused", refused, 8*len(text))
	}
}

// vector is a row of testdata/seal/rfc9180.json, in hex.
type vector struct {
	Name                               string
	AEAD                               uint16
	Info, SkRm, PkRm, Enc, AAD, Pt, Ct string
}

// TestTheLibraryKeepsToTheRFC makes sure that the reference for the browser's
// half is the RFC itself and not one library's idea of it.
func TestTheLibraryKeepsToTheRFC(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(folder, "rfc9180.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Vectors []vector }
	if err := json.Unmarshal(data, &file); err != nil || len(file.Vectors) != 2 {
		t.Fatalf("%d vectors, %v", len(file.Vectors), err)
	}
	for _, v := range file.Vectors {
		private, err := ecdh.P256().NewPrivateKey(unhex(t, v.SkRm))
		if err != nil {
			t.Fatal(err)
		}
		key, err := hpke.NewDHKEMPrivateKey(private)
		if err != nil {
			t.Fatal(err)
		}
		aead, err := hpke.NewAEAD(v.AEAD)
		if err != nil {
			t.Fatal(err)
		}
		recipient, err := hpke.NewRecipient(unhex(t, v.Enc), key, hpke.HKDFSHA256(), aead, unhex(t, v.Info))
		if err != nil {
			t.Fatal(err)
		}
		got, err := recipient.Open(unhex(t, v.AAD), unhex(t, v.Ct))
		if err != nil || hex.EncodeToString(got) != v.Pt {
			t.Errorf("%s: opened %x, %v; expected %s", v.Name, got, err, v.Pt)
		}
	}
}

func unhex(t *testing.T, text string) []byte {
	t.Helper()
	data, err := hex.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestWhatABrowserSealedOpens opens an envelope that the front end's own code
// has sealed, and one that this package has sealed and the front end's tests
// open.
func TestWhatABrowserSealedOpens(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(folder, "shared.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Pem, Lines  string
		Browser, Go json.RawMessage
	}
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	key, err := seal.ParseKey([]byte(file.Pem))
	if err != nil {
		t.Fatal(err)
	}
	for name, raw := range map[string]json.RawMessage{"browser": file.Browser, "go": file.Go} {
		e, err := seal.Parse(raw)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		got, err := key.Open(e)
		if err != nil || string(got) != file.Lines {
			t.Errorf("%s: opened %q, %v; expected %q", name, got, err, file.Lines)
		}
	}
}

// TestKeysAreRotated holds that nothing sealed before is lost, and that a file
// with a key that can not be read is refused rather than shortened.
func TestKeysAreRotated(t *testing.T) {
	dir := t.TempDir()
	first, err := seal.KeyOf(dir)
	if err != nil {
		t.Fatal(err)
	}
	header := seal.Header{Tablet: "tab-a", Person: "marit", From: 1, To: 1}
	old, err := seal.Seal(first.Public(), header, []byte("{}\n"))
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if _, err := seal.Rotate(dir); err != nil {
			t.Fatal(err)
		}
	}
	key, err := seal.ReadKey(dir)
	if err != nil || len(key.Earlier()) != 2 || key.Earlier()[1] != first.ID() || key.ID() == first.ID() {
		t.Fatalf("%v before %s, %v; the first was %s", key.Earlier(), key.ID(), err, first.ID())
	}
	if lines, err := key.Open(old); err != nil || string(lines) != "{}\n" {
		t.Errorf("what was sealed to the first key: %q %v", lines, err)
	}
	made, err := first.Secrets("a purpose")
	now, err2 := key.Secrets("a purpose")
	if err := errors.Join(err, err2); err != nil || len(now) != 3 || !bytes.Equal(now[2], made[0]) || bytes.Equal(now[0], made[0]) {
		t.Errorf("secrets %x, %v; the last was %x", now, err, made)
	}
	if now, err := seal.Seal(key.Public(), header, []byte("{}\n")); err != nil || now.Key != key.ID() {
		t.Errorf("sealed to %s, %v; expected the newest, %s", now.Key, err, key.ID())
	}
	path := filepath.Join(dir, seal.KeyFile)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, %v; expected 0600", info.Mode(), err)
	}
	if left, _ := os.ReadDir(dir); len(left) != 1 {
		t.Errorf("%d files are left in the folder, expected the key alone", len(left))
	}
	for _, cut := range []int{2, 40, len(text) / 2} {
		if _, err := seal.ParseKey(text[:len(text)-cut]); !errors.Is(err, seal.ErrKey) {
			t.Errorf("a file without its last %d bytes: %v", cut, err)
		}
	}
	if err := os.WriteFile(path, []byte("scribble"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := seal.Rotate(dir); !errors.Is(err, seal.ErrKey) {
		t.Errorf("a damaged key was rotated away: %v", err)
	}
}
