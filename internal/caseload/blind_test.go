package caseload

import (
	"encoding/json"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// rated is a store in which p1 rates a trial and p2 rates it anew; signed says
// which of the visits are signed.
func rated(t *testing.T, signed ...string) store.Store {
	t.Helper()
	db := filled(t)
	err := db.Update(t.Context(), func(w store.Writer) error {
		n := int64(5)
		add := func(author, kind, subject string, body any) error {
			n++
			raw := strings.Replace(string(event(t, n, kind, subject, body)), `"p1"`, `"`+author+`"`, 1)
			_, err := w.Append(store.Batch{Tablet: "tab", FirstN: n, Team: "t1", Subject: subject, Received: "2026-03-10T09:00:00.000Z", Events: [][]byte{[]byte(raw)}})
			return err
		}
		answer := model.AnswerGiven{Item: "saf-look", State: model.StateAnswered, Level: "1", Note: "needed a hand"}
		steps := []error{
			w.AddSubject(store.Subject{ID: "second", Kind: model.SubjectVisit, Team: "t1", Client: "client-t1"}),
			add("p1", model.KindAnswerGiven, "visit-t1", answer),
			add("p2", model.KindVisitStarted, "second", model.VisitStarted{Client: "client-t1", Team: "t1", Unit: "gf", SecondOf: "visit-t1",
				Checklist: model.ChecklistRef{ID: "standard", Version: "2026.1", Hash: strings.Repeat("ab", 32)}}),
			add("p2", model.KindAnswerGiven, "second", answer),
		}
		for _, id := range signed {
			steps = append(steps, add(map[string]string{"visit-t1": "p1", "second": "p2"}[id], model.KindVisitSigned, id,
				model.VisitSigned{Level: "practise", Result: strings.Repeat("cd", 32), Name: "Invented Signer"}))
		}
		for _, err := range steps {
			if err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return db
}

// TestASecondRaterIsNotToldTheFirstRating, by visit or by client, and the first
// not the second, until both have signed. The lead sees both.
func TestASecondRaterIsNotToldTheFirstRating(t *testing.T) {
	person := func(id string) account.Caller {
		return account.Caller{Person: id, Teams: map[string]string{"t1": model.RoleClinician}}
	}
	for _, c := range []struct {
		name   string
		signed []string
		who    string
		visit  string
		blind  bool
	}{
		{"nobody signed", nil, "p2", "visit-t1", true},
		{"the first signed", []string{"visit-t1"}, "p2", "visit-t1", true},
		{"the first rater, and only they signed", []string{"visit-t1"}, "p1", "second", true},
		{"both signed", []string{"visit-t1", "second"}, "p2", "visit-t1", false},
		{"the own visit", nil, "p2", "second", false},
		{"a colleague who rates nothing", nil, "p3", "visit-t1", false},
	} {
		d := NewReader(rated(t, c.signed...))
		visit, err := d.Visit(t.Context(), person(c.who), c.visit)
		if err != nil {
			t.Fatal(err)
		}
		client, err := d.Client(t.Context(), person(c.who), "client-t1")
		if err != nil {
			t.Fatal(err)
		}
		views := []VisitView{visit}
		for _, one := range client.Visits {
			if one.Visit.ID == c.visit {
				views = append(views, one)
			}
		}
		for _, view := range views {
			text, err := json.Marshal(view)
			if err != nil {
				t.Fatal(err)
			}
			tells := strings.Contains(string(text), "saf-look") || strings.Contains(string(text), "practise") || view.Result != nil
			if view.Blind != c.blind || tells == c.blind || view.Visit.Started.By == "" {
				t.Errorf("%s: blind %v, tells %v: %s", c.name, view.Blind, tells, text)
			}
		}
		if len(views) != 2 {
			t.Errorf("%s: the client has no visit %s", c.name, c.visit)
		}
	}
}
