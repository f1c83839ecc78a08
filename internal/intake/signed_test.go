package intake_test

import (
	"bytes"
	"context"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"strings"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/signing"
	"doorsill/internal/store"
	"doorsill/internal/store/storetest"
	"doorsill/internal/tablettest"
)

// keyed gives a tablet a key.
func (t *tablet) keyed(seed string) *tablettest.Signer {
	t.Helper()
	signer := tablettest.NewSigner(seed)
	t.update(func(w store.Writer) error {
		known, err := w.Tablet(t.id)
		known.Key = signer.Registered()
		return errors.Join(err, w.SetTablet(known))
	})
	return signer
}

// signedAs is the signature over the first line of a push.
func signedAs(signer *tablettest.Signer, body *bytes.Buffer) string {
	first, _, _ := bytes.Cut(body.Bytes(), []byte{'\n'})
	return signer.Sign(signing.PushStatement(first))
}

// TestPushesOfAnotherKeyAreRefused: once a tablet has a key, nothing counts in its
// name but what that key signed. Nothing of what is refused is taken in.
func TestPushesOfAnotherKeyAreRefused(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	signer := marit.keyed("marit")
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	body := func(change ...func(*intake.Header)) *bytes.Buffer {
		return pushOf("", "tab-m", 3, marit.lines[2:], change...)
	}
	good := signedAs(signer, body())
	for _, c := range []struct {
		name, signature string
		body            *bytes.Buffer
		code            string
	}{
		{"unsigned", "", body(), intake.CodeNoSignature},
		{"by another key", signedAs(tablettest.NewSigner("somebody"), body()), body(), intake.CodeSignature},
		{"no base64", "*", body(), intake.CodeSignature},
		{"over another first line", good, body(func(head *intake.Header) { head.At = "2026-03-02T10:00:00Z" }), intake.CodeSignature},
		{"what was here already, unsigned", "", pushOf("", "tab-m", 1, marit.lines[:2]), intake.CodeNoSignature},
		{"as it must be", good, body(), ""},
		{"again", good, body(), ""},
	} {
		answer, err := h.intake.PushSigned(context.Background(), caller("marit"), c.body, c.signature)
		var refused *intake.PushError
		switch errors.As(err, &refused) {
		case true:
			if refused.Code != c.code {
				t.Errorf("%s: %s, want %q", c.name, refused.Code, c.code)
			}
		case false:
			if err != nil || c.code != "" || answer.Ack != 3 {
				t.Errorf("%s: %v, receipt %d; want %q", c.name, err, answer.Ack, c.code)
			}
		}
	}
	h.view(func(r store.Reader) error {
		if head := storetest.Head(t, r); head != 3 {
			t.Errorf("%d entries, want 3", head)
		}
		return nil
	})
	if kept := h.quarantine(store.QuarantineFilter{}); len(kept) != 0 {
		t.Errorf("%d set aside", len(kept))
	}
}

// TestTabletsWithoutAKeyUntilADay: they are taken until then, and not from then
// on.
func TestTabletsWithoutAKeyUntilADay(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	h.intake.UnsignedUntil(h.now().Add(time.Hour))
	for _, c := range []struct {
		minutes int64
		code    string
	}{{59, ""}, {60, "unsigned tablet"}} {
		h.minutes.Store(c.minutes)
		marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
		at := int64(len(marit.lines))
		if _, code := h.pushed(pushOf("", "tab-m", at, marit.lines[at-1:])); code != c.code {
			t.Errorf("after %d minutes: %q, want %q", c.minutes, code, c.code)
		}
	}
}

// TestANameThatIsAnotherPersonsIsNotTakenOnAgain: after a restore a marked name is
// taken on for its person alone; one of an earlier version for who comes first.
func TestANameThatIsAnotherPersonsIsNotTakenOnAgain(t *testing.T) {
	names := account.NewTabletNames([]byte("a secret"))
	random := strings.Repeat("ab", 16)
	mac := hmac.New(sha256.New, []byte("a secret"))
	mac.Write([]byte(random + "\nmarit"))
	marked := random + hex.EncodeToString(mac.Sum(nil)[:16])
	for _, c := range []struct{ person, id, code string }{
		{"davit", marked, "tablet tablet"},
		{"marit", marked, ""},
		{"davit", random, ""},
		{"marit", marked[:62], "tablet tablet"},
	} {
		h := newService(t)
		h.intake.KnowNames(names)
		on := &tablet{service: h, id: c.id, person: c.person}
		on.openClient("c1", "north")
		_, err := h.intake.Push(context.Background(), caller(c.person), pushOf(h.logID(), c.id, 1, on.lines))
		var refused *intake.PushError
		code := ""
		if errors.As(err, &refused) {
			code = refused.Code + " " + refused.Field
		} else if err != nil {
			t.Fatal(err)
		}
		if code != c.code {
			t.Errorf("%s as %s: %q, want %q", c.id, c.person, code, c.code)
		}
	}
}
