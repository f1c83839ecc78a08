package server

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// note is one more entry of the clinician's about the visit.
func (s *site) note(t *testing.T, n int64) []byte {
	t.Helper()
	return s.event(t, n, model.KindVisitNoted, s.visit, model.VisitNoted{Fields: map[string]string{"note": fmt.Sprint("note ", n)}})
}

// pushAs sends entries with a session and returns what came back.
func (s *site) pushAs(cookie *http.Cookie, from int64, lines ...[]byte) reply {
	return s.send(s.request("POST", pushPath, pushBody(s.tablet, from, lines...), cookie))
}

func TestFault08ASessionThatEndsBetweenTwoPushes(t *testing.T) {
	s := newSite(t, Options{})
	cookie := s.cookieOf(t, clinician)
	if got := s.pushAs(cookie, 4, s.note(t, 4)); got.Code != http.StatusOK {
		t.Fatalf("before: %d %s", got.Code, got.Body)
	}
	if err := s.Accounts.SignOutEverywhere(t.Context(), account.Console(), s.ids[clinician]); err != nil {
		t.Fatal(err)
	}
	got := s.pushAs(cookie, 5, s.note(t, 5))
	if got.Code != http.StatusUnauthorized || got.refused(t).Error != "signed-out" {
		t.Errorf("after the session has ended: %d %s", got.Code, got.Body)
	}
	// Signed in again the tablet goes on where it was, overlap and all.
	var receipt intake.PushAnswer
	s.pushAs(s.signIn(t, clinician), 4, s.note(t, 4), s.note(t, 5)).into(t, &receipt)
	if receipt.Ack != 5 || receipt.Verdicts[0].Verdict != intake.Known || receipt.Verdicts[1].Verdict != intake.Stored {
		t.Errorf("signed in again: %+v", receipt)
	}
}

func TestFault08ATabletThatIsNotHersIsRefusedWhole(t *testing.T) {
	s := newSite(t, Options{})
	cookie := s.cookieOf(t, lead) // somebody else signs in on the same device
	got := s.pushAs(cookie, 4, s.note(t, 4))
	if got.Code != http.StatusForbidden || got.refused(t).Error != intake.CodeTablet {
		t.Errorf("%d %s", got.Code, got.Body)
	}
	var receipt intake.PushAnswer
	s.push(t, clinician, 4, s.note(t, 4)).into(t, &receipt)
	if receipt.Ack != 4 || receipt.Verdicts[0].Verdict != intake.Stored {
		t.Errorf("the owner, later: %+v", receipt)
	}
}

func TestFault09WhatIsTooMuchIsSaidAndHowLongToWait(t *testing.T) {
	retry := func(t *testing.T, got reply) {
		t.Helper()
		if n, err := strconv.Atoi(got.Header().Get("Retry-After")); err != nil || n < 1 {
			t.Errorf("%d without a time to wait: %v", got.Code, got.Header())
		}
	}
	t.Run("413", func(t *testing.T) {
		s := newSite(t, Options{})
		lines := make([][]byte, 0, intake.MaxEvents+1)
		for i := range intake.MaxEvents + 1 {
			lines = append(lines, s.note(t, int64(4+i)))
		}
		got := s.pushAs(s.cookieOf(t, clinician), 4, lines...)
		if e := got.refused(t); got.Code != http.StatusRequestEntityTooLarge || !strings.Contains(e.Want, "1000 events") {
			t.Errorf("%d %+v", got.Code, e)
		}
		// Fewer at a time go through: nothing was placed by the refused push.
		var receipt intake.PushAnswer
		s.push(t, clinician, 4, lines[:intake.MaxEvents]...).into(t, &receipt)
		if receipt.Ack != 3+intake.MaxEvents {
			t.Errorf("half of it: %+v", receipt.Ack)
		}
	})
	t.Run("429", func(t *testing.T) {
		s := newSite(t, Options{PushesPerSecond: 1})
		cookie := s.cookieOf(t, clinician)
		var got reply
		for n := int64(4); n < 20 && got.ResponseRecorder == nil || got.Code == http.StatusOK; n++ {
			got = s.pushAs(cookie, n, s.note(t, n))
		}
		if got.Code != http.StatusTooManyRequests {
			t.Fatalf("%d %s", got.Code, got.Body)
		}
		retry(t, got)
		s.clock.turn(2e9)
		if got := s.pushAs(cookie, 4, s.note(t, 4)); got.Code != http.StatusOK {
			t.Errorf("after waiting: %d %s", got.Code, got.Body)
		}
	})
	t.Run("503", func(t *testing.T) {
		s := newSite(t, Options{})
		cookie := s.cookieOf(t, clinician)
		s.Intake.Close() // the server is being stopped
		got := s.pushAs(cookie, 4, s.note(t, 4))
		if got.Code != http.StatusServiceUnavailable || got.refused(t).Error != "stopped" {
			t.Errorf("%d %s", got.Code, got.Body)
		}
		retry(t, got)
	})
}

