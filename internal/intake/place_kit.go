package intake

import (
	"doorsill/internal/record"
	"doorsill/internal/store"
)

// listControl places a control in a team's kit. Only a lead may list one, and
// a control stays in the team that listed it first.
func (t *pushTransaction) listControl(event *record.Event, body *record.ControlListed) (*subject, *record.Refusal, error) {
	s, err := t.find(event.Subject)
	if err != nil {
		return nil, nil, err
	}
	if bad := t.mayList(s, event, body); bad != nil {
		return nil, bad, nil
	}
	if s == nil {
		s, err = t.open(store.Subject{ID: event.Subject, Kind: store.SubjectControl, Team: body.Team}, nil)
	}
	return s, nil, err
}

func (t *pushTransaction) mayList(s *subject, event *record.Event, body *record.ControlListed) *record.Refusal {
	switch {
	case !t.who.Member(body.Team):
		return &record.Refusal{Code: record.CodeOtherTeam, Field: "body.team", Want: "a team that the author works in", Got: body.Team}
	case s != nil && s.Kind != store.SubjectControl:
		return &record.Refusal{Code: record.CodeSubject, Field: "subject", Want: "a control or a new id", Got: "a " + s.Kind}
	case s != nil && s.Team != body.Team:
		return &record.Refusal{Code: record.CodeOtherTeam, Field: "body.team", Want: "the team whose control it is", Got: body.Team}
	}
	return mayWrite(t.who.Role(body.Team), event.Kind)
}

// secondOf refuses a second rating of anything but a colleague's visit of the
// same client.
func (t *pushTransaction) secondOf(event *record.Event, body *record.VisitStarted) (*record.Refusal, error) {
	if body.SecondOf == "" {
		return nil, nil
	}
	rated, err := t.find(body.SecondOf)
	if err != nil {
		return nil, err
	}
	const field = "body.second_of"
	switch {
	case rated == nil || rated.Kind != store.SubjectVisit:
		return &record.Refusal{Code: record.CodeSubject, Field: field, Want: "a visit that the server has", Got: body.SecondOf}, nil
	case rated.Client != body.Client:
		return &record.Refusal{Code: record.CodeSubject, Field: field, Want: "a visit of the same client", Got: "one of another client"}, nil
	case rated.fold.StartedBy() == event.Author:
		return &record.Refusal{Code: record.CodeSubject, Field: field, Want: "a visit that somebody else started", Got: "one of the author's own"}, nil
	}
	return nil, nil
}
