package server

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/caseload"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// counted is a store that counts the quarantined entries which are read while
// somebody writes, and everybody else waits.
type counted struct {
	store.Store
	read *atomic.Int64
}

func (c counted) Update(ctx context.Context, fn func(store.Writer) error) error {
	return c.Store.Update(ctx, func(w store.Writer) error { return fn(countedWriter{w, c.read}) })
}

type countedWriter struct {
	store.Writer
	read *atomic.Int64
}

func (w countedWriter) Quarantined(id int64) (store.Quarantined, error) {
	w.read.Add(1)
	return w.Writer.Quarantined(id)
}

func (w countedWriter) QuarantinedAs(tablet string, n int64, raw []byte) (store.Quarantined, error) {
	q, err := w.Writer.QuarantinedAs(tablet, n, raw)
	if !errors.Is(err, store.ErrNotFound) {
		w.read.Add(1)
	}
	return q, err
}

func (w countedWriter) QuarantinedOf(f store.QuarantineFilter) ([]store.Quarantined, error) {
	list, err := w.Writer.QuarantinedOf(f)
	w.read.Add(int64(len(list)))
	return list, err
}

func (w countedWriter) QuarantinePage(f store.QuarantineFilter, after int64, limit int) ([]store.Quarantined, bool, error) {
	list, more, err := w.Writer.QuarantinePage(f, after, limit)
	w.read.Add(int64(len(list)))
	return list, more, err
}

// registered is a tablet of somebody's.
func (s *site) registered(t *testing.T, who string) string {
	t.Helper()
	var made TabletMade
	s.ask(t, who, "POST", "/api/v1/tablets", `{"label":"second"}`).into(t, &made)
	return made.ID
}

// rubbish is count lines that can not be read, each another one.
func rubbish(from, count int) [][]byte {
	var lines [][]byte
	for n := range count {
		lines = append(lines, fmt.Appendf(nil, `{"rubbish":%d`, from+n))
	}
	return lines
}

// TestOnePersonHoldsUpNobody: 1,000 entries of rubbish in a push, push after push,
// are set aside up to a bound and then refused with what to do, while a colleague
// sends one entry after another. The writer reads none of what was set aside.
func TestOnePersonHoldsUpNobody(t *testing.T) {
	s := newSite(t, Options{})
	read := new(atomic.Int64)
	in := intake.New(counted{s.Store, read}, authoring.StandardVersions(), s.clock.Now)
	t.Cleanup(in.Close)
	_, handler, err := build(Deps{
		Store: s.Store, Accounts: s.Accounts, Trail: s.Trail, Intake: in, Index: s.Index, Records: caseload.NewReader(s.Store),
		Organisation: s.organisation, Files: bundle(), Bundled: true, Now: s.clock.Now, Log: slog.New(slog.DiscardHandler),
	})
	if err != nil {
		t.Fatal(err)
	}
	tablet := s.registered(t, assistant)
	s.Handler = handler
	rude := s.cookieOf(t, assistant)
	done := make(chan reply)
	go func() {
		var last reply
		for from := 1; from <= intake.MostOpenOfTablet+1; from += 1_000 {
			s.clock.turn(1e9) // nobody is kept out for pushing often
			last = s.send(s.request("POST", pushPath, pushBody(tablet, int64(from), rubbish(from, 1_000)...), rude))
		}
		done <- last
	}()
	sent, over := int64(3), false
	var last reply
	for !over || sent < 30 {
		select {
		case last = <-done:
			over = true
		default:
		}
		var receipt intake.PushAnswer
		s.clock.turn(1e9)
		s.push(t, clinician, sent+1, s.event(t, sent+1, model.KindVisitNoted, s.visit, model.VisitNoted{Fields: map[string]string{"note": fmt.Sprint(sent)}})).into(t, &receipt)
		if sent++; receipt.Ack != sent || receipt.Verdicts[0].Verdict != intake.Stored {
			t.Fatalf("the colleague's entry %d: %+v", sent, receipt)
		}
	}
	refused := last.refused(t)
	if last.Code != http.StatusInsufficientStorage || refused.Error != intake.CodeQuarantineFull || last.Header().Get("Retry-After") == "" ||
		!strings.Contains(refused.Message, "2000 entries from here are set aside") || !strings.Contains(refused.Message, "Nothing is lost") {
		t.Errorf("after %d entries of rubbish: %d %s", intake.MostOpenOfTablet, last.Code, last.Body)
	}
	if n := read.Load(); n != 0 {
		t.Errorf("the writer read %d entries that were set aside before", n)
	}
}