// TestFault29 has somebody leave the team while her tablet is out of reach.
func TestFault29WhatAPersonWroteBeforeLeavingIsKept(t *testing.T) {
	s := newSite(t, Options{})
	opened := s.event(t, 5, model.KindClientOpened, strings.Repeat("e5", 16), model.ClientOpened{
		Team: s.north, Ref: "R-78", Name: "Thessaly Orrick", Referred: "2026-02-01", Priority: "soon", Course: "stable"})
	if _, err := s.Accounts.ChangePerson(t.Context(), account.Console(), s.ids[clinician], account.PersonChange{
		Name: "An invented clinician", Roles: map[string]string{s.south: model.RoleClinician},
	}); err != nil {
		t.Fatal(err)
	}
	var receipt intake.PushAnswer
	s.push(t, clinician, 4, s.note(t, 4), opened).into(t, &receipt)
	if receipt.Ack != 5 {
		t.Errorf("the tablet would send for ever: %+v", receipt)
	}
	for _, v := range receipt.Verdicts {
		if v.Verdict != intake.Quarantined || v.Code != validation.CodeOtherTeam || v.Hint == "" {
			t.Errorf("verdict %+v", v)
		}
	}
	var list QuarantineList
	s.ask(t, lead, "GET", "/api/v1/teams/"+s.north+"/quarantine", "").into(t, &list)
	kept := map[int64]QuarantineRow{}
	for _, row := range list.Entries {
		kept[row.N] = row
	}
	for n, want := range map[int64]string{4: "note 4", 5: "Thessaly Orrick"} {
		row := kept[n]
		if row.Author != s.ids[clinician] || row.Code != validation.CodeOtherTeam || !strings.Contains(row.Raw, want) {
			t.Errorf("the lead sees of entry %d: %+v", n, row)
		}
	}
	// What she may no longer see does not come back to her.
	if got := s.ask(t, clinician, "GET", "/api/v1/teams/"+s.north+"/events", ""); got.Code != http.StatusForbidden {
		t.Errorf("she still pulls: %d", got.Code)
	}
	if got := s.ask(t, clinician, "GET", "/api/v1/clients/"+s.client, ""); got.Code != http.StatusForbidden {
		t.Errorf("she still reads: %d", got.Code)
	}
}

// TestFault29AClosedAccountSendsNothing says what happens when the account is
// closed before the tablet has sent: nothing is lost, since the tablet keeps
// what it holds, but it takes an open account to send it.
func TestFault29AClosedAccountSendsOnceItIsOpenedAgain(t *testing.T) {
	s := newSite(t, Options{})
	cookie := s.cookieOf(t, clinician)
	change := account.PersonChange{Name: "An invented clinician", Closed: true}
	if _, err := s.Accounts.ChangePerson(t.Context(), account.Console(), s.ids[clinician], change); err != nil {
		t.Fatal(err)
	}
	if got := s.pushAs(cookie, 4, s.note(t, 4)); got.Code != http.StatusUnauthorized {
		t.Errorf("closed: %d %s", got.Code, got.Body)
	}
	_, _, err := s.Accounts.SignIn(t.Context(), account.SignIn{Login: clinician, Password: goodPassword, Source: "192.0.2.1"})
	if !errors.Is(err, account.ErrWrongPassword) {
		t.Errorf("signing in: %v", err)
	}
	change.Closed = false
	if _, err := s.Accounts.ChangePerson(t.Context(), account.Console(), s.ids[clinician], change); err != nil {
		t.Fatal(err)
	}
	var receipt intake.PushAnswer
	s.pushAs(s.signIn(t, clinician), 4, s.note(t, 4)).into(t, &receipt)
	var list QuarantineList
	s.ask(t, lead, "GET", "/api/v1/teams/"+s.north+"/quarantine", "").into(t, &list)
	if last := list.Entries[len(list.Entries)-1]; receipt.Ack != 4 || last.N != 4 || last.Client != s.client {
		t.Errorf("opened again, in no team: %+v, and the lead sees %+v", receipt, last)
	}
}
