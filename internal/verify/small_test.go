package verify_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/audit"
	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/tablettest"
	"doorsill/internal/verify"
)

func lists() []*checklist.Definition { return authoring.StandardVersions() }

func noon() time.Time { return time.Date(2026, 3, 10, 12, 0, 0, 0, time.UTC) }

// smallService is the file of a service in which everything occurs that is
// stored: two people, two clients, a signed and amended visit, something set
// aside and settled, sessions, an assignment, an audit trail.
func smallService(t *testing.T) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "records.db")
	db, err := bolt.Open(path, bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	trail := audit.New(db, noon)
	accounts, err := account.New(account.Options{Store: db, Trail: trail, Now: noon, Cost: account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}})
	if err != nil {
		t.Fatal(err)
	}
	in := intake.New(db, lists(), noon)
	fillSmall(t, db, accounts, in)
	in.Close()
	trail.Close()
	var data bytes.Buffer // only the pages that were ever used, not the room made for more
	if _, err := db.WriteTo(&data); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	return data.Bytes()
}

const password = "seven loose cobblestones"

func fillSmall(t *testing.T, db store.Store, accounts *account.Service, in *intake.Intake) {
	t.Helper()
	team, err := accounts.AddTeam(t.Context(), account.Console(), "North")
	if err != nil {
		t.Fatal(err)
	}
	var tablets []*tablettest.Tablet
	var callers []account.Caller
	for login, role := range map[string]string{"marit": model.RoleClinician, "lena": model.RoleLead} {
		p, err := accounts.AddPerson(t.Context(), account.Console(), account.NewPerson{
			Login: login, Name: "Invented " + login, Password: password, Roles: map[string]string{team.ID: role}})
		if err != nil {
			t.Fatal(err)
		}
		_, c, err := accounts.SignIn(t.Context(), account.SignIn{Login: login, Password: password, Source: "192.0.2.1"})
		if err != nil {
			t.Fatal(err)
		}
		made, err := accounts.AddTablet(t.Context(), c, account.NewTablet{Label: "blue"})
		if err != nil {
			t.Fatal(err)
		}
		tablets = append(tablets, &tablettest.Tablet{ID: made.ID, Person: p.ID, Team: team.ID})
		callers = append(callers, c)
	}
	for i, tab := range tablets {
		client, visit := strings.Repeat("c", 30)+string(rune('a'+i)), strings.Repeat("d", 30)+string(rune('a'+i))
		tab.Client(client, "Quillon Marrowby")
		tab.Visit(visit, client)
		for j := range 6 {
			tab.Answer(visit, j)
		}
		tab.Force(visit, 40)
		tab.Answer("no-such-visit", 1) // is quarantined
		tab.Write(model.KindVisitSigned, visit, model.VisitSigned{Level: "pause", Result: strings.Repeat("0", 64), Name: "Invented"})
		send(t, in, callers[i], tab)
		change, err := json.Marshal(model.AnswerGiven{Item: "pos-head", State: model.StateAnswered, Level: "1"})
		if err != nil {
			t.Fatal(err)
		}
		tab.Write(model.KindAmendmentMade, visit, model.AmendmentMade{Reason: "a slip", Kind: model.KindAnswerGiven, Change: change})
		send(t, in, callers[i], tab)
		if _, err := in.Assign(t.Context(), callers[i], client, 0, callers[i].Person, "active"); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := in.Settle(t.Context(), callers[0], 1, "asked on the phone"); err != nil {
		t.Fatal(err)
	}
}

func send(t *testing.T, in *intake.Intake, c account.Caller, tab *tablettest.Tablet) {
	t.Helper()
	body, _ := tab.Push(1000)
	answer, err := in.Push(t.Context(), c, bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	tab.Ack, tab.Log = answer.Ack, answer.Log
}

// write puts a file where it can be opened.
func write(t *testing.T, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "records.db")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func compare(t *testing.T, path string) verify.Report {
	t.Helper()
	db, err := bolt.Open(path, bolt.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	report, err := verify.Store(t.Context(), db, lists())
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	return report
}

// caller is somebody who is a clinician of a team.
func caller(person, team string) account.Caller {
	return account.Caller{Person: person, Name: person, Teams: map[string]string{team: model.RoleClinician}}
}
