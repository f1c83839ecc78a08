package server

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"testing/fstest"
)

// bundle is a front end as the build writes it, in miniature.
func bundle() fstest.MapFS {
	return fstest.MapFS{
		"index.html":            {Data: []byte("<!doctype html><title>Doorsill</title>")},
		"index.html.br":         {Data: []byte("html-br")},
		"sw.js":                 {Data: []byte("// worker")},
		"manifest.webmanifest":  {Data: []byte("{}")},
		"icons/icon.svg":        {Data: []byte("<svg/>")},
		"assets/app-AB12.js":    {Data: []byte("plain script")},
		"assets/app-AB12.js.br": {Data: []byte("script-br")},
		"assets/app-AB12.js.gz": {Data: []byte("script-gz")},
		"assets/engine-1.wasm":  {Data: []byte("\x00asm")},
		".keep":                 {Data: nil},
	}
}

func frontEnd(t *testing.T, bundled bool) *files {
	t.Helper()
	f, err := loadFiles(bundle(), bundled, "Please run the bundle step.")
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func get(h http.Handler, path string, header ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodGet, path, nil)
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func TestFilesAreServedByWhatTheyAre(t *testing.T) {
	f := frontEnd(t, true)
	const frozen, fresh = "public, max-age=31536000, immutable", "no-cache"
	for _, c := range []struct {
		path, accept              string
		status                    int
		body, kind, coding, cache string
	}{
		{"/assets/app-AB12.js", "", 200, "plain script", "text/javascript; charset=utf-8", "", frozen},
		{"/assets/app-AB12.js", "gzip, deflate, br", 200, "script-br", "text/javascript; charset=utf-8", "br", frozen},
		{"/assets/app-AB12.js", "gzip", 200, "script-gz", "text/javascript; charset=utf-8", "gzip", frozen},
		{"/assets/app-AB12.js", "br;q=0, gzip;q=0.5", 200, "script-gz", "text/javascript; charset=utf-8", "gzip", frozen},
		{"/assets/engine-1.wasm", "br", 200, "\x00asm", "application/wasm", "", frozen},
		{"/sw.js", "br", 200, "// worker", "text/javascript; charset=utf-8", "", fresh},
		{"/index.html", "br", 200, "html-br", "text/html; charset=utf-8", "br", fresh},
		{"/manifest.webmanifest", "", 200, "{}", "application/manifest+json", "", fresh},
		{"/", "", 200, "<!doctype html><title>Doorsill</title>", "text/html; charset=utf-8", "", fresh},
		{"/visits/abc/part/pos", "", 200, "<!doctype html><title>Doorsill</title>", "text/html; charset=utf-8", "", fresh},
		{"/assets/app-OLD.js", "", 404, "not-found", "application/json", "", ""},
		{"/assets/app", "", 404, "not-found", "application/json", "", ""},
		{"/favicon.ico", "", 404, "not-found", "application/json", "", ""},
		{"/assets/app-AB12.js.br", "", 404, "not-found", "application/json", "", ""},
		{"/.keep", "", 404, "not-found", "application/json", "", ""},
		{"/api/v1/nothing", "", 404, "not-found", "application/json", "", ""},
	} {
		w := get(f, c.path, "Accept-Encoding", c.accept)
		h := w.Header()
		if w.Code != c.status || !strings.Contains(w.Body.String(), c.body) ||
			h.Get("Content-Type") != c.kind || h.Get("Content-Encoding") != c.coding || h.Get("Cache-Control") != c.cache {
			t.Errorf("%s with %q: %d %q %v", c.path, c.accept, w.Code, w.Body, h)
		}
	}
}

func TestAScriptThatIsGoneIsNeverHTML(t *testing.T) {
	f := frontEnd(t, true)
	for _, dest := range []string{"script", "style", "worker", "serviceworker", "image"} {
		w := get(f, "/chunk", "Sec-Fetch-Dest", dest)
		if w.Code != http.StatusNotFound || strings.Contains(w.Body.String(), "<") {
			t.Errorf("a missing %s is answered with %d %q", dest, w.Code, w.Body)
		}
	}
	if w := get(f, "/caseload", "Sec-Fetch-Dest", "document"); w.Code != http.StatusOK {
		t.Errorf("a page of the app is answered with %d", w.Code)
	}
}

func TestAnUnchangedFileIsNotSentAgain(t *testing.T) {
	f := frontEnd(t, true)
	tag := get(f, "/index.html", "Accept-Encoding", "br").Header().Get("ETag")
	w := get(f, "/index.html", "Accept-Encoding", "br", "If-None-Match", tag)
	if w.Code != http.StatusNotModified || w.Body.Len() != 0 {
		t.Errorf("with its own tag: %d %q", w.Code, w.Body)
	}
	if w := get(f, "/index.html", "If-None-Match", tag); w.Code != http.StatusOK {
		t.Errorf("the tag of another coding: %d", w.Code)
	}
}

func TestWithoutABundleThePageSaysWhatToRun(t *testing.T) {
	f := frontEnd(t, false)
	w := get(f, "/")
	if w.Code != http.StatusServiceUnavailable || !strings.Contains(w.Body.String(), "bundle step") ||
		!strings.HasPrefix(w.Header().Get("Content-Type"), "text/plain") {
		t.Errorf("%d %q %v", w.Code, w.Body, w.Header())
	}
	if w := get(f, "/sw.js"); w.Code != http.StatusNotFound {
		t.Errorf("the worker: %d", w.Code)
	}
}

func TestFilesCanOnlyBeRead(t *testing.T) {
	w := httptest.NewRecorder()
	frontEnd(t, true).ServeHTTP(w, httptest.NewRequest(http.MethodPost, "/visits", nil))
	if w.Code != http.StatusMethodNotAllowed || w.Header().Get("Allow") != "GET, HEAD" {
		t.Errorf("%d %v", w.Code, w.Header())
	}
	w = httptest.NewRecorder()
	frontEnd(t, true).ServeHTTP(w, httptest.NewRequest(http.MethodHead, "/", nil))
	if w.Code != http.StatusOK || w.Body.Len() != 0 || w.Header().Get("Content-Length") == "" {
		t.Errorf("HEAD: %d %q %v", w.Code, w.Body, w.Header())
	}
}
