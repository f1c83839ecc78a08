package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"
)

const shell = "<html><head><title>Doorsill</title></head><body></body></html>"

// program of the tests: a page, a script, and what it was asked.
func serveShell(t *testing.T) *url.URL {
	t.Helper()
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy", "script-src 'self'")
		w.Header().Set("ETag", `"shell"`)
		if r.URL.Path == "/assets/main.js" {
			w.Header().Set("Content-Type", "text/javascript")
			_, _ = io.WriteString(w, "'</head>'")
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Header().Set("X-Host", r.Host)
		_, _ = io.WriteString(w, shell)
	}))
	t.Cleanup(s.Close)
	at, err := url.Parse(s.URL)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

func get(t *testing.T, address string) (*http.Response, string) {
	t.Helper()
	answer, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer, string(body)
}

func TestPagesGetTheScriptAndKeepTheirPolicy(t *testing.T) {
	p := newPages()
	front := httptest.NewServer(p)
	defer front.Close()
	if answer, _ := get(t, front.URL+"/"); answer.StatusCode != http.StatusServiceUnavailable {
		t.Errorf("before the first build the status is %d, want 503", answer.StatusCode)
	}
	p.show(serveShell(t))
	answer, page := get(t, front.URL+"/clients")
	if want := strings.Replace(shell, "</head>", `<script type="module" src="/dev/reload.js"></script></head>`, 1); page != want {
		t.Errorf("page: %s\nwant: %s", page, want)
	}
	if got := answer.Header.Get("Content-Security-Policy"); got != "script-src 'self'" {
		t.Errorf("the policy became %q", got)
	}
	if got := answer.Header.Get("ETag"); got != "" {
		t.Errorf("the changed page has the ETag %q", got)
	}
	if got := answer.Header.Get("X-Host"); got != strings.TrimPrefix(front.URL, "http://") {
		t.Errorf("the program was asked as host %q, but pages come from %s", got, front.URL)
	}
	if _, script := get(t, front.URL+"/assets/main.js"); script != "'</head>'" {
		t.Errorf("a script was changed to %s", script)
	}
	if answer, _ := get(t, front.URL+"/sw.js"); answer.StatusCode != http.StatusNotFound {
		t.Errorf("the service worker has status %d, want 404", answer.StatusCode)
	}
	answer, script := get(t, front.URL+"/dev/reload.js")
	if !strings.HasPrefix(answer.Header.Get("Content-Type"), "text/javascript") || !strings.Contains(script, "'/dev/builds'") {
		t.Errorf("%s %s", answer.Header.Get("Content-Type"), script)
	}
}

func TestOpenPagesHearOfEachBuild(t *testing.T) {
	p := newPages()
	front := httptest.NewServer(p)
	defer front.Close()
	program := serveShell(t)
	p.show(program)
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	ask, err := http.NewRequestWithContext(ctx, http.MethodGet, front.URL+"/dev/builds", nil)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := http.DefaultClient.Do(ask)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	events := bufio.NewScanner(answer.Body)
	build := func() string {
		for events.Scan() {
			if name, ok := strings.CutPrefix(events.Text(), "data: "); ok {
				return name
			}
		}
		t.Fatalf("the stream ended: %v", events.Err())
		return ""
	}
	first := build()
	p.pause()
	p.show(program)
	if second := build(); first == "" || second == first {
		t.Errorf("builds %q and %q, want two names", first, second)
	}
}
