//go:build !wasip1

package main_test

import (
	"encoding/json"
	"flag"
	"os"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
	"doorsill/internal/tablet"
)

var questionsFile = flag.String("questions", "", "write to this file what frontend/browsertest/bench-engine.mjs asks")

// TestWriteQuestions writes, where a file is named, what the benchmark of the
// program in the browser asks: what a start needs up to the first open visit, and
// then a tap after another.
func TestWriteQuestions(t *testing.T) {
	if *questionsFile == "" {
		t.Skip("writes a file where the flag -questions names one")
	}
	c := &caller{t: t, program: tablet.New()}
	c.ask("load-catalogue", model.CatalogueQuestion{Language: "en", Text: phrase.EnglishText()})
	c.ask("load-checklist", model.ChecklistQuestion{Hash: authoring.Standard().Hash(), Definition: authoring.Standard().Raw()})
	loads, timed := len(c.calls), c.timed()
	asked := append(c.calls[:loads], timed...)
	for i := range asked {
		asked[i].Want = "" // the benchmark compares no answers
	}
	data, err := json.Marshal(map[string]any{"start": asked[:loads+1], "taps": asked[loads+1:]})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(*questionsFile, data, 0o600); err != nil {
		t.Fatal(err)
	}
}
