package main

import (
	"bytes"
	"errors"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"doorsill/internal/backup"
	"doorsill/internal/history"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/server"
)

// sync sends all that waits, as the protocol has it: from where the server
// stands after a gap, and everything again when the log is another one.
func (t *tablet) sync() {
	t.Helper()
	for t.Ack < int64(len(t.Lines)) {
		var no *refused
		err := t.push(50)
		switch {
		case err == nil:
		case errors.As(err, &no) && no.ErrorAnswer.Error == "log":
			t.Log, t.Ack = no.Log, 0
		case errors.As(err, &no) && no.ErrorAnswer.Error == "gap":
			t.Ack = no.Ack
		case errors.As(err, &no) && no.status == http.StatusTooManyRequests:
		default:
			t.Fatal(err)
		}
	}
}

// signInAgain gives a tablet's person a new session, on a server that may be
// another one.
func (p *person) signInAgain(url, login string) {
	again := signedIn(p.TB, url, login)
	p.url, p.cookie = again.url, again.cookie
}

// TestFault33RestoredFromAnOlderBackup is the drill: tablets push, a backup is
// made while they go on, they push more and one of them is new, the server is
// lost, another is made from the backup. The tablets notice and send again,
// and at the end everything is as it was, and nothing is lost.
func TestFault33RestoredFromAnOlderBackup(t *testing.T) {
	public, secret := keyFile(t)
	dir, backups := filepath.Join(t.TempDir(), "data"), filepath.Join(t.TempDir(), "backups")
	team := staffed(t, dir, 3)
	key, err := backup.Recipients(public)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(backups, 0o700); err != nil {
		t.Fatal(err)
	}
	app, err := server.Open(dir, server.Options{PasswordCost: cheap(), PushesPerSecond: 1000, Backups: backup.Plan{Dir: backups, For: key}})
	if err != nil {
		t.Fatal(err)
	}
	web := httptest.NewServer(app.Handler)
	tabs := []*tablet{signedIn(t, web.URL, clinicianNo(0)).tablet(team), signedIn(t, web.URL, clinicianNo(1)).tablet(team)}
	seen, lead := watched(tabs, web.URL, team)
	work(tabs, 30)
	lead.pullAll(100)

	var all sync.WaitGroup
	for _, tab := range tabs {
		all.Go(func() { work([]*tablet{tab}, 40) })
	}
	made, err := app.Backups.Make(t.Context()) // while they write
	if err != nil {
		t.Fatal(err)
	}
	all.Wait()
	lost := tabs[0].Log
	late := signedIn(t, web.URL, clinicianNo(2)).tablet(team)
	late.watch(seen, late.ID)
	tabs = append(tabs, late)
	work(tabs, 20)
	lead.pullAll(100)
	before := stateOf(t, app, tabs)
	web.Close()
	if err := app.Close(); err != nil {
		t.Fatal(err)
	}

	again := filepath.Join(t.TempDir(), "again")
	code, out, errOut := typed("", "restore", filepath.Join(backups, made.Name), "--data", again, "--key-file", secret)
	if code != 0 || !strings.Contains(out, "Everything that is stored follows from the log.") || !strings.Contains(out, "Everybody signs in again (3 sessions were ended)") {
		t.Fatalf("restore: %d\n%s%s", code, out, errOut)
	}
	sameKey(t, dir, again)
	app, err = server.Open(again, server.Options{PasswordCost: cheap(), PushesPerSecond: 1000})
	if err != nil {
		t.Fatal(err)
	}
	web = httptest.NewServer(app.Handler)
	if stale, err := (&person{TB: t, url: web.URL, cookie: tabs[0].cookie}).ask("GET", "/api/v1/session", "", nil); err != nil || stale.StatusCode != http.StatusUnauthorized {
		t.Errorf("a session of before: %v %v", stale, err)
	}
	for i, tab := range tabs {
		old := tab.Log
		tab.signInAgain(web.URL, clinicianNo(i))
		tab.Answer(someWork(&tab.Tablet), 1)
		tab.sync()
		if tab.Log == old {
			t.Errorf("tablet %d did not notice that the log is another one", i)
		}
	}
	lead.signInAgain(web.URL, "lead")
	lead.pullAll(100)
	wantOneHistory(t, seen, tabs, lead)
	var page struct {
		Earlier []model.EarlierLog
		Head    int64
	}
	tabs[0].want(http.StatusOK, "GET", "/api/v1/teams/"+team+"/events?after=0&limit=1", "", &page)
	if len(page.Earlier) != 1 || page.Earlier[0].Log != lost || page.Earlier[0].Until < 60 || page.Earlier[0].Until >= page.Head {
		t.Errorf("it was restored from %+v, want %s up to the copy's end, before %d", page.Earlier, lost, page.Head)
	}
	after := stateOf(t, app, tabs)
	for id, was := range before {
		if after[id] != was {
			t.Errorf("%s is\n%s\nand was\n%s", id, after[id], was)
		}
	}
	web.Close()
	if err := app.Close(); err != nil {
		t.Fatal(err)
	}
	wantKept(t, again, &tabs[0].Tablet, &tabs[1].Tablet, &tabs[2].Tablet)
	for i, tab := range tabs {
		if tab.Ack != int64(len(tab.Lines)) {
			t.Errorf("tablet %d: %d of %d arrived", i, tab.Ack, len(tab.Lines))
		}
	}
}

