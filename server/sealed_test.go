package server

import (
	"encoding/json"
	"net/http"
	"testing"

	"doorsill/internal/intake"
	"doorsill/internal/seal"
)

// sealedOne is the same event as pushOne, sealed to the organisation's key.
func sealedOne(s *site, _ string) string { return sealedBody(s, append(lineFour(s), '\n')) }

func sealedBody(s *site, lines []byte) string {
	organisation := s.organisation.Public()
	e, err := seal.Seal(organisation, seal.Header{Tablet: s.tablet, Person: s.ids[clinician], From: 4, To: 4}, lines)
	if err != nil {
		panic(err)
	}
	body, err := json.Marshal(e)
	if err != nil {
		panic(err)
	}
	return string(body)
}

// TestSealedEntriesAreTakenInLikeAPush seals what a tablet with a forgotten
// password still holds, and has it sent twice.
func TestSealedEntriesAreTakenInLikeAPush(t *testing.T) {
	s := newSite(t, Options{})
	var session SessionAnswer
	s.ask(t, clinician, "GET", "/api/v1/session", "").into(t, &session)
	if session.Organisation.Key != s.organisation.Public() || session.Organisation.ID != s.organisation.ID() {
		t.Fatalf("the session names the key %+v", session.Organisation)
	}
	for _, want := range []string{intake.Stored, intake.Known} {
		var receipt intake.PushAnswer
		s.ask(t, clinician, "POST", sealedPath, sealedOne(s, "")).into(t, &receipt)
		if receipt.Ack != 4 || len(receipt.Verdicts) != 1 || receipt.Verdicts[0].Verdict != want {
			t.Errorf("receipt %+v; expected entry 4 %s", receipt, want)
		}
	}
	// The plain push of the same entry is known too: nothing counts twice.
	var receipt intake.PushAnswer
	s.ask(t, clinician, "POST", pushPath, pushOne(s, "")).into(t, &receipt)
	if receipt.Verdicts[0].Verdict != intake.Known {
		t.Errorf("the push afterwards: %+v", receipt.Verdicts)
	}
}

func TestSealedEntriesThatCanNotBeOpenedAreExplained(t *testing.T) {
	s := newSite(t, Options{})
	var other seal.Envelope
	if err := json.Unmarshal([]byte(sealedOne(s, "")), &other); err != nil {
		t.Fatal(err)
	}
	other.Key = "0123456789abcdef"
	otherKey, err := json.Marshal(other)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		body   string
		status int
		code   string
	}{
		"not an envelope":   {`{"format":"x"}`, http.StatusBadRequest, "damaged"},
		"two lines for one": {sealedBody(s, []byte("{}\n{}\n")), http.StatusBadRequest, "damaged"},
		"another key":       {string(otherKey), http.StatusUnprocessableEntity, "other-key"},
	} {
		got := s.ask(t, clinician, "POST", sealedPath, c.body)
		var said ErrorAnswer
		if err := json.Unmarshal(got.Body.Bytes(), &said); err != nil || got.Code != c.status || said.Error != c.code || said.Message == "" {
			t.Errorf("%s: %d %s; expected %d %s", name, got.Code, got.Body, c.status, c.code)
		}
	}
}
