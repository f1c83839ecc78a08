// Package tablettest is a tablet as tests of the server drive it: it numbers
// what it writes, keeps every line, and sends from its own log what the server
// does not have. What it writes is invented.
package tablettest

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
)

// Tablet is one person on one device.
type Tablet struct {
	ID, Person, Team string
	// Lines are the events as first written; Lines[n-1] has number n.
	Lines [][]byte
	// Ack is how far the server has said that it keeps them, Log whose word
	// that was.
	Ack int64
	Log string
	// Unanswered counts the events of each push since the last answer: the
	// server may have taken any of them.
	Unanswered []int64
}

// Write adds an event to the tablet's own log and returns its number.
func (t *Tablet) Write(kind, subject string, body any) int64 {
	n := int64(len(t.Lines)) + 1
	line, err := json.Marshal(model.Event{
		Tablet: t.ID, N: n, Kind: kind, Subject: subject, Author: t.Person,
		At: "2026-03-10T08:59:00.000Z", Zone: "Etc/UTC", Schema: model.SchemaNow, Body: mustMarshal(body),
	})
	if err != nil {
		panic(fmt.Sprintf("tablettest: write %s: %v", kind, err))
	}
	t.Lines = append(t.Lines, line)
	return n
}

func mustMarshal(body any) model.Raw {
	data, err := json.Marshal(body)
	if err != nil {
		panic(fmt.Sprintf("tablettest: write a body: %v", err))
	}
	return data
}

// Push is the request body that sends what waits, at most so many events, and
// how many it holds.
func (t *Tablet) Push(most int) (body []byte, count int) {
	lines := t.Lines[t.Ack:]
	lines = lines[:min(most, len(lines))]
	var rest []byte
	if len(lines) > 0 {
		rest = append(bytes.Join(lines, []byte("\n")), '\n')
	}
	sum := sha256.Sum256(rest)
	head := fmt.Sprintf(`{"log":%q,"tablet":%q,"from":%d,"count":%d,"sha256":%q}`,
		t.Log, t.ID, t.Ack+1, len(lines), hex.EncodeToString(sum[:]))
	return append([]byte(head+"\n"), rest...), len(lines)
}

// Client writes that a new client was opened.
func (t *Tablet) Client(id, name string) {
	t.Write(model.KindClientOpened, id, model.ClientOpened{
		Team: t.Team, Ref: "R-" + id[:min(8, len(id))], Name: name, Referred: "2026-01-05", Priority: "soon", Course: "stable",
	})
}

// Visit writes that a visit of a client by the standard checklist was started.
func (t *Tablet) Visit(id, client string) {
	d := authoring.Standard()
	t.Write(model.KindVisitStarted, id, model.VisitStarted{
		Client: client, Team: t.Team, Unit: "gf", Checklist: model.ChecklistRef{ID: d.ID, Version: d.Version, Hash: d.Hash()},
	})
}

// Answer writes an answer to the i-th question that is asked in levels, going
// round.
func (t *Tablet) Answer(visit string, i int) {
	items := []string{"pos-pelvis", "pos-trunk", "pos-head"}
	t.Write(model.KindAnswerGiven, visit, model.AnswerGiven{
		Item: items[i%len(items)], State: model.StateAnswered, Level: fmt.Sprint(i % 4), Note: fmt.Sprintf("invented note %d", i),
	})
}

// Force writes a reading of force.
func (t *Tablet) Force(visit string, gramForce float64) {
	t.Write(model.KindReadingTaken, visit, model.ReadingTaken{
		What: "force", Site: "index-right", Direction: "forward", State: "rested", Value: gramForce, Unit: "gf",
	})
}
