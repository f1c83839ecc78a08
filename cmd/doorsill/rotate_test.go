package main

import (
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/intake"
	"doorsill/internal/seal"
	"doorsill/server"
)

// ran runs a command that must end with a code and say something.
func ran(t *testing.T, code int, say string, args ...string) (out string) {
	t.Helper()
	got, out, errOut := typed("", args...)
	if got != code || !strings.Contains(out+errOut, say) {
		t.Fatalf("%v: exit code %d, want %d and %q\n%s%s", args, got, code, say, out, errOut)
	}
	return out
}

// TestTheOrganisationsKeyIsRotated is the drill: what was sealed to the key of
// before is opened still, after a restore too, and tablets learn the new one.
func TestTheOrganisationsKeyIsRotated(t *testing.T) {
	public, secret := keyFile(t)
	dir := filepath.Join(t.TempDir(), "data")
	team := staffed(t, dir, 1)
	p := startServer(t, dir, os.Args[0])
	tab := signedIn(t, p.url, clinicianNo(0)).tablet(team)
	someWork(&tab.Tablet)
	first := tab.organisation()
	sealed := []string{tab.sealed(first.Key, 1), tab.sealed(first.Key, 2)}

	ran(t, exitFailed, "stop the server first", "key", "rotate", "--data", dir)
	p.kill()
	ran(t, 0, "1 before it are kept", "key", "rotate", "--data", dir)
	ran(t, 0, "rotate organisation key", "audit", "--data", dir)
	if listed := strings.Fields(ran(t, 0, first.ID+"  opens", "key", "list", "--data", dir)); listed[0] == first.ID {
		t.Error("tablets still seal to the key of before")
	}

	p = startServer(t, dir, os.Args[0])
	tab.signInAgain(p.url, clinicianNo(0))
	second := tab.organisation()
	if second.ID == first.ID || second.Key == first.Key {
		t.Error("the session names the key of before")
	}
	tab.open(http.StatusOK, sealed[0])
	tab.open(http.StatusOK, tab.sealed(second.Key, 2))
	strange, err := seal.NewKey()
	if err != nil {
		t.Fatal(err)
	}
	tab.open(http.StatusUnprocessableEntity, tab.sealed(strange.Public(), 3))
	p.kill()

	// A second time, and on a server that was restored.
	ran(t, 0, "2 before it are kept", "key", "rotate", "--data", dir)
	file, again := filepath.Join(t.TempDir(), "backup.age"), filepath.Join(t.TempDir(), "again")
	ran(t, 0, "Copied log", "backup", file, "--data", dir, "--for", public)
	ran(t, 0, "Restored into", "restore", file, "--data", again, "--key-file", secret)
	ran(t, 0, second.ID+"  opens", "key", "list", "--data", again)
	p = startServer(t, again, os.Args[0])
	tab.signInAgain(p.url, clinicianNo(0))
	tab.open(http.StatusOK, sealed[1])
	tab.open(http.StatusOK, tab.sealed(second.Key, 3))
}

// organisation is the key that the session names.
func (t *tablet) organisation() server.OrganisationKey {
	t.Helper()
	var session server.SessionAnswer
	t.want(http.StatusOK, "GET", "/api/v1/session", "", &session)
	return session.Organisation
}

// sealed is one entry of the tablet, sealed to a key.
func (t *tablet) sealed(public string, n int64) string {
	t.Helper()
	e, err := seal.Seal(public, seal.Header{Tablet: t.ID, Person: t.Person, From: n, To: n}, append(t.Lines[n-1], '\n'))
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// open sends a sealed entry, which must be answered with a status.
func (t *tablet) open(status int, sealed string) {
	t.Helper()
	var said intake.PushAnswer
	t.want(status, "POST", "/api/v1/sealed", sealed, &said)
	if status == http.StatusOK && len(said.Verdicts) != 1 {
		t.Errorf("opened, and found %+v", said)
	}
}

// TestTheBackupKeyIsRotated is the drill: a server that is started with the new
// key makes backups for it, those of before open with theirs, and between the
// two it makes them for both.
func TestTheBackupKeyIsRotated(t *testing.T) {
	oldPublic, oldSecret := keyFile(t)
	newPublic, newSecret := keyFile(t)
	dir, backups := t.TempDir(), filepath.Join(t.TempDir(), "backups")
	staffed(t, dir, 1)
	ran(t, 0, "", "key", "list", "--data", dir)
	var made []string
	for _, keys := range [][]string{{"--for", oldPublic}, {"--for", oldPublic, "--for", newPublic}, {"--for", newPublic}} {
		args := append([]string{os.Args[0], "--backup-dir", backups, "--backup-every", "1s"}, keys...)
		before := madeIn(t, backups)
		p := startServer(t, dir, args...)
		files := before
		for len(files) == len(before) && t.Context().Err() == nil {
			files = madeIn(t, backups)
		}
		p.kill()
		made = append(made, files[len(files)-1])
	}
	for i, opens := range []struct{ old, new bool }{{true, false}, {true, true}, {false, true}} {
		for secret, may := range map[string]bool{oldSecret: opens.old, newSecret: opens.new} {
			code, say := exitFailed, "does not open this backup"
			if may {
				code, say = 0, "Everything that is stored follows from the log."
			}
			ran(t, code, say, "verify", made[i], "--key-file", secret)
		}
	}
}

// madeIn are the whole backups of a folder, oldest first.
func madeIn(t *testing.T, folder string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "doorsill-*.age"))
	if err != nil {
		t.Fatal(err)
	}
	return files
}
