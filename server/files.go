package server

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"
)

// files is the front end in memory: every file with its compressed twins.
type files struct {
	byPath map[string]*file
	// missing is said instead of the app when it is not in this binary.
	missing string
}

type file struct {
	kind  string // media type
	etag  string
	plain []byte
	br    []byte
	gz    []byte
	// frozen marks a name that carries the hash of its content.
	frozen bool
}

// loadFiles reads the front end once.
func loadFiles(dist fs.FS, bundled bool, missing string) (*files, error) {
	f := &files{byPath: make(map[string]*file)}
	if !bundled {
		f.missing = missing
		return f, nil
	}
	err := fs.WalkDir(dist, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || isTwin(name) || strings.HasPrefix(path.Base(name), ".") {
			return err
		}
		one, err := loadFile(dist, name)
		f.byPath["/"+name] = one
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("load front end: %w", err)
	}
	return f, nil
}

func loadFile(dist fs.FS, name string) (*file, error) {
	plain, err := fs.ReadFile(dist, name)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(plain)
	return &file{
		kind: mediaType(name), etag: hex.EncodeToString(sum[:8]), plain: plain,
		br: twin(dist, name+".br"), gz: twin(dist, name+".gz"),
		frozen: strings.HasPrefix(name, "assets/"),
	}, nil
}

func isTwin(name string) bool {
	return strings.HasSuffix(name, ".br") || strings.HasSuffix(name, ".gz")
}

func twin(dist fs.FS, name string) []byte {
	data, err := fs.ReadFile(dist, name)
	if err != nil {
		return nil // not every file has one
	}
	return data
}

// mediaType is our own table: the one of the machine is missing or wrong on
// small systems, and a module script with the wrong type does not run.
func mediaType(name string) string {
	switch path.Ext(name) {
	case ".html":
		return "text/html; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".wasm":
		return "application/wasm"
	case ".json", ".map":
		return "application/json"
	case ".webmanifest":
		return "application/manifest+json"
	case ".svg":
		return "image/svg+xml"
	case ".png":
		return "image/png"
	case ".ico":
		return "image/x-icon"
	case ".woff2":
		return "font/woff2"
	case ".txt":
		return "text/plain; charset=utf-8"
	}
	return "application/octet-stream"
}

// ServeHTTP answers everything that is not the API: a file, the app's shell
// for the paths that the app routes itself, or 404. A missing script is never
// answered with HTML, which a service worker would keep.
func (f *files) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		writeJSON(w, http.StatusMethodNotAllowed, ErrorAnswer{Error: "method", Message: "This address can only be read.", Want: "GET"})
		return
	}
	one, ok := f.byPath[r.URL.Path]
	navigation := isNavigation(r)
	switch {
	case ok:
		one.serve(w, r)
	case navigation && f.missing != "":
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		w.WriteHeader(http.StatusServiceUnavailable)
		fmt.Fprintln(w, f.missing)
	case navigation && f.byPath["/index.html"] != nil:
		f.byPath["/index.html"].serve(w, r)
	default:
		writeJSON(w, http.StatusNotFound, ErrorAnswer{Error: "not-found", Message: "There is nothing at this address."})
	}
}

// isNavigation says whether a browser would show the answer as a page.
func isNavigation(r *http.Request) bool {
	p := r.URL.Path
	if strings.HasPrefix(p, "/assets/") || strings.HasPrefix(p, "/icons/") || strings.HasPrefix(p, "/api/") {
		return false
	}
	switch r.Header.Get("Sec-Fetch-Dest") {
	case "", "document", "empty":
	default:
		return false
	}
	return path.Ext(p) == ""
}

func (f *file) serve(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	body, coding := f.pick(r.Header.Get("Accept-Encoding"))
	h.Set("Content-Type", f.kind)
	h.Set("Cache-Control", "no-cache")
	if f.frozen {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	if f.br != nil || f.gz != nil {
		h.Set("Vary", "Accept-Encoding")
	}
	tag := `"` + f.etag + coding + `"`
	h.Set("ETag", tag)
	if strings.Contains(r.Header.Get("If-None-Match"), tag) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	if coding != "" {
		h.Set("Content-Encoding", coding)
	}
	h.Set("Content-Length", strconv.Itoa(len(body)))
	w.WriteHeader(http.StatusOK)
	if r.Method == http.MethodGet {
		_, _ = w.Write(body) // when the reader has gone there is nobody to tell
	}
}

// pick returns the smallest twin that the browser takes.
func (f *file) pick(accept string) (body []byte, coding string) {
	switch {
	case f.br != nil && accepts(accept, "br"):
		return f.br, "br"
	case f.gz != nil && accepts(accept, "gzip"):
		return f.gz, "gzip"
	}
	return f.plain, ""
}

// accepts reads an Accept-Encoding header; a quality of 0 is a no.
func accepts(header, coding string) bool {
	for part := range strings.SplitSeq(header, ",") {
		name, params, _ := strings.Cut(part, ";")
		if !strings.EqualFold(strings.TrimSpace(name), coding) {
			continue
		}
		q, ok := strings.CutPrefix(strings.ReplaceAll(params, " ", ""), "q=")
		value, err := strconv.ParseFloat(q, 64)
		return !ok || err != nil || value > 0
	}
	return false
}