// watched writes down from now on what these tablets and the lead, who reads,
// are told.
func watched(tabs []*tablet, url, team string) (*history.Recorder, *reader) {
	seen := &history.Recorder{}
	for _, tab := range tabs {
		tab.watch(seen, tab.ID)
	}
	lead := &reader{person: signedIn(tabs[0].TB, url, "lead"), team: team}
	lead.watch(seen, "lead")
	return seen, lead
}

// work has each tablet write so many visits and send them.
func work(tabs []*tablet, visits int) {
	for range visits {
		for _, tab := range tabs {
			someWork(&tab.Tablet)
			tab.sync()
		}
	}
}

// stateOf is what the lead sees of every client of the tablets, and each
// visit's result.
func stateOf(t *testing.T, app *server.App, tabs []*tablet) map[string]string {
	t.Helper()
	state := map[string]string{}
	err := app.Store.View(t.Context(), func(r store.Reader) error {
		for line, err := range r.Summaries("") {
			if err != nil {
				return err
			}
			line.LastVisit = "" // the time of arrival, where it is earlier
			state["client "+line.Client] = strings.Join([]string{line.Name, line.Ref, line.Level, line.Visit, line.Author}, " ")
			visits, err := r.VisitsOfClient(line.Client)
			if err != nil {
				return err
			}
			for _, id := range visits {
				result, err := r.Result(id)
				if err != nil {
					return err
				}
				state["visit "+id] = result.SHA256
			}
		}
		return nil
	})
	if err != nil || len(state) < len(tabs) {
		t.Fatalf("%d records, %v", len(state), err)
	}
	return state
}

// keyFile makes a key for backups as an operator does.
func keyFile(t *testing.T) (public, secret string) {
	t.Helper()
	secret = filepath.Join(t.TempDir(), "backup.key")
	code, out, errOut := typed("", "backup", "--new-key", secret)
	if code != 0 || !strings.HasPrefix(out, "age1") {
		t.Fatalf("%d %s%s", code, out, errOut)
	}
	return strings.TrimSpace(out), secret
}

func sameKey(t *testing.T, a, b string) {
	t.Helper()
	was, err := backup.KeyIn(a)
	is, err2 := backup.KeyIn(b)
	if err := errors.Join(err, err2); err != nil || !bytes.Equal(was, is) || len(was) == 0 {
		t.Errorf("the organisation's key is another one: %v", err)
	}
}

