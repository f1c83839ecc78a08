package server

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"strings"
	"testing"

	"doorsill/internal/caseload"
	"doorsill/internal/checklist"
	"doorsill/internal/intake"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// TestAVisitReachesTheLead follows one answer from the push to the lead's
// screen.
func TestAVisitReachesTheLead(t *testing.T) {
	s := newSite(t, Options{})
	var receipt intake.PushAnswer
	s.push(t, clinician, 4, s.event(t, 4, model.KindAnswerGiven, s.visit, model.AnswerGiven{
		Item: "pos-pelvis", State: model.StateNotTested, Note: "next time",
	})).into(t, &receipt)
	if receipt.Ack != 4 || len(receipt.Verdicts) != 1 {
		t.Fatalf("receipt %+v", receipt)
	}
	var page caseload.Page
	s.ask(t, lead, "POST", "/api/v1/teams/"+s.north+"/caseload/search?sort=name&order=desc", `{"q":"marrowby"}`).into(t, &page)
	if page.Total != 1 || page.Rows[0].Client != s.client || page.Rows[0].WaitingDays != 64 || page.Rows[0].Visits != 1 || page.Rows[0].Quarantined == 0 {
		t.Errorf("the lead's page %+v", page)
	}
	var c ClientAnswer
	s.ask(t, lead, "GET", "/api/v1/clients/"+s.client, "").into(t, &c)
	if c.Client.Name != secretName || len(c.Visits) != 1 || c.Visits[0].Scored == nil {
		t.Fatalf("the client %+v", c)
	}
	checkScored(t, c.Visits[0].Scored, s.checklists[0])
	var pulled model.PullAnswer
	s.ask(t, assistant, "GET", "/api/v1/teams/"+s.north+"/events?limit=1", "").into(t, &pulled)
	if len(pulled.Events) != 1 || !pulled.More || pulled.Log != receipt.Log || pulled.ServerTime == "" {
		t.Errorf("a colleague pulls %+v", pulled)
	}
}

// checkScored holds that a client that leaves out the sentences gets the bytes that
// were hashed, and that each message has one.
func checkScored(t *testing.T, scored *ScoredResult, list *checklist.Definition) {
	t.Helper()
	r := &scored.Result
	if r.Format != model.ResultFormat || r.Level != "none" || r.Rules != list.Hash() {
		t.Errorf("the result %+v", scored)
	}
	r.EachMessage(func(m *message.Message) {
		if m.Empty() != (m.Text == "") || m.Text == m.Code && m.Code != "" {
			t.Errorf("message %s has the sentence %q", m.Code, m.Text)
		}
		m.Text = ""
	})
	if sum := sha256.Sum256(r.AppendJSON(nil)); hex.EncodeToString(sum[:]) != scored.SHA256 {
		t.Errorf("the hash is not that of the result without its sentences")
	}
}

func TestARestoredServerIsNoticed(t *testing.T) {
	s := newSite(t, Options{})
	got := s.ask(t, clinician, "GET", "/api/v1/teams/"+s.north+"/events?log=another&after=900", "")
	if got.Code != http.StatusConflict || got.refused(t).Error != "log" || !strings.Contains(got.Body.String(), `"log":"`) {
		t.Errorf("pull: %d %s", got.Code, got.Body)
	}
	body := strings.Replace(pushOne(s, ""), `"log":""`, `"log":"another"`, 1)
	got = s.ask(t, clinician, "POST", pushPath, body)
	if got.Code != http.StatusConflict || got.refused(t).Error != "log" {
		t.Errorf("push: %d %s", got.Code, got.Body)
	}
}

func TestAGapNamesTheLastNumber(t *testing.T) {
	s := newSite(t, Options{})
	line := s.event(t, 9, model.KindVisitNoted, s.visit, model.VisitNoted{Fields: map[string]string{"note": "x"}})
	got := s.ask(t, clinician, "POST", pushPath, pushBody(s.tablet, 9, line))
	if got.Code != http.StatusConflict || got.refused(t).Error != "gap" || !strings.Contains(got.Body.String(), `"ack":3`) {
		t.Errorf("%d %s", got.Code, got.Body)
	}
}

