package server

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/intake"
	"doorsill/internal/seal"
	"doorsill/internal/store"
)

// imported has number 4 of the clinician's tablet come in a file that nothing
// signed, and returns the entry's id.
func (s *site) imported() string {
	ctx := context.Background()
	count := 0 // each time other bytes
	_ = s.Store.View(ctx, func(r store.Reader) error {
		list, err := r.QuarantinedOf(store.QuarantineFilter{})
		count = len(list)
		return err
	})
	var e seal.Envelope
	line := strings.Replace(string(lineFour(s)), `"note":"x"`, fmt.Sprintf(`"note":"x%d"`, count), 1) + "\n"
	if err := json.Unmarshal([]byte(sealedBody(s, []byte(line))), &e); err != nil {
		panic(err)
	}
	who, err := s.Accounts.OnBehalf(ctx, account.Console(), s.ids[clinician])
	if err != nil {
		panic(err)
	}
	receipt, err := s.Envelopes.Import(ctx, who, e)
	if err != nil || receipt.Verdicts[0].Code != "unsigned" {
		panic(fmt.Sprintf("import: %+v, %v", receipt, err))
	}
	var id string
	err = s.Store.View(ctx, func(r store.Reader) error {
		list, err := r.QuarantinedOf(store.QuarantineFilter{Tablet: s.tablet, N: 4})
		id = fmt.Sprint(list[len(list)-1].ID)
		return err
	})
	if err != nil {
		panic(err)
	}
	return id
}

func confirmOne(s *site, _ string) string {
	return fmt.Sprintf(`{"entries":[%q],"reason":"known by her hand"}`, s.imported())
}

// TestConfirmingOverTheEdge: the list says who may, and the word of the author or
// of the lead after the author is what counts.
func TestConfirmingOverTheEdge(t *testing.T) {
	s := newSite(t, Options{})
	id := s.imported()
	row := func(who string) QuarantineRow {
		var list QuarantineList
		s.ask(t, who, "GET", "/api/v1/teams/"+s.north+"/quarantine", "").into(t, &list)
		for _, row := range list.Entries {
			if row.ID == id {
				return row
			}
		}
		t.Fatalf("%s does not see the entry", who)
		return QuarantineRow{}
	}
	if mine, led := row(clinician), row(lead); !mine.Confirm || led.Confirm || mine.Code != "unsigned" || mine.Hint == "" {
		t.Errorf("the author %+v\nthe lead %+v", mine, led)
	}
	body := fmt.Sprintf(`{"entries":[%q],"reason":"She told me."}`, id)
	if e := s.ask(t, lead, "POST", "/api/v1/quarantine/confirm", body).refused(t); e.Error != "author" || !strings.Contains(e.Message, "their own tablet") {
		t.Errorf("while the author is here: %+v", e)
	}
	for _, bad := range []string{`{"entries":[]}`, `{"entries":["1"]}`, `{"entries":["x"]}`} {
		if got := s.ask(t, clinician, "POST", "/api/v1/quarantine/confirm", bad); got.Code != http.StatusBadRequest && got.Code != http.StatusForbidden {
			t.Errorf("%s: %d %s", bad, got.Code, got.Body)
		}
	}
	_, err := s.Accounts.ChangePerson(t.Context(), account.Console(), s.ids[clinician], account.PersonChange{
		Name: "An invented clinician", Closed: true, Roles: map[string]string{s.north: "clinician"}})
	if err != nil {
		t.Fatal(err)
	}
	if led := row(lead); !led.Confirm {
		t.Errorf("after the account was closed: %+v", led)
	}
	var receipt intake.PushAnswer
	padded := strings.Replace(body, `["`, `["`+strings.Repeat("0", 10_000), 1) // the trail names it as the list does
	s.ask(t, lead, "POST", "/api/v1/quarantine/confirm", padded).into(t, &receipt)
	if receipt.Ack != 4 || receipt.Verdicts[0].Verdict != intake.Stored {
		t.Errorf("receipt %+v", receipt)
	}
	if led := row(lead); !led.Confirmed || led.Confirm || led.Note != "She told me." || led.SettledBy != s.ids[lead] {
		t.Errorf("afterwards: %+v", led)
	}
	if e := s.ask(t, lead, "POST", "/api/v1/quarantine/"+id+"/settle", `{"note":"not hers"}`).refused(t); e.Error != "taken-in" {
		t.Errorf("settled by an older list: %+v", e)
	}
	traced := false
	for _, line := range s.trail(t, 0) {
		traced = traced || line.Action == "confirm quarantine" && line.Person == s.ids[lead] && line.Subject == id
	}
	if !traced {
		t.Error("no line in the trail")
	}
}
