package tablet_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
	"doorsill/internal/tablet"
)

// catalogue is the question that loads the English texts.
func catalogue(t testing.TB) []byte {
	t.Helper()
	return marshal(t, model.CatalogueQuestion{Language: "en", Text: phrase.EnglishText()})
}

// loaded returns a program with the English catalogue and the standard checklist.
func loaded(t testing.TB) *tablet.Program {
	t.Helper()
	p := tablet.New()
	must(t, p, "load-catalogue", catalogue(t))
	list := authoring.Standard()
	must(t, p, "load-checklist", marshal(t, model.ChecklistQuestion{Hash: list.Hash(), Definition: list.Raw()}))
	return p
}

func marshal(t testing.TB, v any) []byte {
	t.Helper()
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// must asks what has an answer and returns a copy of it.
func must(t testing.TB, p *tablet.Program, op string, question []byte) []byte {
	t.Helper()
	answer := slices.Clone(p.Ask(op, question))
	if strings.HasPrefix(string(answer), `{"error":`) {
		t.Fatalf("%s: %s", op, answer)
	}
	return answer
}

// refused asks what cannot be answered and returns the error.
func refused(t testing.TB, p *tablet.Program, op, question string) model.BadInput {
	t.Helper()
	var failed model.FailedAnswer
	answer := p.Ask(op, []byte(question))
	if err := json.Unmarshal(answer, &failed); err != nil || failed.Error.Code == "" {
		t.Fatalf("%s %s: expected an error, got %.200s", op, question, answer)
	}
	return failed.Error
}

// opened reads the answer that shows a visit.
func opened(t testing.TB, answer []byte) model.OpenVisit {
	t.Helper()
	var state model.OpenVisit
	if err := json.Unmarshal(answer, &state); err != nil {
		t.Fatalf("%v in %.300s", err, answer)
	}
	return state
}

// writer writes invented events.
type writer struct {
	t       testing.TB
	tablet  string
	n       int64
	pos     int64
	subject string
}

func (w *writer) write(kind string, body any) model.Entry {
	w.n++
	if w.pos > 0 {
		w.pos++
	}
	return w.entry(kind, marshal(w.t, body))
}

func (w *writer) entry(kind string, body []byte) model.Entry {
	return model.Entry{Pos: max(0, w.pos-1), Raw: marshal(w.t, model.Event{
		Tablet: w.tablet, N: w.n, Kind: kind, Subject: w.subject, Author: "person-a", Schema: model.SchemaNow,
		At: fmt.Sprintf("2026-03-02T09:%02d:00.000Z", w.n%60), Zone: "Europe/Dublin", Body: body,
	})}
}

// start is the first entry of a visit by the standard checklist.
func (w *writer) start() model.Entry {
	list := authoring.Standard()
	return w.write(model.KindVisitStarted, model.VisitStarted{
		Client: "c1", Team: "north", Unit: "gf", Checklist: model.ChecklistRef{ID: list.ID, Version: list.Version, Hash: list.Hash()},
	})
}

// answer answers an item that takes levels.
func (w *writer) answer(item, level string) model.Entry {
	return w.write(model.KindAnswerGiven, model.AnswerGiven{Item: item, State: model.StateAnswered, Level: level})
}

func openQuestion(t testing.TB, id string, entries ...model.Entry) []byte {
	return marshal(t, model.OpenVisitQuestion{Visit: id, Checklist: authoring.Standard().Hash(), Entries: entries})
}

func addQuestion(t testing.TB, id string, after int, entries ...model.Entry) []byte {
	return marshal(t, model.AddEntriesQuestion{Visit: id, After: after, Entries: entries})
}

func clearText(m *message.Message) { m.Text = "" }
