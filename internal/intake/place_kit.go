package intake

import (
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// listControl places a control in a team's kit. Only a lead may list one, and
// a control stays in the team that listed it first.
func (t *pushTransaction) listControl(event *model.Event, body *model.ControlListed) (*subject, *validation.Error, error) {
	s, err := t.find(event.Subject)
	if err != nil {
		return nil, nil, err
	}
	if bad := t.mayList(s, event, body); bad != nil {
		return nil, bad, nil
	}
	if s == nil {
		s, err = t.open(store.Subject{ID: event.Subject, Kind: model.SubjectControl, Team: body.Team}, nil)
	}
	return s, nil, err
}

func (t *pushTransaction) mayList(s *subject, event *model.Event, body *model.ControlListed) *validation.Error {
	switch {
	case !t.who.Member(body.Team):
		return &validation.Error{Code: validation.CodeOtherTeam, Path: "body.team", Want: "a team that the author works in", Got: body.Team}
	case s != nil && s.Kind != model.SubjectControl:
		return &validation.Error{Code: validation.CodeSubject, Path: "subject", Want: "a control or a new id", Got: "a " + s.Kind}
	case s != nil && s.Team != body.Team:
		return &validation.Error{Code: validation.CodeOtherTeam, Path: "body.team", Want: "the team whose control it is", Got: body.Team}
	}
	return mayWrite(t.who.Role(body.Team), event.Kind)
}

// secondOf refuses a second rating of anything but a colleague's visit of the
// same client.
func (t *pushTransaction) secondOf(event *model.Event, body *model.VisitStarted) (*validation.Error, error) {
	if body.SecondOf == "" {
		return nil, nil
	}
	rated, err := t.find(body.SecondOf)
	if err != nil {
		return nil, err
	}
	const field = "body.second_of"
	switch {
	case rated == nil || rated.Kind != model.SubjectVisit:
		return &validation.Error{Code: validation.CodeSubject, Path: field, Want: "a visit that the server has", Got: body.SecondOf}, nil
	case rated.Client != body.Client:
		return &validation.Error{Code: validation.CodeSubject, Path: field, Want: "a visit of the same client", Got: "one of another client"}, nil
	}
	if bad, err := t.readable(rated, field); bad != nil || err != nil {
		return bad, err
	}
	if rated.fold.StartedBy() == event.Author {
		return &validation.Error{Code: validation.CodeSubject, Path: field, Want: "a visit that somebody else started", Got: "one of the author's own"}, nil
	}
	return nil, nil
}