func TestBackupAndRestoreFromTheCommandLine(t *testing.T) {
	dir := northService(t)
	public, secret := keyFile(t)
	folder := t.TempDir()
	file, phrase := filepath.Join(folder, "one.age"), filepath.Join(folder, "phrase")
	if err := os.WriteFile(phrase, []byte("seven loose cobblestones at noon\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	run := func(want int, say string, args ...string) {
		t.Helper()
		code, out, errOut := typed("", args...)
		if code != want || !strings.Contains(out+errOut, say) {
			t.Errorf("%v: exit code %d, want %d and %q\n%s%s", args, code, want, say, out, errOut)
		}
	}
	run(0, "Copied log", "backup", file, "--data", dir, "--for", public)
	run(1, "file already exists", "backup", file, "--data", dir, "--for", public)
	run(0, "Everything that is stored follows from the log.", "verify", file, "--key-file", secret)
	run(0, "The chain of 2 lines holds.", "audit", file, "--key-file", secret)
	run(1, "does not open this backup", "verify", file, "--passphrase-file", phrase)
	run(2, "is not empty, and restoring does not overwrite", "restore", file, "--data", dir, "--key-file", secret)
	run(0, "Restored into", "restore", file, "--data", filepath.Join(folder, "new", "data"), "--key-file", secret)
	run(0, "restore records", "audit", "--data", filepath.Join(folder, "new", "data"))
	run(0, "Everything that is stored follows from the log.", "verify", "--data", filepath.Join(folder, "new", "data"))

	second := filepath.Join(folder, "two.age")
	run(0, "Copied log", "backup", second, "--data", dir, "--passphrase-file", phrase)
	run(0, "Restored into", "restore", second, "--data", filepath.Join(folder, "other"), "--passphrase-file", phrase)

	code, out, errOut := typed("", "backup", "-", "--data", dir, "--for", public)
	if code != 0 || !strings.HasPrefix(out, "age-encryption.org/") {
		t.Errorf("to standard output: %d %s", code, errOut)
	}
	if strings.Contains(out, "Mara") {
		t.Error("a name can be read in the backup")
	}
	run(2, "expected the FILE", "backup", "--data", dir)
	run(2, "begins with age1", "backup", file, "--data", dir, "--for", "ssh-rsa x")
	run(2, "nothing says who may open the backup", "backup", filepath.Join(folder, "x"), "--data", dir)
	run(2, "expected the backup FILE", "restore", "--data", dir)
	run(1, "file exists", "backup", "--new-key", secret)
}

// TestFault33DamagedBackups cuts a backup short and changes it: it is refused
// in words, and no folder is left behind.
func TestFault33DamagedBackups(t *testing.T) {
	dir := northService(t)
	public, secret := keyFile(t)
	folder := t.TempDir()
	file := filepath.Join(folder, "backup.age")
	if code, _, errOut := typed("", "backup", file, "--data", dir, "--for", public); code != 0 {
		t.Fatal(errOut)
	}
	whole := read(t, file)
	changed := bytes.Clone(whole)
	changed[len(changed)/2] ^= 1
	_, other := keyFile(t)
	for name, c := range map[string]struct {
		data []byte
		key  string
		want string
	}{
		"cut short":        {whole[:len(whole)/2], secret, "damaged or incomplete"},
		"without its end":  {whole[:len(whole)-1], secret, "damaged or incomplete"},
		"a bit changed":    {changed, secret, "damaged or incomplete"},
		"not a backup":     {[]byte("something else"), secret, "not a backup"},
		"another key":      {whole, other, "does not open this backup"},
		"empty":            {nil, secret, "not a backup"},
		"a file of no key": {whole, file, "AGE-SECRET-KEY-1"},
	} {
		put(t, file, c.data)
		data := filepath.Join(folder, "data")
		code, out, errOut := typed("", "restore", file, "--data", data, "--key-file", c.key)
		if code != exitFailed || !strings.Contains(errOut, c.want) {
			t.Errorf("%s: exit code %d\n%s%s", name, code, out, errOut)
		}
		if left, err := os.ReadDir(folder); err != nil || len(left) != 1 {
			t.Errorf("%s: left behind %v %v", name, left, err)
		}
	}
}

// TestARunningServerMakesBackups asks a real server for one, and has it make
// one by itself.
func TestARunningServerMakesBackups(t *testing.T) {
	public, secret := keyFile(t)
	dir, backups := t.TempDir(), filepath.Join(t.TempDir(), "backups")
	staffed(t, dir, 1)
	if code, _, errOut := typed(clinicPassword, "account", "add", "--data", dir, "--login", "ada", "--name", "Ada", "--role", "admin"); code != 0 {
		t.Fatal(errOut)
	}
	p := startServer(t, dir, os.Args[0], "--backup-dir", backups, "--for", public)
	var made backup.Made
	signedIn(t, p.url, "ada").want(http.StatusCreated, "POST", "/api/v1/backup", "", &made)
	signedIn(t, p.url, clinicianNo(0)).want(http.StatusForbidden, "POST", "/api/v1/backup", "", nil)
	if code, out, errOut := typed("", "verify", filepath.Join(backups, made.Name), "--key-file", secret); code != 0 {
		t.Errorf("%s%s", out, errOut)
	}
	if code, _, errOut := typed("", "backup", filepath.Join(backups, "x"), "--data", dir, "--for", public); code != exitFailed || !strings.Contains(errOut, "--backup-dir") {
		t.Errorf("beside a running server: %d %s", code, errOut)
	}
	p.kill()
	files, err := filepath.Glob(filepath.Join(backups, "doorsill-*.age"))
	if err != nil || len(files) != 2 {
		t.Errorf("one when it started and one when asked: %v %v", files, err)
	}
}
