package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/history"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/tablettest"
	"doorsill/server"
)

func TestMain(m *testing.M) {
	if os.Getenv(childMode) != "" {
		main()
	}
	os.Exit(m.Run())
}

const clinicPassword = "seven loose cobblestones"

// staffed makes records with one team of so many clinicians and a lead, and
// returns the team.
func staffed(t testing.TB, dir string, clinicians int) (team string) {
	t.Helper()
	app, err := server.Open(dir, server.Options{NoSync: true, PasswordCost: cheap()})
	if err != nil {
		t.Fatal(err)
	}
	north, err := app.Accounts.AddTeam(t.Context(), account.Console(), "North")
	if err != nil {
		t.Fatal(err)
	}
	for i := range clinicians + 1 {
		n := account.NewPerson{Login: clinicianNo(i), Name: "Invented", Password: clinicPassword, Roles: map[string]string{north.ID: model.RoleClinician}}
		if i == clinicians {
			n.Login, n.Roles = "lead", map[string]string{north.ID: model.RoleLead}
		}
		if _, err := app.Accounts.AddPerson(t.Context(), account.Console(), n); err != nil {
			t.Fatal(err)
		}
	}
	if err := app.Close(); err != nil {
		t.Fatal(err)
	}
	return north.ID
}

func cheap() account.Cost { return account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1} }

func clinicianNo(i int) string { return fmt.Sprintf("clinician-%d", i) }

// person is somebody who is signed in at a server.
type person struct {
	testing.TB
	url, id string
	cookie  *http.Cookie
	// seen is where what this person asks and is told is written down, under
	// the name of a client; nil most of the time.
	seen   *history.Recorder
	client string
}

func signedIn(t testing.TB, url, login string) *person {
	t.Helper()
	p := &person{TB: t, url: url}
	r, err := http.Post(url+"/api/v1/session", "application/json", strings.NewReader(fmt.Sprintf(`{"name":%q,"password":%q}`, login, clinicPassword)))
	if err != nil {
		t.Fatal(err)
	}
	var said server.SessionAnswer
	p.read(r, &said)
	if len(r.Cookies()) != 2 {
		t.Fatalf("sign in as %s: %d", login, r.StatusCode)
	}
	p.cookie, p.id = r.Cookies()[0], said.Person.ID
	return p
}

func (p *person) read(r *http.Response, into any) {
	p.Helper()
	data, err := io.ReadAll(r.Body)
	if err == nil {
		err = r.Body.Close()
	}
	if err == nil && into != nil {
		err = json.Unmarshal(data, into)
	}
	if err != nil {
		p.Fatalf("%v in %s", err, data)
	}
}

// ask sends a request; the error is the network's.
func (p *person) ask(method, path, contentType string, body []byte) (*http.Response, error) {
	r, err := http.NewRequestWithContext(p.Context(), method, p.url+path, bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	r.AddCookie(p.cookie)
	r.Header.Set("Content-Type", contentType)
	return p.send(r, body)
}

// want asks for something that must be answered with a status.
func (p *person) want(status int, method, path, body string, into any) *http.Response {
	p.Helper()
	r, err := p.ask(method, path, "application/json", []byte(body))
	if err != nil {
		p.Fatal(err)
	}
	if r.StatusCode != status {
		said, _ := io.ReadAll(r.Body)
		p.Fatalf("%s %s: %d, want %d: %s", method, path, r.StatusCode, status, said)
	}
	p.read(r, into)
	return r
}

// tablet is a person's tablet.
type tablet struct {
	*person
	tablettest.Tablet
}

func (p *person) tablet(team string) *tablet {
	p.Helper()
	var made server.TabletMade
	p.want(http.StatusCreated, "POST", "/api/v1/tablets", `{"label":"blue"}`, &made)
	return &tablet{person: p, Tablet: tablettest.Tablet{ID: made.ID, Person: p.id, Team: team}}
}

// refused is what a server says that does not take a push.
type refused struct {
	status int
	server.ErrorAnswer
	Ack int64  `json:"ack"`
	Log string `json:"log"`
}

func (r *refused) Error() string {
	return fmt.Sprintf("%d %s: %s", r.status, r.ErrorAnswer.Error, r.Message)
}

// push sends at most so many events of what waits, once, and takes the
// server's word on them. The error is the network's or *refused.
func (t *tablet) push(most int) error {
	body, count := t.Push(most)
	t.Unanswered = append(t.Unanswered, int64(count))
	r, err := t.ask("POST", "/api/v1/events", "application/x-ndjson", body)
	if err != nil {
		return err
	}
	data, err := io.ReadAll(r.Body)
	if err != nil {
		return err
	}
	if err := r.Body.Close(); err != nil {
		return err
	}
	if r.StatusCode != http.StatusOK {
		t.Unanswered = t.Unanswered[:len(t.Unanswered)-1] // nothing of it was taken
		no := &refused{status: r.StatusCode}
		if err := json.Unmarshal(data, no); err != nil {
			return fmt.Errorf("%w in %q", err, data)
		}
		return no
	}
	var said intake.PushAnswer
	if err := json.Unmarshal(data, &said); err != nil {
		return fmt.Errorf("%w in %q", err, data)
	}
	t.Ack, t.Log, t.Unanswered = said.Ack, said.Log, nil
	return nil
}

// someWork opens a client with a visit on a tablet and returns the visit.
func someWork(t *tablettest.Tablet) (visit string) {
	client := fmt.Sprintf("client-%s-%d", t.ID[:8], len(t.Lines))
	visit = fmt.Sprintf("visit-%s-%d", t.ID[:8], len(t.Lines))
	t.Client(client, "Quillon Marrowby")
	t.Visit(visit, client)
	for i := range 4 {
		t.Answer(visit, i)
	}
	return visit
}

// firstAddress reads what a server says until it names its address.
func firstAddress(out io.Reader) string {
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if _, rest, found := strings.Cut(lines.Text(), "listens on "); found {
			url, _, _ := strings.Cut(rest, ". ")
			return url
		}
	}
	return ""
}

// wantKept wants the records to fit together and to hold, once and as they
// were written, all that the tablets were told is kept; and of a push that got
// no answer everything or nothing.
func wantKept(t testing.TB, dir string, tablets ...*tablettest.Tablet) {
	t.Helper()
	var out bytes.Buffer
	if err := runVerify(t.Context(), []string{"--data", dir}, console{out: &out, errOut: &out}); err != nil {
		t.Fatalf("verify: %v\n%s", err, out.String())
	}
	db, err := bolt.Open(filepath.Join(dir, server.RecordsFile), bolt.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	err = db.View(t.Context(), func(r store.Reader) (err error) {
		for _, tab := range tablets {
			err = errors.Join(err, kept(r, tab))
		}
		return err
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
}

func kept(r store.Reader, tab *tablettest.Tablet) error {
	for n := int64(1); n <= tab.Ack; n++ {
		placed, err := r.Placed(tab.ID, n)
		if err != nil || !bytes.Equal(placed.Raw, tab.Lines[n-1]) {
			return fmt.Errorf("event %d of tablet %s was acknowledged and is not there as it was: %w", n, tab.ID, err)
		}
	}
	there, err := r.Tablet(tab.ID)
	if err == nil && there.Ack != tab.Ack && !slices.Contains(tab.Unanswered, there.Ack-tab.Ack) {
		err = fmt.Errorf("tablet %s: of pushes of %v after %d the server has a part, up to %d", tab.ID, tab.Unanswered, tab.Ack, there.Ack)
	}
	return err
}
