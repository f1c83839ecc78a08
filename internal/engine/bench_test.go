package engine_test

import (
	"path/filepath"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/phrase"
)

// BenchmarkScore scores the ninety-item visit; the goal is 150 µs.
func BenchmarkScore(b *testing.B) {
	v := readVector(b, filepath.Join(vectorDir, "full-ninety.json"))
	scorer := engine.New(v.list(b))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := scorer.Score(&v.Visit); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCanonical writes its result as it is hashed.
func BenchmarkCanonical(b *testing.B) {
	v := readVector(b, filepath.Join(vectorDir, "full-ninety.json"))
	result, err := engine.New(v.list(b)).Score(&v.Visit)
	if err != nil {
		b.Fatal(err)
	}
	var out []byte
	b.ReportAllocs()
	for b.Loop() {
		out = result.AppendJSON(out[:0])
	}
	b.SetBytes(int64(len(out)))
}

// BenchmarkWords fills in every sentence of its result.
func BenchmarkWords(b *testing.B) {
	v := readVector(b, filepath.Join(vectorDir, "full-ninety.json"))
	list := v.list(b)
	result, err := engine.New(list).Score(&v.Visit)
	if err != nil {
		b.Fatal(err)
	}
	words := phrase.NewWriter(phrase.English(), list)
	b.ReportAllocs()
	for b.Loop() {
		result.EachMessage(words.Fill)
	}
}
