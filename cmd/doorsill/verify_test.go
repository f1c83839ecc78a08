package main

import (
	"bytes"
	"log/slog"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/server"
)

// northService makes records with one team and one person.
func northService(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	for _, args := range [][]string{
		{"account", "team", "add", "--name", "North"},
		{"account", "add", "--login", "mara", "--name", "Mara", "--team", "North", "--role", "lead"},
	} {
		if code, _, errOut := typed("seven loose cobblestones\n", append(args, "--data", dir)...); code != 0 {
			t.Fatalf("%v: %s", args, errOut)
		}
	}
	return dir
}

func TestVerifySaysThatAllFits(t *testing.T) {
	dir := northService(t)
	code, out, errOut := typed("", "verify", "--data", dir)
	if code != 0 || !strings.Contains(out, "1 people, 2 lines of audit trail") || !strings.Contains(out, "Everything that is stored follows from the log.") {
		t.Errorf("exit code %d\n%s%s", code, out, errOut)
	}
	// A copy of the file can be read wherever it lies.
	data, err := os.ReadFile(filepath.Join(dir, server.RecordsFile))
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "copy")
	if err := os.WriteFile(file, data, 0o400); err != nil {
		t.Fatal(err)
	}
	if code, out, errOut := typed("", "verify", file); code != 0 {
		t.Errorf("a copy: exit code %d\n%s%s", code, out, errOut)
	}
}

// TestVerifySaysThatTheNoteOfCommitsIsWanting, and the server's log once.
func TestVerifySaysThatTheNoteOfCommitsIsWanting(t *testing.T) {
	dir := northService(t)
	note := filepath.Join(dir, server.RecordsFile+".commit")
	for _, tt := range []struct {
		want   string
		change func() error
	}{
		{"records.db.commit is damaged", func() error { return os.WriteFile(note, []byte("scribble"), 0o600) }},
		{"records.db.commit is missing", func() error { return os.Remove(note) }},
	} {
		if err := tt.change(); err != nil {
			t.Fatal(err)
		}
		if code, out, errOut := typed("", "verify", "--data", dir); code != exitFailed || !strings.Contains(errOut, tt.want) {
			t.Errorf("expected %q: exit code %d\n%s%s", tt.want, code, out, errOut)
		}
	}
	for i, log := range []string{said(t, dir), said(t, dir)} {
		if warned := strings.Contains(log, "records.db.commit is missing"); warned != (i == 0) {
			t.Errorf("start %d: the log says %q", i+1, log)
		}
	}
	if code, out, errOut := typed("", "verify", "--data", dir); code != 0 {
		t.Errorf("once a server was started: exit code %d\n%s%s", code, out, errOut)
	}
}

// said is what a service that is opened and closed says in its log.
func said(t *testing.T, dir string) string {
	t.Helper()
	var log bytes.Buffer
	app, err := server.Open(dir, server.Options{NoSync: true, Log: slog.New(slog.NewTextHandler(&log, nil))})
	if err != nil {
		t.Fatal(err)
	}
	if err := app.Close(); err != nil {
		t.Fatal(err)
	}
	return log.String()
}

func TestVerifySaysWhatDiffersAndWhere(t *testing.T) {
	dir := northService(t)
	db, err := bolt.Open(filepath.Join(dir, server.RecordsFile), bolt.Options{})
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(t.Context(), func(w store.Writer) error { return w.SetTablet(store.Tablet{ID: "tab-x", Person: "p", Ack: 7}) })
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	code, out, errOut := typed("", "verify", "--data", dir)
	if code != exitFailed || !strings.Contains(out, "tablet tab-x: Its receipt says 7; 0 of its numbers have a place") || !strings.Contains(errOut, "do not fit together") {
		t.Errorf("exit code %d\n%s%s", code, out, errOut)
	}
}

func TestVerifyOfWhatCanNotBeRead(t *testing.T) {
	dir := northService(t)
	path := filepath.Join(dir, server.RecordsFile)
	db, err := bolt.Open(path, bolt.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if code, _, errOut := typed("", "verify", "--data", dir); code != exitFailed || !strings.Contains(errOut, "A server has these records open. Stop it first, or name a backup file") {
		t.Errorf("while a server runs: exit code %d\n%s", code, errOut)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for name, broken := range map[string][]byte{
		"a torn list":    bytes.Replace(data, []byte("members-of"), []byte("nembers-of"), 1),
		"cut off":        data[:10_000],
		"empty":          {},
		"zeroes":         make([]byte, len(data)),
		"not of records": []byte(strings.Repeat("something else\n", 1000)),
	} {
		if err := os.WriteFile(path, broken, 0o600); err != nil {
			t.Fatal(err)
		}
		code, out, errOut := typed("", "verify", "--data", dir)
		if code != exitFailed || strings.Contains(out, "Everything") || strings.Contains(out+errOut, "goroutine") {
			t.Errorf("%s: exit code %d\n%s%s", name, code, out, errOut)
		}
	}
	if code, _, errOut := typed("", "verify", "--data", t.TempDir()); code != exitUsage || !strings.Contains(errOut, "there are no records at") {
		t.Errorf("an empty folder: exit code %d\n%s", code, errOut)
	}
}

func TestAuditPrintsAndChecksTheChain(t *testing.T) {
	dir := northService(t)
	code, out, errOut := typed("", "audit", "--data", dir)
	if code != 0 || !strings.Contains(out, "add team") || !strings.Contains(out, "add person") || !strings.Contains(out, "The chain of 2 lines holds.") {
		t.Errorf("exit code %d\n%s%s", code, out, errOut)
	}
	code, head, _ := typed("", "audit", "--head", "--data", dir)
	if code != 0 || !regexp.MustCompile(`^2:[0-9a-f]{64}\n$`).MatchString(head) {
		t.Errorf("exit code %d, head %q", code, head)
	}
	head = strings.TrimSpace(head)
	if code, _, errOut := typed("", "audit", "--kept", head, "--data", dir); code != 0 {
		t.Errorf("the head that was kept: %s", errOut)
	}
	other := "2:" + strings.Repeat("0", 64)
	if code, _, errOut := typed("", "audit", "--kept", other, "--data", dir); code != exitFailed || !strings.Contains(errOut, "line 2 is not the one whose hash was kept") {
		t.Errorf("another head: exit code %d %s", code, errOut)
	}
	if _, out, _ := typed("", "audit", "--since", "2999-01-01", "--data", dir); strings.Contains(out, "add team") {
		t.Errorf("lines of the past: %s", out)
	}
	if _, out, _ := typed("", "audit", "--person", "mara", "--data", dir); strings.Contains(out, "add team") {
		t.Errorf("lines of others: %s", out)
	}
	for _, args := range [][]string{{"--since", "March"}, {"--kept", "2"}, {"--client", "nobody"}} {
		if code, _, errOut := typed("", append([]string{"audit", "--data", dir}, args...)...); code != exitUsage {
			t.Errorf("%v: exit code %d %s", args, code, errOut)
		}
	}
}
