package main

import (
	"errors"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"doorsill/internal/store"
	"doorsill/server"
)

// smallDisk is a real file system of so many bytes. Where this user may not
// mount one the test is skipped, and TestFault32TheFileMayNotGrow stands in.
func smallDisk(t *testing.T, size string) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("small", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Skipf("no small disk here: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	return dir
}

// fill writes until there is no room left.
func fill(t *testing.T, path string) {
	t.Helper()
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	for part := make([]byte, 1<<16); err == nil; {
		if _, err = file.Write(part); errors.Is(err, syscall.ENOSPC) && len(part) > 1 {
			part, err = part[:len(part)/2], nil
		}
	}
	if !errors.Is(err, syscall.ENOSPC) {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
}

// TestFault32TheServersDiskIsFull fills a small disk under a running server:
// pushes are refused in words, reading goes on with its trail, and once there
// is room it goes on without a restart.
func TestFault32TheServersDiskIsFull(t *testing.T) {
	disk := smallDisk(t, "48m")
	dir := filepath.Join(disk, "data")
	team := staffed(t, dir, 1)
	app, err := server.Open(dir, server.Options{PasswordCost: cheap()})
	if err != nil {
		t.Fatal(err)
	}
	web := httptest.NewServer(app.Handler)
	tab, lead := signedIn(t, web.URL, clinicianNo(0)).tablet(team), signedIn(t, web.URL, "lead")
	visit := someWork(&tab.Tablet)
	if err := tab.push(1000); err != nil {
		t.Fatal(err)
	}
	before := tab.Ack

	fill(t, filepath.Join(disk, "somebody-elses"))
	for range 1000 {
		tab.Answer(visit, len(tab.Lines))
	}
	for range 3 {
		wantFull(t, tab, before)
		lead.want(http.StatusOK, "GET", "/api/v1/teams/"+team+"/caseload", "", nil)
		tab.want(http.StatusOK, "GET", "/api/v1/visits/"+visit, "", nil)
	}
	var health server.HealthAnswer
	lead.want(http.StatusOK, "GET", "/healthz", "", &health)
	if health.Status != "full" {
		t.Errorf("health is %q", health.Status)
	}
	if lines := auditLines(t, app, "read visit"); lines != 3 {
		t.Errorf("%d reads of the visit are in the trail, want 3", lines)
	}

	if err := os.Remove(filepath.Join(disk, "somebody-elses")); err != nil {
		t.Fatal(err)
	}
	if err := tab.push(1000); err != nil || tab.Ack != int64(len(tab.Lines)) {
		t.Errorf("with room again: %v, receipt %d of %d", err, tab.Ack, len(tab.Lines))
	}
	web.Close()
	if err := app.Close(); err != nil {
		t.Fatal(err)
	}
	wantKept(t, dir, &tab.Tablet)
}

// wantFull wants a push refused as a tablet can show it, and nothing taken in.
func wantFull(t *testing.T, tab *tablet, ack int64) {
	t.Helper()
	var no *refused
	if err := tab.push(1000); !errors.As(err, &no) || no.status != http.StatusServiceUnavailable || no.ErrorAnswer.Error != "server-full" ||
		!strings.HasPrefix(no.Message, "The server is full") || tab.Ack != ack {
		t.Fatalf("a push to a full disk: %v, receipt %d", err, tab.Ack)
	}
}

func auditLines(t *testing.T, app *server.App, action string) (count int) {
	t.Helper()
	err := app.Store.View(t.Context(), func(r store.Reader) error {
		for e, err := range r.AuditEntries(0) {
			if err != nil {
				return err
			}
			if e.Action == action {
				count++
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return count
}

// TestFault32TheFileMayNotGrow gives a real server a limit on the size of its
// files, as a quota does.
func TestFault32TheFileMayNotGrow(t *testing.T) {
	dir := t.TempDir()
	team := staffed(t, dir, 1)
	program := startServer(t, dir, "sh", "-c", "ulimit -f 34000; exec \"$0\" \"$@\"", os.Args[0])
	tab := signedIn(t, program.url, clinicianNo(0)).tablet(team)
	visit := someWork(&tab.Tablet)
	var no *refused
	for err := error(nil); !errors.As(err, &no); err = tab.push(200) {
		if err != nil {
			t.Fatal(err)
		}
		if len(tab.Lines) > 200_000 {
			t.Fatal("the file grew without an end")
		}
		for len(tab.Lines) < int(tab.Ack)+200 {
			tab.Write("visit-noted", visit, map[string]any{"fields": map[string]string{"note": strings.Repeat("x", 18_000)}})
		}
	}
	if no.ErrorAnswer.Error != "server-full" {
		t.Errorf("refused with %v", no)
	}
	tab.want(http.StatusOK, "GET", "/api/v1/session", "", nil)
	program.kill()
	wantKept(t, dir, &tab.Tablet)

	// The same file goes on where it may grow.
	program = startServer(t, dir, os.Args[0])
	tab.url = program.url
	if err := tab.push(200); err != nil {
		t.Error(err)
	}
	program.kill()
	wantKept(t, dir, &tab.Tablet)
}
