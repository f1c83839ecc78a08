package server

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"doorsill/internal/audit"
	"doorsill/internal/signing"
	"doorsill/internal/store"
	"doorsill/internal/tablettest"
)

// keyBody registers a key that proves itself; before signs for the key of before.
func keyBody(tablet string, signer, before *tablettest.Signer) string {
	statement := signing.KeyStatement(tablet, signer.Key)
	in := TabletKeyRequest{Algorithm: signer.Algorithm, Public: signer.Public, Proof: signer.Sign(statement)}
	if before != nil {
		in.Before = before.Sign(statement)
	}
	body, err := json.Marshal(in)
	if err != nil {
		panic(err)
	}
	return string(body)
}

func keyOne(s *site, _ string) string {
	return keyBody(s.tablet, tablettest.NewSigner("the clinician's"), nil)
}

func (s *site) keyOf(t *testing.T, tablet string) *store.TabletKey {
	t.Helper()
	var known store.Tablet
	err := s.Store.View(t.Context(), func(r store.Reader) (err error) { known, err = r.Tablet(tablet); return err })
	if err != nil {
		t.Fatal(err)
	}
	return known.Key
}

// TestATabletsKeyIsNeverReplacedSilently: the first one counts, and another needs
// the signature of the one before.
func TestATabletsKeyIsNeverReplacedSilently(t *testing.T) {
	s := newSite(t, Options{})
	first, second, third := tablettest.NewSigner("1"), tablettest.NewSigner("2"), tablettest.NewSigner("3")
	path := "/api/v1/tablets/" + s.tablet + "/key"
	for _, c := range []struct {
		name, who, body string
		status          int
		code            string
		after           *tablettest.Signer
	}{
		{"without proof", clinician, strings.Replace(keyBody(s.tablet, first, nil), first.Sign(signing.KeyStatement(s.tablet, first.Key)), "", 1), http.StatusBadRequest, "invalid", nil},
		{"proof for another tablet", clinician, keyBody("tab-x", first, nil), http.StatusBadRequest, "invalid", nil},
		{"no algorithm", clinician, `{"algorithm":"none","public":"","proof":""}`, http.StatusBadRequest, "invalid", nil},
		{"a colleague", lead, keyBody(s.tablet, first, nil), http.StatusForbidden, "not-allowed", nil},
		{"the first", clinician, keyBody(s.tablet, first, nil), http.StatusNoContent, "", first},
		{"the same again", clinician, keyBody(s.tablet, first, nil), http.StatusNoContent, "", first},
		{"another one", clinician, keyBody(s.tablet, second, nil), http.StatusConflict, "key", first},
		{"another one, signed by itself", clinician, keyBody(s.tablet, second, second), http.StatusConflict, "key", first},
		{"another one, signed by a third", clinician, keyBody(s.tablet, second, third), http.StatusConflict, "key", first},
		{"another one, signed by the first", clinician, keyBody(s.tablet, second, first), http.StatusNoContent, "", second},
		{"the first again", clinician, keyBody(s.tablet, first, nil), http.StatusConflict, "key", second},
	} {
		got := s.ask(t, c.who, "PUT", path, c.body)
		if got.Code != c.status || c.code != "" && got.refused(t).Error != c.code {
			t.Errorf("%s: %d %s, want %d %s", c.name, got.Code, got.Body, c.status, c.code)
		}
		if key := s.keyOf(t, s.tablet); (key == nil) != (c.after == nil) || key != nil && (key.Public != c.after.Public || key.At == "") {
			t.Errorf("%s: the key is now %+v", c.name, key)
		}
	}
	set := 0
	for _, line := range s.trail(t, 0) {
		if line.Action == "set tablet key" && line.Subject == s.tablet && strings.Contains(line.Detail, audit.OK) {
			set++
		}
	}
	if set != 2 {
		t.Errorf("%d lines in the trail, want one for each new key", set)
	}
}

// TestOnlyASessionOnTheTabletRegistersItsKey: the same person elsewhere does not.
func TestOnlyASessionOnTheTabletRegistersItsKey(t *testing.T) {
	s := newSite(t, Options{})
	elsewhere := s.signIn(t, clinician)
	got := s.send(s.request("PUT", "/api/v1/tablets/"+s.tablet+"/key", keyOne(s, ""), elsewhere))
	if got.Code != http.StatusForbidden || s.keyOf(t, s.tablet) != nil {
		t.Errorf("%d %s", got.Code, got.Body)
	}
}

// TestASignedPush comes with its signature in a header; the lead's list says that
// the tablet signs.
func TestASignedPush(t *testing.T) {
	s := newSite(t, Options{})
	signer := tablettest.NewSigner("the clinician's")
	list := func() bool {
		var list TabletList
		s.ask(t, lead, "GET", "/api/v1/teams/"+s.north+"/tablets", "").into(t, &list)
		return len(list.Tablets) == 1 && list.Tablets[0].Signs
	}
	if list() {
		t.Error("it signs before it has a key")
	}
	s.ask(t, clinician, "PUT", "/api/v1/tablets/"+s.tablet+"/key", keyOne(s, ""))
	body := pushOne(s, "")
	first, _, _ := strings.Cut(body, "\n")
	for _, c := range []struct {
		name, signature, code string
		status                int
	}{
		{"unsigned", "", "unsigned", http.StatusForbidden},
		{"by another key", tablettest.NewSigner("x").Sign(signing.PushStatement([]byte(first))), "signature", http.StatusForbidden},
		{"signed", signer.Sign(signing.PushStatement([]byte(first))), "", http.StatusOK},
	} {
		r := s.request("POST", pushPath, body, s.cookieOf(t, clinician))
		if c.signature != "" {
			r.Header.Set("Doorsill-Signature", c.signature)
		}
		got := s.send(r)
		if got.Code != c.status || c.code != "" && got.refused(t).Error != c.code {
			t.Errorf("%s: %d %s, want %d %s", c.name, got.Code, got.Body, c.status, c.code)
		}
	}
	if !list() {
		t.Error("the lead is not told that it signs")
	}
}