// TestWhoHasMovedSeesTheirOwn entries about the team that they left, and what
// became of them; nothing of anybody else's.
func TestWhoHasMovedSeesTheirOwn(t *testing.T) {
	s := newSite(t, Options{}) // the clinician's third entry is set aside
	second := s.registered(t, assistant)
	s.send(s.request("POST", pushPath, pushBody(second, 1, rubbish(1, 2)...), s.cookieOf(t, assistant)))
	if _, err := s.Accounts.ChangePerson(t.Context(), account.Console(), s.ids[clinician], account.PersonChange{
		Name: "An invented clinician", Roles: map[string]string{s.south: model.RoleClinician},
	}); err != nil {
		t.Fatal(err)
	}
	if got := s.ask(t, clinician, "GET", "/api/v1/teams/"+s.north+"/quarantine", ""); got.Code != http.StatusForbidden {
		t.Errorf("the team's list: %d", got.Code)
	}
	before := int64(len(s.trail(t, 0)))
	var own QuarantineList
	s.ask(t, clinician, "GET", "/api/v1/quarantine?state=open", "").into(t, &own)
	if len(own.Entries) != 1 || own.Entries[0].N != 3 || own.Entries[0].Author != s.ids[clinician] || own.More || own.Next != own.Entries[0].ID {
		t.Fatalf("their own: %+v", own)
	}
	if lines := s.trail(t, before); lines[len(lines)-1].Action != "read quarantine" || lines[len(lines)-1].Person != s.ids[clinician] {
		t.Errorf("the trail says %+v", lines)
	}
	settle := func(who string) reply {
		return s.ask(t, who, "POST", "/api/v1/quarantine/"+own.Entries[0].ID+"/settle", `{"note":"entered again"}`)
	}
	if got := settle(clinician); got.Code != http.StatusForbidden {
		t.Errorf("what they left behind is for the lead: %d %s", got.Code, got.Body)
	}
	if got := settle(lead); got.Code != http.StatusOK {
		t.Errorf("the lead: %d %s", got.Code, got.Body)
	}
	if got := s.ask(t, clinician, "POST", "/api/v1/quarantine/2/settle", `{"note":"not mine"}`); got.Code != http.StatusForbidden {
		t.Errorf("somebody else's entry: %d %s", got.Code, got.Body)
	}
	for path, want := range map[string]int{
		"/api/v1/quarantine?state=open": 0, "/api/v1/quarantine?state=closed": 1, "/api/v1/quarantine": 1, "/api/v1/quarantine?after=1": 0,
	} {
		var list QuarantineList
		if s.ask(t, clinician, "GET", path, "").into(t, &list); len(list.Entries) != want {
			t.Errorf("%s: %d entries, want %d", path, len(list.Entries), want)
		}
	}
	var page QuarantineList
	s.ask(t, lead, "GET", "/api/v1/teams/"+s.north+"/quarantine?limit=2", "").into(t, &page)
	if len(page.Entries) != 2 || !page.More || page.Next != "2" {
		t.Errorf("the lead's first page: %d entries, more %v, next %s", len(page.Entries), page.More, page.Next)
	}
	for _, query := range []string{"state=lost", "after=-1", "limit=x"} {
		if got := s.ask(t, lead, "GET", "/api/v1/teams/"+s.north+"/quarantine?"+query, ""); got.Code != http.StatusBadRequest || got.refused(t).Field == "" {
			t.Errorf("%s: %d %s", query, got.Code, got.Body)
		}
	}
}

// TestTheCaseloadCountsWhatIsSetAside as the lead's list has it, also what is about
// no client, and tells nobody else.
func TestTheCaseloadCountsWhatIsSetAside(t *testing.T) {
	s := newSite(t, Options{}) // the clinician's third entry is set aside
	s.send(s.request("POST", pushPath, pushBody(s.registered(t, assistant), 1, rubbish(1, 4)...), s.cookieOf(t, assistant)))
	counts := func(who string) caseload.Counts {
		var page caseload.Page
		s.ask(t, who, "GET", "/api/v1/teams/"+s.north+"/caseload", "").into(t, &page)
		return page.Counts
	}
	var list QuarantineList
	s.ask(t, lead, "GET", "/api/v1/teams/"+s.north+"/quarantine?state=open", "").into(t, &list)
	if got := counts(lead); got.SetAside != 5 || len(list.Entries) != 5 || got.Quarantined != 1 {
		t.Errorf("%+v, and the list has %d", got, len(list.Entries))
	}
	if got := counts(clinician); got.SetAside != 0 {
		t.Errorf("somebody who does not lead the team is told of %d", got.SetAside)
	}
	s.ask(t, lead, "POST", "/api/v1/quarantine/"+list.Entries[0].ID+"/settle", `{"note":"entered again"}`)
	if got := counts(lead); got.SetAside != 4 {
		t.Errorf("after one was settled: %+v", got)
	}
}
