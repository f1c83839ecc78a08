package enginetest

import (
	"doorsill/internal/engine"
	"doorsill/internal/phrase"
)

// Thresholds writes every number that results depend on: a line each with id,
// value, unit ("-" for none), source and status.
func Thresholds() string {
	w := resultWriter{words: phrase.NewWriter(phrase.English(), nil), out: make([]byte, 0, 16<<10)}
	for _, t := range engine.ThresholdList() {
		w.line(t.ID, t.Value, orDash(w.say(&t.Unit)), w.say(&t.Source), w.say(&t.Status))
	}
	return string(w.out)
}