func TestTwoAssignmentsMeet(t *testing.T) {
	s := newSite(t, Options{})
	path := "/api/v1/clients/" + s.client + "/assignment"
	body := `{"version":0,"assignee":"` + s.ids[clinician] + `","status":"active"}`
	var after model.Client
	s.ask(t, lead, "PUT", path, body).into(t, &after)
	if after.Assignee != s.ids[clinician] || after.Version != 1 {
		t.Errorf("assigned: %+v", after)
	}
	got := s.ask(t, clinician, "PUT", path, body)
	if got.Code != http.StatusConflict || got.refused(t).Error != "changed" || !strings.Contains(got.Body.String(), `"version":1`) {
		t.Errorf("the second: %d %s", got.Code, got.Body)
	}
	got = s.ask(t, lead, "PUT", path, `{"version":1,"assignee":"","status":"asleep"}`)
	if e := got.refused(t); got.Code != http.StatusBadRequest || e.Field == "" || e.Want == "" {
		t.Errorf("an unknown status: %d %s", got.Code, got.Body)
	}
}

func TestWhatATabletHoldsIsShown(t *testing.T) {
	s := newSite(t, Options{})
	path := "/api/v1/tablets/" + s.tablet + "/holding"
	got := s.ask(t, clinician, "POST", path, `{"waiting":12,"oldest":"2026-03-08T15:00:00.000Z","clients":["`+s.client+`","unheard-of"]}`)
	if got.Code != http.StatusNoContent {
		t.Fatalf("%d %s", got.Code, got.Body)
	}
	var page caseload.Page
	s.ask(t, lead, "GET", "/api/v1/teams/"+s.north+"/caseload?flag=tablet", "").into(t, &page)
	if page.Total != 1 || !page.Rows[0].OnTablet || page.Counts.OnTablet != 1 {
		t.Errorf("the lead's page %+v", page)
	}
	var tablets TabletList
	s.ask(t, lead, "GET", "/api/v1/teams/"+s.north+"/tablets", "").into(t, &tablets)
	if len(tablets.Tablets) != 1 || tablets.Tablets[0].Waiting != 12 || tablets.Tablets[0].OldestWaiting != "2026-03-08T15:00:00.000Z" ||
		tablets.Tablets[0].LastN != 3 || tablets.Tablets[0].LastPush == "" {
		t.Errorf("tablets %+v", tablets)
	}
	var made TabletMade
	s.ask(t, clinician, "POST", "/api/v1/tablets", `{"label":"set up again"}`).into(t, &made)
	if len(made.Holding) != 1 || made.Holding[0].ID != s.tablet || made.Holding[0].Waiting != 12 || made.Holding[0].Oldest != "2026-03-08T15:00:00.000Z" {
		t.Errorf("a tablet that is set up again learns %+v", made.Holding)
	}
	got = s.ask(t, clinician, "POST", path, `{"waiting":-1}`)
	if got.Code != http.StatusBadRequest || got.refused(t).Field != "waiting" {
		t.Errorf("nonsense: %d %s", got.Code, got.Body)
	}
}

func TestOnePersonCanNotFloodTheServer(t *testing.T) {
	s := newSite(t, Options{PushesPerSecond: 1})
	var got reply
	for range 5 {
		got = s.ask(t, clinician, "POST", pushPath, pushOne(s, ""))
	}
	if got.Code != http.StatusTooManyRequests || got.Header().Get("Retry-After") != "1" {
		t.Errorf("%d %v %s", got.Code, got.Header(), got.Body)
	}
}

