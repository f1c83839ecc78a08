package seal

import (
	"bytes"
	"crypto/ecdh"
	"crypto/hpke"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"

	"doorsill/internal/exactjson"
	"doorsill/internal/signing"
)

// Format names the envelope and binds every box to it.
const Format = "doorsill-sealed/1"

// MostEvents is how many entries one envelope may hold.
const MostEvents = 1_000

// ErrEnvelope is wrapped by every error about an envelope that can not be read.
var ErrEnvelope = errors.New("not a sealed envelope")

// ErrOtherKey is wrapped when an envelope was sealed to another key.
var ErrOtherKey = errors.New("sealed to another organisation key")

// Header says whose entries are in the box. All of it is bound to the box: a
// changed header does not open.
type Header struct {
	Format string `json:"format"`
	// Key is the id of the organisation's key.
	Key    string `json:"key"`
	Tablet string `json:"tablet"`
	Person string `json:"person"`
	// From and To are the numbers of the first and the last entry.
	From int64 `json:"from"`
	To   int64 `json:"to"`
}

// Envelope is a header with its box. Enc and Sealed are base64.
type Envelope struct {
	Header
	Enc    string `json:"enc"`
	Sealed string `json:"sealed"`
	// Signature is the tablet's over Statement, in base64; empty where the tablet
	// had no key.
	Signature string `json:"signature,omitempty"`
}

// Statement is what the tablet signs of the envelope. The box is signed rather
// than what is in it, so that nobody can try guesses at that on the signature.
func (e Envelope) Statement() []byte { return signing.EnvelopeStatement(e.bound(), e.Enc, e.Sealed) }

// bound is what the box is bound to; the browser writes the same bytes.
func (h Header) bound() []byte {
	return fmt.Appendf(nil, "%s\n%s\n%s\n%s\n%d\n%d", h.Format, h.Key, h.Tablet, h.Person, h.From, h.To)
}

// Parse reads one envelope. The error wraps ErrEnvelope and names the field.
func Parse(line []byte) (Envelope, error) {
	var e Envelope
	if err := exactjson.Decode(line, &e); err != nil {
		return e, fmt.Errorf("read envelope: %w: %w", err, ErrEnvelope)
	}
	return e, e.check()
}

func (e Envelope) check() error {
	wrong := func(field, want string) error {
		return fmt.Errorf("read envelope: %s: expected %s: %w", field, want, ErrEnvelope)
	}
	for field, value := range map[string]string{"key": e.Key, "tablet": e.Tablet, "person": e.Person} {
		if value == "" || len(value) > 64 || strings.ContainsAny(value, "\n\r") {
			return wrong(field, "an id")
		}
	}
	switch {
	case e.Format != Format:
		return wrong("format", Format)
	case e.From < 1:
		return wrong("from", "a number from 1")
	case e.To < e.From || e.To-e.From >= MostEvents:
		return wrong("to", fmt.Sprintf("a number from from, and at most %d entries", MostEvents))
	}
	return nil
}

// Open opens an envelope that was sealed to the key or to one before it. It returns
// the entries' lines as the tablet would have sent them, each with its line end. The
// error wraps ErrOtherKey or ErrEnvelope.
func (k *Key) Open(e Envelope) ([]byte, error) {
	if err := e.check(); err != nil {
		return nil, err
	}
	key := k.named(e.Key)
	if key == nil {
		return nil, fmt.Errorf("open envelope: it names key %s, which is neither %s nor one before it: %w", e.Key, k.ID(), ErrOtherKey)
	}
	enc, err := base64.StdEncoding.DecodeString(e.Enc)
	if err != nil {
		return nil, fmt.Errorf("open envelope: enc: expected base64: %w", ErrEnvelope)
	}
	box, err := base64.StdEncoding.DecodeString(e.Sealed)
	if err != nil {
		return nil, fmt.Errorf("open envelope: sealed: expected base64: %w", ErrEnvelope)
	}
	recipient, err := hpke.NewRecipient(enc, key.private, hpke.HKDFSHA256(), hpke.AES256GCM(), []byte(Format))
	if err != nil {
		return nil, fmt.Errorf("open envelope: enc: %w: %w", err, ErrEnvelope)
	}
	lines, err := recipient.Open(e.bound(), box)
	if err != nil {
		return nil, fmt.Errorf("open envelope: it was changed: %w", ErrEnvelope)
	}
	if got := int64(bytes.Count(lines, []byte{'\n'})); got != e.To-e.From+1 || !bytes.HasSuffix(lines, []byte{'\n'}) {
		return nil, fmt.Errorf("open envelope: expected %d lines, got %d: %w", e.To-e.From+1, got, ErrEnvelope)
	}
	return lines, nil
}

// Seal closes lines into an envelope for a public key as Public gives it. Key
// and format of the header are filled in.
func Seal(public string, h Header, lines []byte) (Envelope, error) {
	raw, err := base64.StdEncoding.DecodeString(public)
	if err != nil {
		return Envelope{}, fmt.Errorf("seal: public key: expected base64: %w", ErrKey)
	}
	point, err := ecdh.P256().NewPublicKey(raw)
	if err != nil {
		return Envelope{}, fmt.Errorf("seal: public key: %w: %w", err, ErrKey)
	}
	to, err := hpke.NewDHKEMPublicKey(point)
	if err != nil {
		return Envelope{}, fmt.Errorf("seal: public key: %w: %w", err, ErrKey)
	}
	h.Format, h.Key = Format, idOf(point)
	enc, sender, err := hpke.NewSender(to, hpke.HKDFSHA256(), hpke.AES256GCM(), []byte(Format))
	if err != nil {
		return Envelope{}, fmt.Errorf("seal: %w", err)
	}
	box, err := sender.Seal(h.bound(), lines)
	if err != nil {
		return Envelope{}, fmt.Errorf("seal: %w", err)
	}
	e := Envelope{Header: h, Enc: base64.StdEncoding.EncodeToString(enc), Sealed: base64.StdEncoding.EncodeToString(box)}
	return e, e.check()
}
