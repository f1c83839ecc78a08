package server

import (
	"strings"
	"testing"

	"doorsill/internal/agreement"
	"doorsill/internal/model"
)

// TestAPairCountsOnceBothHaveSigned follows a second rating to the lead.
func TestAPairCountsOnceBothHaveSigned(t *testing.T) {
	s := newSite(t, Options{})
	var made TabletMade
	s.ask(t, lead, "POST", "/api/v1/tablets", `{"label":"green"}`).into(t, &made)
	second := *s
	second.tablet, second.ids = made.ID, map[string]string{clinician: s.ids[lead]}
	again := s.visitStarted()
	again.SecondOf = s.visit
	visit := strings.Repeat("e3", 16)
	look := func(level string) model.AnswerGiven {
		return model.AnswerGiven{Item: "saf-look", State: model.StateAnswered, Level: level}
	}
	signed := model.VisitSigned{Level: "practise", Result: strings.Repeat("0", 64), Name: "An invented signer"}
	report := func() (r agreement.Report) {
		s.ask(t, lead, "GET", "/api/v1/teams/"+s.north+"/agreement", "").into(t, &r)
		return r
	}

	if r := report(); r.Pairs != 0 || r.Open != 0 || len(r.Items) != 0 {
		t.Fatalf("nobody has rated a second time: %+v", r)
	}
	s.push(t, clinician, 4, s.event(t, 4, model.KindAnswerGiven, s.visit, look("0")), s.event(t, 5, model.KindVisitSigned, s.visit, signed))
	second.push(t, lead, 1, second.event(t, 1, model.KindVisitStarted, visit, again), second.event(t, 2, model.KindAnswerGiven, visit, look("3")))
	if r := report(); r.Pairs != 0 || r.Open != 1 || len(r.Items) != 0 || len(r.Stops) != 0 {
		t.Fatalf("one has not signed and something is shown: %+v", r)
	}
	second.push(t, lead, 3, second.event(t, 3, model.KindVisitSigned, visit, signed))
	r := report()
	if r.Pairs != 1 || r.Open != 0 || len(r.Items) != 1 || !r.Items[0].Few || r.Items[0].Item != "saf-look" {
		t.Fatalf("both have signed: %+v", r)
	}
}
