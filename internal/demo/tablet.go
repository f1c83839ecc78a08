package demo

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"strconv"
	"time"

	"doorsill/internal/model"
)

// tablet writes events as a real one does: numbered without gaps, each line
// kept as it was written.
type tablet struct {
	id, person string
	n          int64
	seen       int64
	lines      [][]byte
}

// write adds one event and returns its entry, as the tablet holds it.
func (t *tablet) write(at time.Time, kind, subject string, body any) model.Entry {
	inner, err := json.Marshal(body)
	if err != nil {
		panic("demo: a body of ours cannot be written: " + err.Error())
	}
	t.n++
	line, err := json.Marshal(model.Event{
		Tablet: t.id, N: t.n, Kind: kind, Subject: subject, Author: t.person,
		At: at.UTC().Format("2006-01-02T15:04:05.000Z"), Zone: "Etc/UTC",
		Schema: model.SchemaNow, Seen: t.seen, Body: inner,
	})
	if err != nil {
		panic("demo: an event of ours cannot be written: " + err.Error())
	}
	t.lines = append(t.lines, line)
	return model.Entry{Raw: line}
}

// pushes cuts what was written into request bodies of at most 500 events.
func (t *tablet) pushes(log string) [][]byte {
	const most = 500
	var bodies [][]byte
	from := t.n - int64(len(t.lines)) + 1
	for len(t.lines) > 0 {
		part := t.lines[:min(most, len(t.lines))]
		t.lines = t.lines[len(part):]
		var rest []byte
		for _, line := range part {
			rest = append(append(rest, line...), '\n')
		}
		sum := sha256.Sum256(rest)
		head := `{"log":` + strconv.Quote(log) + `,"tablet":` + strconv.Quote(t.id) +
			`,"from":` + strconv.FormatInt(from, 10) + `,"count":` + strconv.Itoa(len(part)) +
			`,"sha256":"` + hex.EncodeToString(sum[:]) + `"}` + "\n"
		bodies = append(bodies, append([]byte(head), rest...))
		from += int64(len(part))
	}
	return bodies
}
