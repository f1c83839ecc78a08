package storetest

import (
	"encoding/json"
	"fmt"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/store"
)

// Arrived is the time of arrival of what this package makes.
const Arrived = "2026-03-02T12:00:00.000Z"

// Event makes the bytes of an event about a subject, of a kind that no version
// reads, with some text to make it different.
func Event(tablet string, n int64, subject, text string) []byte {
	body, err := json.Marshal(map[string]string{"text": text})
	if err != nil {
		panic(err)
	}
	raw, err := json.Marshal(model.Event{
		Tablet: tablet, N: n, Kind: "test-noted", Subject: subject, Author: "person-" + tablet,
		At: "2026-03-02T09:00:00.000Z", Zone: "Europe/Dublin", Schema: 1, Body: body,
	})
	if err != nil {
		panic(err)
	}
	return raw
}

// Batch makes count events of a tablet from a number on.
func Batch(tablet string, first int64, count int, team, subject string) store.Batch {
	b := store.Batch{Tablet: tablet, FirstN: first, Team: team, Subject: subject, Received: Arrived}
	for i := range count {
		n := first + int64(i)
		b.Events = append(b.Events, Event(tablet, n, subject, fmt.Sprintf("%s %d", tablet, n)))
	}
	return b
}

// Push appends a batch and moves the tablet's receipt, as intake does. The
// subject is made a client of the team when it is new.
func Push(w store.Writer, b store.Batch) error {
	if _, err := w.Subject(b.Subject); err != nil {
		if err := w.AddSubject(store.Subject{ID: b.Subject, Kind: model.SubjectClient, Team: b.Team, Client: b.Subject}); err != nil {
			return err
		}
	}
	if _, err := w.Append(b); err != nil {
		return err
	}
	return w.SetTablet(store.Tablet{ID: b.Tablet, Person: "person-" + b.Tablet, Ack: b.FirstN + int64(len(b.Events)) - 1})
}

// Head is the last position of a store that is in order.
func Head(t testing.TB, r store.Reader) int64 {
	t.Helper()
	head, err := r.Head()
	if err != nil {
		t.Error(err)
	}
	return head
}

// LogID is the name of the log of a store that is in order.
func LogID(t testing.TB, r store.Reader) string {
	t.Helper()
	id, err := r.LogID()
	if err != nil {
		t.Error(err)
	}
	return id
}
