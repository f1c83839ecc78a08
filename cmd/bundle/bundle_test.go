package main

import (
	"bytes"
	"errors"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestEqualFilesGiveEqualNames(t *testing.T) {
	a, b := newDist(), newDist()
	if x, y := a.addHashed("part", ".js", []byte("one")), b.addHashed("part", ".js", []byte("one")); x != y {
		t.Errorf("the same content got the names %s and %s", x, y)
	}
	if a.buildID() != b.buildID() {
		t.Error("the same files have two build ids")
	}
	b.addHashed("part", ".js", []byte("two"))
	if a.buildID() == b.buildID() {
		t.Error("different files have one build id")
	}
}

func TestPageTakesTheHashedNames(t *testing.T) {
	root := t.TempDir()
	writeFile(t, root, "frontend/index.html", "<head><!-- bundle: head --></head><body><!-- bundle: script --></body>")
	d := newDist()
	if err := addPage(d, root, page{script: "assets/main-1.js", styles: []string{"assets/main-2.css"}, early: []string{"assets/part-3.js"}, faces: []string{"assets/text-4.woff2"}}); err != nil {
		t.Fatal(err)
	}
	html := string(d.files["index.html"])
	for _, want := range []string{
		`<script type="module" src="/assets/main-1.js">`, `<link rel="stylesheet" href="/assets/main-2.css">`, `href="/assets/part-3.js"`,
		`<link rel="preload" as="font" type="font/woff2" href="/assets/text-4.woff2" crossorigin>`,
	} {
		if !strings.Contains(html, want) {
			t.Errorf("index.html lacks %s:\n%s", want, html)
		}
	}
}

func TestPageWithoutItsMarksIsRefused(t *testing.T) {
	root := t.TempDir()
	writeFile(t, root, "frontend/index.html", "<head></head>")
	if err := addPage(newDist(), root, page{}); err == nil || !strings.Contains(err.Error(), headMark) {
		t.Errorf("got %v, want an error that names the missing mark", err)
	}
}

func TestSizesOverBudgetAreSaid(t *testing.T) {
	var out bytes.Buffer
	if report(&out, sizes{entry: 1, scripts: 1, styles: 1, engine: 1, argon2: 1, catalogue: 1, precache: 1}) {
		t.Errorf("one byte of each is over budget:\n%s", out.String())
	}
	if !report(&out, sizes{entry: 45_001}) || !strings.Contains(out.String(), "OVER BUDGET") {
		t.Errorf("45,001 bytes of first script are within budget:\n%s", out.String())
	}
}

func TestIconIsDrawnInEverySize(t *testing.T) {
	d := newDist()
	if err := addIcons(d); err != nil {
		t.Fatal(err)
	}
	for name, size := range map[string]int{"icons/doorsill-192.png": 192, "icons/doorsill-512.png": 512} {
		img, err := png.Decode(bytes.NewReader(d.files[name]))
		if err != nil || img.Bounds().Dx() != size || img.Bounds().Dy() != size {
			t.Errorf("%s: %v, %v; want %d pixels square", name, img.Bounds(), err, size)
			continue
		}
		if corner, door := img.At(0, 0), img.At(size*42/100, size/2); corner == door {
			t.Errorf("%s: the door has the colour of the paper", name)
		}
	}
	if svg := string(d.files["icons/doorsill.svg"]); strings.Count(svg, "<polygon") != len(doorOverThreshold()) {
		t.Errorf("the SVG does not hold every shape:\n%s", svg)
	}
}

func TestTheOfflineCopyIsWhatAnOpenAppAsksFor(t *testing.T) {
	for name, want := range map[string]bool{
		"index.html": true, "assets/part-A.js": true, "assets/engine-A.wasm": true, "assets/literata.woff2": true, "icons/doorsill.svg": true,
		"icons/doorsill-192.png": false, "sw.js": false,
	} {
		if keptOffline(name) != want {
			t.Errorf("%s: kept offline %v, want %v", name, !want, want)
		}
	}
}

func TestCacheMakesNothingTwice(t *testing.T) {
	c := cache{dir: filepath.Join(t.TempDir(), "cache")}
	made := 0
	double := func(b []byte) ([]byte, error) {
		made++
		return append(b, b...), nil
	}
	for range 2 {
		got, err := c.keep([]byte("ab"), "twice", double)
		if err != nil || string(got) != "abab" {
			t.Fatalf("got %q, %v", got, err)
		}
	}
	if made != 1 {
		t.Errorf("made %d times, want once", made)
	}
	broken := errors.New("no")
	if _, err := c.keep([]byte("x"), "twice", func([]byte) ([]byte, error) { return nil, broken }); !errors.Is(err, broken) {
		t.Errorf("got %v, want the failure itself", err)
	}
}

func TestEveryCompressedTwinIsSmaller(t *testing.T) {
	d := newDist()
	d.files["a.js"] = bytes.Repeat([]byte("doorsill "), 500)
	d.files["b.png"] = []byte("pixels")
	if err := d.compress(cache{dir: t.TempDir()}); err != nil {
		t.Fatal(err)
	}
	if twin := d.small["a.js"]; len(twin.brotli) == 0 || len(twin.brotli) >= 4500 || len(twin.gzip) == 0 || len(twin.gzip) >= 4500 {
		t.Errorf("twins of 4,500 repetitive bytes have %d and %d", len(twin.brotli), len(twin.gzip))
	}
	if _, has := d.small["b.png"]; has {
		t.Error("a picture was compressed again")
	}
}

func TestUnknownCommandSaysWhatThereIs(t *testing.T) {
	err := run([]string{"build"}, &bytes.Buffer{})
	if err == nil || !strings.Contains(err.Error(), "types or unit") {
		t.Errorf("got %v, want an error that lists the commands", err)
	}
}

func writeFile(t *testing.T, root, path, content string) {
	t.Helper()
	full := filepath.Join(root, path)
	if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(full, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}
