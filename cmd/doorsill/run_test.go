package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"
)

// typed runs the program as from a shell.
func typed(stdin string, args ...string) (code int, out, errOut string) {
	var o, e bytes.Buffer
	code = run(context.Background(), args, strings.NewReader(stdin), &o, &e)
	return code, o.String(), e.String()
}

func TestHelpNamesEveryCommand(t *testing.T) {
	code, out, _ := typed("", "help")
	if code != 0 {
		t.Errorf("exit code %d", code)
	}
	for _, c := range commands() {
		if !strings.Contains(out, "\n  "+c.name) {
			t.Errorf("help does not name %s:\n%s", c.name, out)
		}
	}
}

func TestWrongCallsAreExplained(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "Usage: doorsill COMMAND"},
		{[]string{"drive"}, `there is no command "drive"`},
		{[]string{"serve", "extra"}, `unexpected "extra"`},
		{[]string{"serve", "--speed", "9"}, "flag provided but not defined: -speed"},
		{[]string{"serve", "--addr", "8080"}, "expected HOST:PORT"},
		{[]string{"serve", "--addr", "0.0.0.0:8080"}, "nothing would be encrypted"},
		{[]string{"serve", "--addr", ":8080"}, "nothing would be encrypted"},
		{[]string{"serve", "--addr", "192.0.2.7:8080"}, "--behind-proxy"},
		{[]string{"serve", "--addr", "192.0.2.7:8080"}, "--acme-domain"},
		{[]string{"serve", "--tls-cert", "c.pem"}, "belong together"},
		{[]string{"serve", "--acme-domain", "doorsill.example"}, "belong together"},
		{[]string{"serve", "--tls-cert", "c.pem", "--tls-key", "k.pem", "--behind-proxy", "127.0.0.1"}, "exclude each other"},
		{[]string{"serve", "--unsigned-until", "tomorrow"}, "expected a date such as 2026-12-31"},
		{[]string{"serve", "--behind-proxy", "proxy.example"}, "expected addresses or networks"},
		{[]string{"serve", "--oidc-issuer", "https://sign-in.example"}, "belong together"},
		{[]string{"serve", "--oidc-issuer", "http://sign-in.example", "--oidc-client-id", "x", "--oidc-secret-file", "run_test.go", "--public-url", "https://doorsill.example"}, "issuer: expected an https address"},
		{[]string{"serve", "--oidc-issuer", "https://sign-in.example", "--oidc-client-id", "x", "--oidc-secret-file", "/dev/null", "--public-url", "https://doorsill.example"}, "both needed"},
		{[]string{"demo", "--addr", "0.0.0.0:8080"}, "nothing would be encrypted"},
		{[]string{"account"}, "there is no verb"},
		{[]string{"account", "team", "rename"}, `there is no verb "team rename"`},
		{[]string{"account", "add", "--login", "x"}, "--role is missing"},
		{[]string{"account", "add", "--login", "x", "--role", "lead"}, "--team is missing"},
		{[]string{"account", "add", "--login", "x", "--role", "lead", "--team", "None"}, `there is no team "None"`},
		{[]string{"account", "add", "--login", "x", "--name", "X", "--role", "admin"}, "at least 15 characters"},
		{[]string{"account", "password"}, "--login is missing"},
		{[]string{"account", "identity", "--email", "x"}, "--login is missing"},
		{[]string{"account", "revoke", "--login", "nobody"}, `nobody has the login "nobody"`},
	} {
		args := c.args
		if len(args) > 2 && args[0] == "account" {
			args = append(args, "--data", t.TempDir())
		}
		code, _, errOut := typed("short\n", args...)
		if code != exitUsage || !strings.Contains(errOut, c.want) {
			t.Errorf("%v: exit code %d, %q; want %q", c.args, code, errOut, c.want)
		}
	}
}

func TestAccountsFromTheCommandLine(t *testing.T) {
	dir := t.TempDir()
	ok := func(stdin, want string, args ...string) {
		t.Helper()
		code, out, errOut := typed(stdin, append(args, "--data", dir)...)
		if code != 0 || !strings.Contains(out, want) {
			t.Fatalf("%v: exit code %d, %q %q; want %q", args, code, out, errOut, want)
		}
	}
	ok("", `Team "North" is there`, "account", "team", "add", "--name", "North")
	ok("", "North", "account", "team", "list")
	ok("seven loose cobblestones\n", `Mara can sign in as "mara"`, "account", "add",
		"--login", "Mara", "--name", "Mara", "--team", "north", "--role", "lead")
	ok("seven loose cobblestones", `Ada can sign in as "ada"`, "account", "add", "--login", "ada", "--name", "Ada", "--role", "admin")
	ok("", "mara   Mara  lead in North", "account", "list")
	ok("nine quiet lighthouse lamps\n", "new password", "account", "password", "--login", "mara")
	ok("", "Mara can sign in at the provider", "account", "identity", "--login", "mara", "--email", "mara@clinic.example")
	ok("", "no longer", "account", "identity", "--login", "mara")
	ok("", "signed out everywhere", "account", "revoke", "--login", "mara")
}

// screen is an output that a test can read while a command writes it.
type screen struct {
	mu  sync.Mutex
	buf bytes.Buffer
	hit chan struct{}
}

func (s *screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	n, err := s.buf.Write(p)
	select {
	case s.hit <- struct{}{}:
	default:
	}
	return n, err
}

// await waits until what was written matches, and returns the first group.
func (s *screen) await(t *testing.T, pattern string) string {
	t.Helper()
	re := regexp.MustCompile(pattern)
	for deadline := time.After(10 * time.Second); ; {
		s.mu.Lock()
		m := re.FindStringSubmatch(s.buf.String())
		s.mu.Unlock()
		if m != nil {
			return m[1]
		}
		select {
		case <-s.hit:
		case <-deadline:
			t.Fatalf("nothing like %q was written: %s", pattern, s.buf.String())
		}
	}
}

func TestServeAnswersAndStops(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	out, ended := &screen{hit: make(chan struct{}, 1)}, make(chan int, 1)
	dir := t.TempDir()
	go func() {
		ended <- run(ctx, []string{"serve", "--data", dir, "--addr", "127.0.0.1:0"}, strings.NewReader(""), out, io.Discard)
	}()
	address := out.await(t, `listens on (http://127\.0\.0\.1:\d+)`)
	out.await(t, `(Nobody can sign in yet)`)
	got, err := http.Get(address + "/healthz")
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(got.Body)
	if err != nil || got.StatusCode != 200 || string(body) != `{"status":"ok"}` {
		t.Errorf("health: %d %s %v", got.StatusCode, body, err)
	}
	if err := got.Body.Close(); err != nil {
		t.Error(err)
	}
	if code, _, errOut := typed("", "account", "list", "--data", dir); code != exitFailed || !strings.Contains(errOut, "stop the server first") {
		t.Errorf("managing people beside a running server: %d %s", code, errOut)
	}
	cancel()
	if code := <-ended; code != 0 {
		t.Errorf("exit code %d after being told to stop", code)
	}
}