func TestWhatWasSetAsideIsSettled(t *testing.T) {
	s := newSite(t, Options{})
	var list QuarantineList
	s.ask(t, lead, "GET", "/api/v1/teams/"+s.north+"/quarantine", "").into(t, &list)
	if len(list.Entries) != 1 || list.Entries[0].Code != validation.CodeUnknownItem || list.Entries[0].Hint == "" ||
		list.Entries[0].Client != s.client || !strings.Contains(list.Entries[0].Raw, "no-such-item") {
		t.Fatalf("set aside: %+v", list)
	}
	var row QuarantineRow
	s.ask(t, lead, "POST", "/api/v1/quarantine/"+list.Entries[0].ID+"/settle", `{"note":"asked on the phone"}`).into(t, &row)
	if row.Settled == "" || row.SettledBy != s.ids[lead] || row.Note != "asked on the phone" {
		t.Errorf("settled: %+v", row)
	}
	if n := s.page().Rows[0].Quarantined; n != 0 {
		t.Errorf("the caseload still counts %d", n)
	}
	got := s.ask(t, lead, "POST", "/api/v1/quarantine/1/settle", `{"note":""}`)
	if got.Code != http.StatusBadRequest || got.refused(t).Field != "note" {
		t.Errorf("without a note: %d %s", got.Code, got.Body)
	}
}

func TestAnAppOpensOnWhatItKept(t *testing.T) {
	dir := t.TempDir()
	app, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Open(dir, Options{}); err == nil {
		t.Error("two servers on one folder")
	}
	if err := app.Close(); err != nil {
		t.Fatal(err)
	}
	if app, err = Open(dir, Options{}); err != nil {
		t.Fatal(err)
	}
	if err := app.Close(); err != nil {
		t.Fatal(err)
	}
}

// TestAPullGivesTheBytesThatWerePushed sends events as other clients may write
// them. What is hashed, signed or compared are bytes.
func TestAPullGivesTheBytesThatWerePushed(t *testing.T) {
	s := newSite(t, Options{})
	var lines [][]byte
	for i, body := range []string{
		`{"fields":{"note":"below < above > & beside"}}`,
		"{ \"fields\" :\t{ \"note\": \"two spaces  and a tab\" } }",
		`{"fields":{"note":"caf\u00e9 \ud83d\ude00 \/ \u2028"}}`,
		"{\"fields\":{\"note\":\"café \U0001F600 \u2028 \u202e\"}}",
		`{"later":1.0e0,"fields":{"note":"a field that is not known"}}`,
	} {
		line := s.event(t, int64(4+i), model.KindVisitNoted, s.visit, model.VisitNoted{})
		lines = append(lines, bytes.Replace(line, []byte(`{"fields":null}`), []byte(body), 1))
	}
	var receipt intake.PushAnswer
	s.push(t, clinician, 4, lines...).into(t, &receipt)
	got := s.ask(t, assistant, "GET", "/api/v1/teams/"+s.north+"/events", "")
	for i, line := range lines {
		if receipt.Verdicts[i].Verdict != "stored" || !bytes.Contains(line, []byte("note")) {
			t.Fatalf("%s: %+v", line, receipt.Verdicts[i])
		}
		if !bytes.Contains(got.Body.Bytes(), append([]byte(`"raw":`), line...)) {
			t.Errorf("not given back as it was sent:\n%s\nin\n%s", line, got.Body)
		}
	}
	var page model.PullAnswer
	got.into(t, &page)
	if len(page.Events) != 2+len(lines) {
		t.Errorf("%d events", len(page.Events))
	}
}

// TestWordsToSearchForAreTakenFromTheBodyOnly holds that names are not asked for
// in addresses, which proxies log and browsers keep.
func TestWordsToSearchForAreTakenFromTheBodyOnly(t *testing.T) {
	s := newSite(t, Options{})
	got := s.ask(t, lead, "GET", "/api/v1/teams/"+s.north+"/caseload?q=marrowby", "")
	if got.Code != http.StatusBadRequest || !strings.Contains(got.Body.String(), `"field":"q"`) {
		t.Errorf("words in the address: %d %s, expected 400 that names q", got.Code, got.Body)
	}
	for body, want := range map[string]int{`{"q":"marrowby"}`: 1, `{"q":"somebody else"}`: 0} {
		var page caseload.Page
		s.ask(t, lead, "POST", "/api/v1/teams/"+s.north+"/caseload/search", body).into(t, &page)
		if page.Total != want {
			t.Errorf("%s finds %d clients, expected %d", body, page.Total, want)
		}
	}
}
