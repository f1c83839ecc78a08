package main

import (
	"bytes"
	_ "embed"
	"fmt"
	"io"
	"net/http"
	"net/http/httputil"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"time"
)

//go:embed reload.js
var reloadScript []byte

// scriptTag loads the script by its address: the content policy of the program
// allows scripts of its own origin and none within a page.
const scriptTag = `<script type="module" src="/dev/reload.js"></script>`

// pages hands requests on to the program of the last build and tells the open
// pages of each new one.
type pages struct {
	mux *http.ServeMux

	mu     sync.Mutex
	target *url.URL // nil while there is no program
	build  string   // names what target serves; never the same twice
	next   chan struct{}
}

func newPages() *pages {
	p := &pages{mux: http.NewServeMux(), next: make(chan struct{})}
	p.mux.HandleFunc("/dev/reload.js", serveScript)
	p.mux.HandleFunc("/dev/builds", p.serveBuilds)
	// Without a service worker each page comes from the last build and not from
	// the tablet's offline copy of an earlier one.
	p.mux.Handle("/sw.js", http.NotFoundHandler())
	p.mux.HandleFunc("/", p.serveProgram)
	return p
}

func (p *pages) ServeHTTP(w http.ResponseWriter, r *http.Request) { p.mux.ServeHTTP(w, r) }

// pause answers that there is no program until the next one is shown.
func (p *pages) pause() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.target = nil
}

// show hands requests to target from now on and has open pages reload.
func (p *pages) show(target *url.URL) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.target, p.build = target, strconv.FormatInt(time.Now().UnixNano(), 36)
	close(p.next)
	p.next = make(chan struct{})
}

// current returns what is served, and a channel that closes with the next.
func (p *pages) current() (target *url.URL, build string, next <-chan struct{}) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.target, p.build, p.next
}

func serveScript(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	_, _ = w.Write(reloadScript) // when the reader has gone there is nobody to tell
}

// serveBuilds sends the name of the build, and of each that follows, as server-
// sent events.
func (p *pages) serveBuilds(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("Cache-Control", "no-store")
	for {
		_, build, next := p.current()
		if build != "" {
			fmt.Fprintf(w, "data: %s\n\n", build)
		}
		if err := http.NewResponseController(w).Flush(); err != nil {
			return
		}
		select {
		case <-next:
		case <-r.Context().Done():
			return
		}
	}
}

func (p *pages) serveProgram(w http.ResponseWriter, r *http.Request) {
	target, _, _ := p.current()
	if target == nil {
		http.Error(w, "There is no program yet: see the terminal of make dev, then load this page again.", http.StatusServiceUnavailable)
		return
	}
	proxy := httputil.ReverseProxy{
		Rewrite: func(pr *httputil.ProxyRequest) {
			pr.SetURL(target)
			pr.Out.Host = pr.In.Host // what the program compares an Origin with
			pr.Out.Header.Set("Accept-Encoding", "identity")
		},
		ModifyResponse: addScript,
	}
	proxy.ServeHTTP(w, r)
}

// addScript puts the script into a page and leaves every other answer alone.
func addScript(answer *http.Response) error {
	if !strings.HasPrefix(answer.Header.Get("Content-Type"), "text/html") || answer.Request.Method == http.MethodHead {
		return nil
	}
	page, err := io.ReadAll(answer.Body)
	if err != nil {
		return err
	}
	if err := answer.Body.Close(); err != nil {
		return err
	}
	page = bytes.Replace(page, []byte("</head>"), []byte(scriptTag+"</head>"), 1)
	answer.Body = io.NopCloser(bytes.NewReader(page))
	answer.ContentLength = int64(len(page))
	answer.Header.Set("Content-Length", strconv.Itoa(len(page)))
	answer.Header.Del("ETag") // it names the page without the script
	return nil
}
