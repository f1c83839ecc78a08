package intake_test

import (
	"fmt"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// replacing is an answer that names what it replaces.
func replacing(item, value string, refs ...model.Ref) model.AnswerGiven {
	answer := level(item, value)
	answer.Replaces = append([]model.Ref{}, refs...)
	return answer
}

// TestWhatAnAnswerMayReplace: answers to its own item in its own visit, and what
// the server does not have or does not count.
func TestWhatAnAnswerMayReplace(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	marit.startVisit("v2", "c1", "north")
	davit := h.tablet("tab-d", "davit")
	pelvis := davit.write(model.KindAnswerGiven, "v1", replacing("pos-pelvis", "1"))
	trunk := davit.write(model.KindAnswerGiven, "v1", replacing("pos-trunk", "1"))
	reading := davit.write(model.KindReadingTaken, "v1", force("chin", "forward", 80, "gf"))
	refused := davit.write(model.KindReadingTaken, "v1", force("chin", "forward", 80, "kg"))
	elsewhere := marit.write(model.KindAnswerGiven, "v2", replacing("pos-pelvis", "1"))
	newer := marit.event(model.KindAnswerGiven, "v1", replacing("pos-pelvis", "1"))
	newer.Schema = model.SchemaNow + 1
	marit.lines = append(marit.lines, lineOf(newer))
	marit.sendAll()
	davit.send()
	for _, c := range []struct {
		name string
		refs []model.Ref
		at   int
	}{
		{"none", nil, -1},
		{"what stands", []model.Ref{pelvis}, -1},
		{"what was replaced before", []model.Ref{pelvis}, -1},
		{"what is not here yet", []model.Ref{"tab-d:99", "tab-of-a-lost-copy:3"}, -1},
		{"what is set aside", []model.Ref{refused}, -1},
		{"what a newer version wrote", []model.Ref{newer.Ref()}, -1},
		{"an answer to another item", []model.Ref{pelvis, trunk}, 1},
		{"an answer in another visit", []model.Ref{elsewhere}, 0},
		{"no answer", []model.Ref{"tab-d:99", reading}, 1},
	} {
		marit.write(model.KindAnswerGiven, "v1", replacing("pos-pelvis", "2", c.refs...))
		got := marit.send().Verdicts[0]
		want := ""
		if c.at >= 0 {
			want = fmt.Sprintf("%s body.replaces[%d]", validation.CodeSubject, c.at)
		}
		if shown := got.Code + " " + got.Field; shown != want && (want != "" || got.Code != "") {
			t.Errorf("%s: %s, want %q", c.name, shown, want)
		}
	}
	if stands := h.visit("v1").Answers[0]; len(stands.Heads) != 1 || stands.Heads[0].Level != "2" {
		t.Errorf("stands %+v", stands)
	}
	marit.write(model.KindVisitSigned, "v1", signature())
	marit.write(model.KindAmendmentMade, "v1", model.AmendmentMade{Reason: "late", Kind: model.KindAnswerGiven, Change: mustJSON(replacing("pos-pelvis", "3", trunk))})
	if got := marit.send().Verdicts[1]; got.Field != "body.change.replaces[0]" {
		t.Errorf("in an amendment: %+v", got)
	}
}

// TestNobodyHasSeenMoreThanThereIs of this log. How far another log went is not
// known.
func TestNobodyHasSeenMoreThanThereIs(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	head := func() (head int64) {
		h.view(func(r store.Reader) (err error) { head, err = r.Head(); return err })
		return head
	}
	for _, c := range []struct {
		log    string
		beyond int64
		code   string
	}{
		{h.logID(), 0, ""},
		{h.logID(), 1, validation.CodeAhead},
		{h.logID(), 1 << 40, validation.CodeAhead},
		{"another-log", 1 << 40, ""},
		{"", 1 << 40, ""},
	} {
		event := marit.event(model.KindAnswerGiven, "v1", replacing("pos-pelvis", "2"))
		event.Log, event.Seen = c.log, head()+c.beyond
		marit.lines = append(marit.lines, lineOf(event))
		if got := marit.send().Verdicts[0]; got.Code != c.code || c.code != "" && got.Field != "seen" {
			t.Errorf("%d beyond the head of %q: %s at %q, want %q", c.beyond, c.log, got.Code, got.Field, c.code)
		}
	}
	// What is set aside is still here, and the others were not held up.
	h.view(func(r store.Reader) error {
		aside, err := r.QuarantinedOf(store.QuarantineFilter{Tablet: "tab-m"})
		if len(aside) != 2 || aside[0].Code != validation.CodeAhead || len(aside[0].Raw) == 0 {
			t.Errorf("set aside: %+v", aside)
		}
		return err
	})
}
