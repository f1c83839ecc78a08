package signing_test

import (
	"bytes"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/signing"
	"doorsill/internal/tablettest"
)

// examples are testdata/signing/examples.json, which the tablet's own tests
// replay as well.
type examples struct {
	Check []struct {
		signing.Key
		Private, Message, Signature string // Private and Message in hex
	}
	Examples []struct {
		What string
		signing.Key
		Statement, Signature string
		Fields               struct {
			signing.Key
			Tablet, First               string
			Format, Person, Enc, Sealed string
			OrganisationKey             string `json:"key"`
			From, To                    int64
		}
	}
}

func read(t *testing.T) (e examples) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "signing", "examples.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &e); err != nil {
		t.Fatal(err)
	}
	if len(e.Check) != 4 || len(e.Examples) != 6 {
		t.Fatalf("%d check values, %d examples", len(e.Check), len(e.Examples))
	}
	return e
}

func unhex(t *testing.T, text string) []byte {
	t.Helper()
	data, err := hex.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestThePublishedValues are those of RFC 8032, section 7.1, and of RFC 6979,
// appendix A.2.5.
func TestThePublishedValues(t *testing.T) {
	for i, c := range read(t).Check {
		private, message := unhex(t, c.Private), unhex(t, c.Message)
		if !c.Verify(message, c.Signature) {
			t.Errorf("%d: the published signature is refused", i)
		}
		if c.Verify(append(message, 'x'), c.Signature) {
			t.Errorf("%d: it is taken for another message", i)
		}
		if c.Algorithm != signing.Ed25519 {
			if s := tablettest.CurveSignerOf(private); s.Key != c.Key || !c.Verify(message, s.Sign(message)) {
				t.Errorf("%d: key %+v", i, s.Key)
			}
			continue
		}
		if s := tablettest.SignerOf(private); s.Key != c.Key || s.Sign(message) != c.Signature {
			t.Errorf("%d: key %+v signs %s", i, s.Key, s.Sign(message))
		}
	}
}

// TestTheExamples holds each statement to its bytes: PROTOCOL.md, section 4a.
func TestTheExamples(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range read(t).Examples {
		var got []byte
		f := e.Fields
		switch e.What {
		case "key":
			got = signing.KeyStatement(f.Tablet, f.Key)
		case "push":
			got = signing.PushStatement([]byte(f.First))
		case "envelope":
			bound := fmt.Appendf(nil, "%s\n%s\n%s\n%s\n%d\n%d", f.Format, f.OrganisationKey, f.Tablet, f.Person, f.From, f.To)
			got = signing.EnvelopeStatement(bound, f.Enc, f.Sealed)
		}
		seen[e.What+e.Algorithm] = true
		if string(got) != e.Statement {
			t.Errorf("%s: statement %q, want %q", e.What, got, e.Statement)
		}
		if !e.Verify(got, e.Signature) {
			t.Errorf("%s with %s: the signature is refused", e.What, e.Algorithm)
		}
		if e.Verify(bytes.Replace(got, []byte("tab-a"), []byte("tab-b"), 1), e.Signature) {
			t.Errorf("%s with %s: the signature is taken for another tablet", e.What, e.Algorithm)
		}
	}
	if len(seen) != 6 {
		t.Errorf("only %v", seen)
	}
}

// TestAKeyWithoutASecretIsNone: with a point of small order as key a signature
// that anybody can write down would verify, at the identity over every statement.
func TestAKeyWithoutASecretIsNone(t *testing.T) {
	for _, y := range []string{
		"00" + strings.Repeat("00", 31),
		"01" + strings.Repeat("00", 31),
		"26e8958fc2b227b045c3f489f2ef98f0d5dfac05d3c63339b13802886d53fc05",
		"c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac037a",
		"ec" + strings.Repeat("ff", 30) + "7f", // p - 1
		"ed" + strings.Repeat("ff", 30) + "7f", // p, another way to write 0
		"ee" + strings.Repeat("ff", 30) + "7f", // p + 1, another way to write 1
	} {
		for _, sign := range []byte{0, 0x80} {
			raw := unhex(t, y)
			raw[31] |= sign
			key := signing.Key{Algorithm: signing.Ed25519, Public: base64.StdEncoding.EncodeToString(raw)}
			if bad := key.Check(); bad == nil || bad.Path != "public" {
				t.Errorf("%x: %v, want public refused", raw, bad)
			}
			// R is the identity and S is 0, which holds for the identity
			// over every statement and for the others over one in eight.
			made := base64.StdEncoding.EncodeToString(append([]byte{1}, make([]byte, 63)...))
			for i := range 64 {
				if key.Verify([]byte{byte(i)}, made) {
					t.Errorf("%x: statement %d is verified without a secret", raw, i)
				}
			}
		}
	}
}

// TestWhatIsNoKeyVerifiesNothing, nor does a key verify what is no signature.
func TestWhatIsNoKeyVerifiesNothing(t *testing.T) {
	signer := tablettest.NewSigner("one")
	made := signer.Sign([]byte("x"))
	for name, c := range map[string]struct {
		key       signing.Key
		signature string
		field     string
	}{
		"nothing":                     {signing.Key{}, made, "algorithm"},
		"another algorithm":           {signing.Key{Algorithm: "RS256", Public: signer.Public}, made, "algorithm"},
		"the other algorithm":         {signing.Key{Algorithm: signing.ES256, Public: signer.Public}, made, "public"},
		"not base64":                  {signing.Key{Algorithm: signing.Ed25519, Public: "*"}, made, "public"},
		"a line break in the key":     {signing.Key{Algorithm: signing.Ed25519, Public: signer.Public[:8] + "\n" + signer.Public[8:]}, made, "public"},
		"a point that is on no curve": {signing.Key{Algorithm: signing.ES256, Public: "BA" + strings.Repeat("A", 86)}, made, "public"},
		"no signature":                {signer.Key, "", ""},
		"a short signature":           {signer.Key, made[:84], ""},
		"a line break in it":          {signer.Key, made[:8] + "\n" + made[8:], ""},
		"another key":                 {tablettest.NewSigner("two").Key, made, ""},
	} {
		if c.key.Verify([]byte("x"), c.signature) {
			t.Errorf("%s: verified", name)
		}
		if bad := c.key.Check(); (bad == nil) != (c.field == "") || bad != nil && bad.Path != c.field {
			t.Errorf("%s: %v, want %q", name, bad, c.field)
		}
	}
	if !signer.Verify([]byte("x"), made) || signer.Check() != nil {
		t.Error("a good one is refused")
	}
}
