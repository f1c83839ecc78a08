package intake_test

import (
	"fmt"
	"strings"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/store"
)

// TestWhatALaterVersionMayWrite: an event of an unknown kind or a later schema is
// set aside until it can be checked (PROTOCOL.md, section 2), also after the
// signature. What it is about is not known, but what is said of clients stays with
// clients, and roles and teams are looked at as ever.
func TestWhatALaterVersionMayWrite(t *testing.T) {
	for _, c := range []struct {
		kind, subject string
		schema        int
		signed        bool
		want          string
	}{
		{"photo-added", "v1", 1, false, "quarantined unknown-schema"},
		{"photo-added", "v1", 1, true, "quarantined unknown-schema"},
		{model.KindAnswerGiven, "v1", 9, true, "quarantined unknown-schema"},
		{model.KindAnswerGiven, "v1", 1, true, "quarantined signed"},
		{model.KindAnswerGiven, "c1", 9, false, "quarantined unknown-schema"},
		{model.KindAnswerGiven, "c1", 1, false, "quarantined subject"},
		{model.KindClientChanged, "c1", 9, false, "quarantined unknown-schema"},
		{model.KindClientChanged, "v1", 9, false, "quarantined subject"},
		{model.KindClientOpened, "c-new", 9, false, "quarantined unknown-schema"},
		{"photo-added", "v-new", 1, false, "quarantined unknown-schema"},
	} {
		h := newService(t)
		marit := h.visited()
		h.signed(marit, true)
		if !c.signed {
			marit.lines = marit.lines[:len(marit.lines)-1]
		}
		marit.send()
		e := marit.event(c.kind, c.subject, level("pos-pelvis", "1"))
		e.Schema = c.schema
		marit.lines = append(marit.lines, lineOf(e))
		name := fmt.Sprintf("%s of schema %d about %s, signed %v", c.kind, c.schema, c.subject, c.signed)
		if got := verdicts(marit.send()); !strings.HasSuffix(got, " "+c.want) {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
		line := h.summary("c1")
		if line.Unknown != 0 || line.Signed != c.signed || line.Mismatch {
			t.Errorf("%s: the caseload shows %+v", name, line)
		}
	}
}

// TestTheNumberThatWasExpected is written in decimal, as the one that came.
func TestTheNumberThatWasExpected(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	for len(marit.lines) < 11 {
		marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	}
	e := marit.event(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	e.N = 34
	marit.lines = append(marit.lines, lineOf(e))
	answer := marit.send()
	if got := answer.Verdicts[9]; got.N != 12 || got.Want != "12" {
		t.Errorf("%+v", got)
	}
	if kept := h.quarantine(store.QuarantineFilter{}); len(kept) != 1 || kept[0].Want != "12" || kept[0].Got != "34" {
		t.Errorf("kept %+v", kept)
	}
}
