package intake

import (
	"strconv"

	"doorsill/internal/record"
	"doorsill/internal/store"
)

// place says where an event belongs, or why it can not stand there.
func (t *pushTransaction) place(n int64, it *item) (*subject, *record.Refusal, error) {
	if it.bad != nil {
		return nil, it.bad, nil
	}
	if bad := t.signedBy(n, &it.event); bad != nil {
		return nil, bad, nil
	}
	switch body := it.body.(type) {
	case *record.ClientOpened:
		return t.openClient(&it.event, body)
	case *record.VisitStarted:
		return t.startVisit(&it.event, body)
	case *record.ControlListed:
		return t.listControl(&it.event, body)
	case *record.ClientAssigned:
		return nil, &record.Refusal{Code: record.CodeNotAllowed, Field: "kind", Want: "an assignment made on the server"}, nil
	}
	s, err := t.find(it.event.Subject)
	if err != nil {
		return nil, nil, err
	}
	if bad := t.belongs(s, &it.event); bad != nil {
		return nil, bad, nil
	}
	if bad := mayWrite(t.who.Role(s.Team), it.event.Kind); bad != nil {
		return nil, bad, nil
	}
	if s.Kind == store.SubjectVisit && it.body != nil {
		return s, t.fits(s, it), nil
	}
	return s, nil, nil
}

// signedBy refuses an event that says it is somebody else's.
func (t *pushTransaction) signedBy(n int64, event *record.Event) *record.Refusal {
	switch {
	case event.Tablet != t.tablet:
		return &record.Refusal{Code: record.CodeAuthor, Field: "tablet", Want: t.tablet + ", which sent it", Got: event.Tablet}
	case event.Author != t.who.Person:
		return &record.Refusal{Code: record.CodeAuthor, Field: "author", Want: "the person whose tablet it is", Got: event.Author}
	case event.N != n:
		return &record.Refusal{Code: record.CodeOutOfRange, Field: "n", Want: strconv.FormatInt(n, 10), Got: strconv.FormatInt(event.N, 10)}
	}
	return nil
}

// belongs refuses an event about nothing, about another team's, or about the
// wrong kind of thing.
func (t *pushTransaction) belongs(s *subject, event *record.Event) *record.Refusal {
	if s == nil {
		return &record.Refusal{Code: record.CodeSubject, Field: "subject", Want: "a client, visit or control that the server has", Got: event.Subject}
	}
	if !t.who.Member(s.Team) {
		return &record.Refusal{Code: record.CodeOtherTeam, Field: "subject", Want: "something of a team that the author works in", Got: "something of another team"}
	}
	if wanted := aboutKind(event); wanted != "" && s.Kind != wanted {
		return &record.Refusal{Code: record.CodeSubject, Field: "subject", Want: "a " + wanted, Got: "a " + s.Kind}
	}
	return nil
}

// aboutKind is the kind of subject that a kind of event is about; empty for an
// event of a later version.
func aboutKind(event *record.Event) string {
	switch {
	case event.Kind == record.KindClientChanged:
		return store.SubjectClient
	case event.Known():
		return store.SubjectVisit
	}
	return ""
}

// mayWrite says whether a role may write a kind of event. What a later version
// means by an unknown kind is not for an assistant to write.
func mayWrite(role, kind string) *record.Refusal {
	switch role {
	case store.RoleLead:
		return nil
	case store.RoleClinician:
		if kind != record.KindControlListed {
			return nil
		}
	case store.RoleAssistant:
		switch kind {
		case record.KindAnswerGiven, record.KindReadingTaken, record.KindReadingMarked, record.KindRunTimed, record.KindRunMarked, record.KindVisitNoted,
			record.KindChairMeasured, record.KindPlaceMeasured, record.KindMountNoted:
			return nil
		}
	}
	return &record.Refusal{Code: record.CodeNotAllowed, Field: "kind", Want: "an entry that the author's role may write", Got: kind + " from " + roleWord(role)}
}

func roleWord(role string) string {
	switch role {
	case "":
		return "somebody outside the team"
	case store.RoleAssistant:
		return "an assistant"
	}
	return "a " + role
}

func (t *pushTransaction) openClient(event *record.Event, body *record.ClientOpened) (*subject, *record.Refusal, error) {
	if bad, err := t.newID(event); bad != nil || err != nil {
		return nil, bad, err
	}
	if !t.who.Member(body.Team) {
		return nil, &record.Refusal{Code: record.CodeOtherTeam, Field: "body.team", Want: "a team that the author works in", Got: body.Team}, nil
	}
	if bad := mayWrite(t.who.Role(body.Team), event.Kind); bad != nil {
		return nil, bad, nil
	}
	s, err := t.open(store.Subject{ID: event.Subject, Kind: store.SubjectClient, Team: body.Team, Client: event.Subject}, nil)
	return s, nil, err
}

