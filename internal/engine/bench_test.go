package engine_test

import (
	"path/filepath"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/engine/visittext"
)

// BenchmarkScore scores the ninety-item visit; the goal is 60 µs.
func BenchmarkScore(b *testing.B) {
	v := readVector(b, filepath.Join(vectorDir, "full-ninety.json"))
	scorer, text := engine.New(v.list(b)), []byte(v.Text)
	b.ReportAllocs()
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := scorer.Score(text); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkEncode writes the same visit as text.
func BenchmarkEncode(b *testing.B) {
	v := readVector(b, filepath.Join(vectorDir, "full-ninety.json"))
	b.ReportAllocs()
	for b.Loop() {
		visittext.Encode(v.Visit)
	}
}
