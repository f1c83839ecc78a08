package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/audit"
	"doorsill/internal/model"
	"doorsill/internal/seal"
	"doorsill/internal/signing"
	"doorsill/internal/store"
	"doorsill/internal/tablettest"
	"doorsill/internal/validation"
	"doorsill/server"
)

// lostTablet is a data folder with one clinician, whose tablet has sent nothing.
type lostTablet struct {
	data, person, team, tablet, key string
	// at is when all its entries were made, so that one number is one entry.
	at     string
	signer *tablettest.Signer
}

func newLostTablet(t *testing.T) lostTablet {
	t.Helper()
	data := t.TempDir()
	cheap := account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}
	app, err := server.Open(data, server.Options{NoSync: true, PasswordCost: cheap})
	if err != nil {
		t.Fatal(err)
	}
	ctx, console := t.Context(), account.Console()
	team, err := app.Accounts.AddTeam(ctx, console, "Invented team")
	if err != nil {
		t.Fatal(err)
	}
	const password = "seven loose cobblestones"
	p, err := app.Accounts.AddPerson(ctx, console, account.NewPerson{
		Login: "invented", Name: "Invented Person", Password: password, Roles: map[string]string{team.ID: model.RoleClinician},
	})
	if err != nil {
		t.Fatal(err)
	}
	_, who, err := app.Accounts.SignIn(ctx, account.SignIn{Login: "invented", Password: password, Source: "test"})
	if err != nil {
		t.Fatal(err)
	}
	tablet, err := app.Accounts.AddTablet(ctx, who, account.NewTablet{Label: "lost"})
	signer := tablettest.NewSigner("lost")
	who.Tablet = tablet.ID
	keyed := app.Accounts.SetTabletKey(ctx, who, tablet.ID, account.NewTabletKey{Key: signer.Key, Proof: signer.Sign(signing.KeyStatement(tablet.ID, signer.Key))})
	if err := errors.Join(err, keyed, app.Close()); err != nil {
		t.Fatal(err)
	}
	key, err := seal.ReadKey(data)
	if err != nil {
		t.Fatal(err)
	}
	return lostTablet{data: data, person: p.ID, team: team.ID, tablet: tablet.ID, key: key.Public(), at: time.Now().UTC().Format("2006-01-02T15:04:05.000Z"), signer: signer}
}

// envelope seals one client-opened event with a number.
func (l lostTablet) envelope(t *testing.T, n int64) []byte {
	t.Helper()
	line := fmt.Sprintf(`{"tablet":%q,"n":%d,"kind":"client-opened","subject":"invented-client-%d","author":%q,"at":%q,"zone":"Etc/UTC","schema":1,"seen":0,"body":{"team":%q,"ref":"R-%d","name":"Invented Client","referred":"2026-01-05","priority":"soon","course":"stable"}}`+"\n",
		l.tablet, n, n, l.person, l.at, l.team, n)
	e, err := seal.Seal(l.key, seal.Header{Tablet: l.tablet, Person: l.person, From: n, To: n}, []byte(line))
	if err != nil {
		t.Fatal(err)
	}
	if l.signer != nil {
		e.Signature = l.signer.Sign(e.Statement())
	}
	text, err := json.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	return append(text, '\n')
}