func (t *pushTransaction) startVisit(event *record.Event, body *record.VisitStarted) (*subject, *record.Refusal, error) {
	if bad, err := t.newID(event); bad != nil || err != nil {
		return nil, bad, err
	}
	client, err := t.find(body.Client)
	if err != nil {
		return nil, nil, err
	}
	if bad := t.clientOf(client, body); bad != nil {
		return nil, bad, nil
	}
	if bad := mayWrite(t.who.Role(body.Team), event.Kind); bad != nil {
		return nil, bad, nil
	}
	if bad, err := t.secondOf(event, body); bad != nil || err != nil {
		return nil, bad, err
	}
	pinned, bad := t.in.checklists.find(body.Checklist)
	if bad != nil {
		return nil, bad, nil
	}
	s, err := t.open(store.Subject{
		ID: event.Subject, Kind: store.SubjectVisit, Team: client.Team, Client: client.ID, Checklist: body.Checklist.Hash,
	}, pinned)
	return s, nil, err
}

func (t *pushTransaction) newID(event *record.Event) (*record.Refusal, error) {
	s, err := t.find(event.Subject)
	if err != nil || s == nil {
		return nil, err
	}
	return &record.Refusal{Code: record.CodeSubject, Field: "subject", Want: "a new id", Got: "one that the server has already"}, nil
}

func (t *pushTransaction) clientOf(client *subject, body *record.VisitStarted) *record.Refusal {
	switch {
	case client == nil || client.Kind != store.SubjectClient:
		return &record.Refusal{Code: record.CodeSubject, Field: "body.client", Want: "a client that the server has", Got: body.Client}
	case !t.who.Member(client.Team):
		return &record.Refusal{Code: record.CodeOtherTeam, Field: "body.client", Want: "a client of a team that the author works in", Got: "one of another team"}
	case body.Team != client.Team:
		return &record.Refusal{Code: record.CodeOtherTeam, Field: "body.team", Want: client.Team + ", the client's team", Got: body.Team}
	}
	return nil
}

// fits says whether a visit can take an event.
func (t *pushTransaction) fits(s *subject, it *item) *record.Refusal {
	body := it.body
	if amendment, is := body.(*record.AmendmentMade); is {
		if !s.fold.Signed() {
			return &record.Refusal{Code: record.CodeRequired, Field: "subject", Want: "a visit that is signed", Got: "one that is not"}
		}
		inner, err := amendment.Inner()
		if err != nil {
			return err.(*record.Refusal)
		}
		bad := t.fitsChange(s, inner)
		if bad != nil && len(bad.Field) > len("body") && bad.Field[:5] == "body." {
			bad.Field = "body.change." + bad.Field[5:]
		}
		return bad
	}
	if s.fold.Signed() {
		return &record.Refusal{Code: record.CodeSigned, Field: "subject", Want: "an amendment with its reason", Got: it.event.Kind + " after the signature"}
	}
	return t.fitsChange(s, body)
}

func (t *pushTransaction) fitsChange(s *subject, body record.Body) *record.Refusal {
	switch b := body.(type) {
	case *record.AnswerGiven:
		if s.pinned == nil {
			return &record.Refusal{Code: record.CodeOtherChecklist, Field: "subject", Want: "a visit whose checklist the server has", Got: s.Checklist}
		}
		return t.in.checklists.check(s.pinned, b)
	case *record.AnswerChosen:
		if s.pinned != nil && s.pinned.list.Item(b.Item) == nil {
			return &record.Refusal{Code: record.CodeUnknownItem, Field: "body.item", Want: "an item of the visit's checklist", Got: b.Item}
		}
	case *record.ReadingMarked:
		reading, there := s.fold.Reading(b.Reading)
		return t.fitsMark(s, there, reading.By, b.Reading, "reading")
	case *record.RunMarked:
		run, there := s.fold.Run(b.Run)
		return t.fitsMark(s, there, run.By, b.Run, "run")
	case *record.SettingTried:
		_, there := s.fold.Setting(b.Setting)
		return t.fitsMark(s, there, t.who.Person, b.Setting, "setting")
	}
	return nil
}

// fitsMark says whether a reading or a run may be set aside or taken back in:
// it is in the visit, and an assistant marks only their own.
func (t *pushTransaction) fitsMark(s *subject, there bool, by string, ref record.Ref, what string) *record.Refusal {
	if !there {
		return &record.Refusal{Code: record.CodeSubject, Field: "body." + what, Want: "a " + what + " of this visit", Got: string(ref)}
	}
	if t.who.Role(s.Team) == store.RoleAssistant && by != t.who.Person {
		return &record.Refusal{Code: record.CodeNotAllowed, Field: "body." + what, Want: "a " + what + " of the assistant's own", Got: string(ref)}
	}
	return nil
}
