package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// The places in frontend/index.html that take this build's names.
const (
	headMark   = "<!-- bundle: head -->"
	scriptMark = "<!-- bundle: script -->"
)

// addPage writes index.html with the hashed names, and the web manifest.
func addPage(d *dist, root string, p page) error {
	raw, err := os.ReadFile(filepath.Join(root, "frontend", "index.html"))
	if err != nil {
		return fmt.Errorf("read page: %w", err)
	}
	html := string(raw)
	for _, mark := range []string{headMark, scriptMark} {
		if strings.Count(html, mark) != 1 {
			return fmt.Errorf("read page: frontend/index.html must hold %q exactly once", mark)
		}
	}
	html = strings.Replace(html, headMark, strings.Join(headTags(p), "\n    "), 1)
	html = strings.Replace(html, scriptMark, fmt.Sprintf("<script type=\"module\" src=\"/%s\"></script>", p.script), 1)
	d.files["index.html"] = []byte(html)
	manifest, err := webManifest()
	d.files["manifest.webmanifest"] = manifest
	return err
}

func headTags(p page) []string {
	var tags []string
	// Before the stylesheet: a face that is there at the first paint shifts nothing.
	for _, s := range p.faces {
		tags = append(tags, fmt.Sprintf("<link rel=\"preload\" as=\"font\" type=\"font/woff2\" href=\"/%s\" crossorigin>", s))
	}
	for _, s := range p.styles {
		tags = append(tags, fmt.Sprintf("<link rel=\"stylesheet\" href=\"/%s\">", s))
	}
	for _, s := range p.early {
		tags = append(tags, fmt.Sprintf("<link rel=\"modulepreload\" href=\"/%s\">", s))
	}
	return tags
}

// webManifest tells the browser how the installed app looks.
func webManifest() ([]byte, error) {
	type icon struct {
		Src     string `json:"src"`
		Sizes   string `json:"sizes"`
		Type    string `json:"type"`
		Purpose string `json:"purpose"`
	}
	manifest := map[string]any{
		"id": "/", "name": "Doorsill", "short_name": "Doorsill",
		"description": "Home visits for powered chair driving: checklist, measurements and a shared caseload.",
		"start_url":   "/", "scope": "/", "display": "standalone", "lang": "en-GB",
		"background_color": colourPaper, "theme_color": colourPaper,
		"icons": []icon{
			{"/icons/doorsill.svg", "any", "image/svg+xml", "any"},
			{"/icons/doorsill-192.png", "192x192", "image/png", "any maskable"},
			{"/icons/doorsill-512.png", "512x512", "image/png", "any maskable"},
		},
	}
	text, err := json.MarshalIndent(manifest, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("write web manifest: %w", err)
	}
	return append(text, '\n'), nil
}