func (l lostTablet) file(t *testing.T, lines ...[]byte) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "outbox.doorsill")
	if err := os.WriteFile(name, bytes.Join(lines, nil), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestImportTakesInWhatATabletCouldNotSend(t *testing.T) {
	l := newLostTablet(t)
	name := l.file(t, l.envelope(t, 1), []byte("\n"), l.envelope(t, 2))
	for _, want := range []string{"2 envelopes: 2 entries stored, 0 known already, 0 set aside", "2 envelopes: 0 entries stored, 2 known already"} {
		code, out, errOut := typed("", "import", name, "--data", l.data)
		if code != 0 || !strings.Contains(out, want) {
			t.Fatalf("exit %d, %s%s; expected %q", code, out, errOut, want)
		}
	}
	app, err := server.Open(l.data, server.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	defer app.Close()
	if _, err := audit.Verify(t.Context(), app.Store); err != nil {
		t.Error(err)
	}
	traced := 0
	err = app.Store.View(t.Context(), func(r store.Reader) error {
		if c, err := r.Summary("invented-client-2"); err != nil || c.Name != "Invented Client" {
			t.Errorf("the caseload has %+v, %v", c, err)
		}
		for e, err := range r.AuditEntries(0) {
			if err != nil {
				return err
			}
			if e.Action == "import events" && e.Subject == l.tablet && strings.Contains(e.Detail, audit.OK) {
				traced++
			}
		}
		return nil
	})
	if err != nil || traced != 4 {
		t.Errorf("%d lines in the audit trail, %v; expected 4", traced, err)
	}
}

func TestImportSaysWhatItCouldNotTake(t *testing.T) {
	l := newLostTablet(t)
	stranger := l
	stranger.person = "nobody"
	name := l.file(t, []byte("scribble\n"), stranger.envelope(t, 1), l.envelope(t, 3), l.envelope(t, 1))
	code, out, errOut := typed("", "import", "--data", l.data, name)
	if code != exitFailed || !strings.Contains(out, "4 envelopes: 1 entry stored") {
		t.Errorf("exit %d, %s", code, out)
	}
	for _, want := range []string{":1: read envelope", ":2: nobody here has the id", ":3: Entries before 3 have not arrived", "3 of 4 envelopes were not taken in; keep the file"} {
		if !strings.Contains(errOut, want) {
			t.Errorf("expected %q in\n%s", want, errOut)
		}
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"import"}, "expected one FILE, got 0"},
		{[]string{"import", name, "--data", t.TempDir()}, "has no organisation.key"},
		{[]string{"import", filepath.Join(t.TempDir(), "none"), "--data", l.data}, "no such file"},
		{[]string{"import", l.file(t), "--data", l.data}, "holds no envelope"},
	} {
		if code, _, errOut := typed("", c.args...); code == 0 || !strings.Contains(errOut, c.want) {
			t.Errorf("%v: exit %d, %s; expected %q", c.args, code, errOut, c.want)
		}
	}
}

// TestImportCountsWhatItSays wants one entry counted once, in however many envelopes
// of the file it lies.
func TestImportCountsWhatItSays(t *testing.T) {
	l := newLostTablet(t)
	unsigned := l
	unsigned.signer = nil
	for _, c := range []struct {
		name, want string
		lines      [][]byte
	}{
		{"one envelope", "1 envelope: 1 entry stored, 0 known already, 0 set aside", [][]byte{l.envelope(t, 1)}},
		{"one entry in two", "2 envelopes: 0 entries stored, 0 known already, 1 set aside for the lead.\nSet aside because no tablet of their author signed them: 1 entry.", [][]byte{unsigned.envelope(t, 2), unsigned.envelope(t, 2)}},
	} {
		code, out, errOut := typed("", "import", l.file(t, c.lines...), "--data", l.data)
		if code != 0 || !strings.Contains(out, c.want) {
			t.Errorf("%s: exit %d, %s%s; expected %q", c.name, code, out, errOut, c.want)
		}
	}
	code, _, errOut := typed("", "import", l.file(t, []byte("scribble\n")), "--data", l.data)
	if code != exitFailed || !strings.Contains(errOut, "1 of 1 envelope was not taken in") {
		t.Errorf("exit %d, %s", code, errOut)
	}
}

// TestImportKeepsAsideWhatNoTabletOfTheAuthorSigned: whoever has the
// organisation's public key can seal, and knows the ids. What they make counts
// for nothing and takes no number from the tablet.
func TestImportKeepsAsideWhatNoTabletOfTheAuthorSigned(t *testing.T) {
	l := newLostTablet(t)
	forged, unsigned := l, l
	forged.signer, unsigned.signer = tablettest.NewSigner("somebody else"), nil
	file := l.file(t, forged.envelope(t, 1), unsigned.envelope(t, 2))
	for range 2 { // a second time it is no more
		code, out, errOut := typed("", "import", file, "--data", l.data)
		if code != 0 || !strings.Contains(out, "2 envelopes: 0 entries stored, 0 known already, 2 set aside") || !strings.Contains(out, "no tablet of their author signed them: 2 entries.") {
			t.Fatalf("exit %d, %s%s", code, out, errOut)
		}
	}
	code, out, errOut := typed("", "import", l.file(t, l.envelope(t, 1), l.envelope(t, 2)), "--data", l.data)
	if code != 0 || !strings.Contains(out, "2 entries stored, 0 known already, 0 set aside") {
		t.Fatalf("the tablet's own: exit %d, %s%s", code, out, errOut)
	}
	app, err := server.Open(l.data, server.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	defer app.Close()
	err = app.Store.View(t.Context(), func(r store.Reader) error {
		kept, err := r.QuarantinedOf(store.QuarantineFilter{})
		if len(kept) != 2 || kept[0].Code != validation.CodeUnsigned || kept[0].Team != l.team {
			t.Errorf("kept %+v", kept)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}
