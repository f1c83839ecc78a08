package intake

import (
	"errors"
	"strconv"
	"strings"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// place says where an event belongs, or why it can not stand there.
func (t *pushTransaction) place(n int64, it *item) (*subject, *validation.Error, error) {
	if it.bad != nil {
		return nil, it.bad, nil
	}
	if bad := validation.First(t.signedBy(n, &it.event), t.hadSeen(&it.event)); bad != nil {
		return nil, bad, nil
	}
	switch body := it.body.(type) {
	case *model.ClientOpened:
		return t.openClient(&it.event, body)
	case *model.VisitStarted:
		return t.startVisit(&it.event, body)
	case *model.ControlListed:
		return t.listControl(&it.event, body)
	case *model.ClientAssigned:
		return nil, &validation.Error{Code: validation.CodeNotAllowed, Path: "kind", Want: "an assignment made on the server"}, nil
	}
	s, err := t.find(it.event.Subject)
	if err != nil {
		return nil, nil, err
	}
	if s == nil && it.body == nil {
		return nil, notYetKnown(&it.event), nil // it may be what begins it
	}
	if bad := t.belongs(s, &it.event); bad != nil {
		return nil, bad, nil
	}
	if bad := mayWrite(t.who.Role(s.Team), it.event.Kind); bad != nil {
		return nil, bad, nil
	}
	if it.body == nil {
		return nil, notYetKnown(&it.event), nil
	}
	if bad, err := t.readable(s, "subject"); bad != nil || err != nil {
		return nil, bad, err
	}
	if s.Kind == model.SubjectVisit {
		bad, err := t.fits(s, it)
		if errors.Is(err, store.ErrDamaged) {
			bad, err = unreadable("body"), nil
		}
		return s, bad, err
	}
	return s, nil, nil
}

// readable folds a visit. Of one that is damaged it is not known what fits it: an
// entry about it is set aside, so that it does not keep out what the tablet says of
// others, and judged again when the server starts.
func (t *pushTransaction) readable(s *subject, field string) (*validation.Error, error) {
	if !s.unreadable {
		err := t.unfold(s)
		if !errors.Is(err, store.ErrDamaged) {
			return nil, err
		}
		s.unreadable = true // not to be tried with each entry of a push
	}
	return unreadable(field), nil
}

func unreadable(field string) *validation.Error {
	return &validation.Error{Code: validation.CodeUnreadable, Path: field, Want: "a visit of which it can read what it has"}
}

// notYetKnown sets an event of a later version aside until it can be checked. In
// the log it would count, unchecked, as soon as the server learnt it.
func notYetKnown(event *model.Event) *validation.Error {
	bad := &validation.Error{Code: validation.CodeUnknownSchema, Path: "kind", Want: "a kind that the server knows", Got: validation.Quote(event.Kind)}
	if model.KindOf(event.Kind) != nil {
		bad.Path, bad.Want, bad.Got = "schema", strconv.Itoa(model.SchemaNow), strconv.Itoa(event.Schema)
	}
	return bad
}

// signedBy refuses an event that says it is somebody else's.
func (t *pushTransaction) signedBy(n int64, event *model.Event) *validation.Error {
	switch {
	case event.Tablet != t.tablet:
		return &validation.Error{Code: validation.CodeAuthor, Path: "tablet", Want: t.tablet + ", which sent it", Got: event.Tablet}
	case event.Author != t.who.Person:
		return &validation.Error{Code: validation.CodeAuthor, Path: "author", Want: "the person whose tablet it is", Got: event.Author}
	case event.N != n:
		return &validation.Error{Code: validation.CodeOutOfRange, Path: "n", Want: strconv.FormatInt(n, 10), Got: strconv.FormatInt(event.N, 10)}
	}
	return nil
}

// hadSeen refuses an event whose tablet cannot have pulled what it says. Of
// another log than this one it is not known how far that went.
func (t *pushTransaction) hadSeen(event *model.Event) *validation.Error {
	if event.Log != t.log || event.Seen <= t.head {
		return nil
	}
	return &validation.Error{Code: validation.CodeAhead, Path: "seen",
		Want: "at most " + strconv.FormatInt(t.head, 10) + ", the last position", Got: strconv.FormatInt(event.Seen, 10)}
}

// belongs refuses an event about nothing, about another team's, or about the
// wrong kind of thing.
func (t *pushTransaction) belongs(s *subject, event *model.Event) *validation.Error {
	if s == nil {
		return &validation.Error{Code: validation.CodeSubject, Path: "subject", Want: "a client, visit or control that the server has", Got: event.Subject}
	}
	if !t.who.Member(s.Team) {
		return &validation.Error{Code: validation.CodeOtherTeam, Path: "subject", Want: "something of a team that the author works in", Got: "something of another team"}
	}
	if wanted := aboutKind(event); wanted != "" && s.Kind != wanted {
		return &validation.Error{Code: validation.CodeSubject, Path: "subject", Want: "a " + wanted, Got: "a " + s.Kind}
	}
	return nil
}

// aboutKind is what a kind of event is about; empty for an event of a later
// version, which may be about more. What is said of clients stays with clients.
func aboutKind(event *model.Event) string {
	kind := model.KindOf(event.Kind)
	if kind == nil || !event.Known() && kind.Subject != model.SubjectClient {
		return ""
	}
	return kind.Subject
}

// mayWrite says whether a role may write a kind of event.
func mayWrite(role, kind string) *validation.Error {
	if model.MayWrite(role, kind) {
		return nil
	}
	return &validation.Error{Code: validation.CodeNotAllowed, Path: "kind", Want: "an entry that the author's role may write", Got: kind + " from " + roleWord(role)}
}

func roleWord(role string) string {
	if role == model.RoleAssistant {
		return "an assistant"
	}
	return "a " + role
}

func (t *pushTransaction) openClient(event *model.Event, body *model.ClientOpened) (*subject, *validation.Error, error) {
	if bad, err := t.newID(event); bad != nil || err != nil {
		return nil, bad, err
	}
	if !t.who.Member(body.Team) {
		return nil, &validation.Error{Code: validation.CodeOtherTeam, Path: "body.team", Want: "a team that the author works in", Got: body.Team}, nil
	}
	if bad := mayWrite(t.who.Role(body.Team), event.Kind); bad != nil {
		return nil, bad, nil
	}
	s, err := t.open(store.Subject{ID: event.Subject, Kind: model.SubjectClient, Team: body.Team, Client: event.Subject}, nil)
	return s, nil, err
}

func (t *pushTransaction) startVisit(event *model.Event, body *model.VisitStarted) (*subject, *validation.Error, error) {
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
		ID: event.Subject, Kind: model.SubjectVisit, Team: client.Team, Client: client.ID, Checklist: body.Checklist.Hash,
	}, pinned)
	return s, nil, err
}

func (t *pushTransaction) newID(event *model.Event) (*validation.Error, error) {
	s, err := t.find(event.Subject)
	if err != nil || s == nil {
		return nil, err
	}
	return &validation.Error{Code: validation.CodeSubject, Path: "subject", Want: "a new id", Got: "one that the server has already"}, nil
}

func (t *pushTransaction) clientOf(client *subject, body *model.VisitStarted) *validation.Error {
	switch {
	case client == nil || client.Kind != model.SubjectClient:
		return &validation.Error{Code: validation.CodeSubject, Path: "body.client", Want: "a client that the server has", Got: body.Client}
	case !t.who.Member(client.Team):
		return &validation.Error{Code: validation.CodeOtherTeam, Path: "body.client", Want: "a client of a team that the author works in", Got: "one of another team"}
	case body.Team != client.Team:
		return &validation.Error{Code: validation.CodeOtherTeam, Path: "body.team", Want: client.Team + ", the client's team", Got: body.Team}
	}
	return nil
}

// fits says whether a visit can take an event.
func (t *pushTransaction) fits(s *subject, it *item) (*validation.Error, error) {
	if _, is := it.body.(*model.AmendmentMade); is {
		if !s.fold.Signed() {
			return &validation.Error{Code: validation.CodeRequired, Path: "subject", Want: "a visit that is signed", Got: "one that is not"}, nil
		}
		bad, err := t.fitsChange(s, it)
		if bad != nil {
			if field, within := strings.CutPrefix(bad.Path, "body."); within {
				changed := *bad // the item keeps its own, should the job be done again
				changed.Path = "body.change." + field
				bad = &changed
			}
		}
		return bad, err
	}
	if s.fold.Signed() {
		return &validation.Error{Code: validation.CodeSigned, Path: "subject", Want: "an amendment with its reason", Got: it.event.Kind + " after the signature"}, nil
	}
	return t.fitsChange(s, it)
}

func (t *pushTransaction) fitsChange(s *subject, it *item) (*validation.Error, error) {
	switch b := it.said.(type) {
	case *model.AnswerGiven:
		if s.pinned == nil {
			return &validation.Error{Code: validation.CodeOtherChecklist, Path: "subject", Want: "a visit whose checklist the server has", Got: s.Checklist}, nil
		}
		if bad := it.checkAnswer(t.in.checklists, s.pinned); bad != nil {
			return bad, nil
		}
		return t.fitsReplaced(s, b)
	case *model.AnswerChosen:
		if s.pinned != nil && s.pinned.list.Item(b.Item) == nil {
			return &validation.Error{Code: validation.CodeUnknownItem, Path: "body.item", Want: "an item of the visit's checklist", Got: b.Item}, nil
		}
	case *model.ReadingMarked:
		reading, there := s.fold.Reading(b.Reading)
		return t.fitsMark(s, there, reading.By, b.Reading, "reading"), nil
	case *model.ReadingMoved:
		reading, there := s.fold.Reading(b.Reading)
		if bad := t.fitsMark(s, there, reading.By, b.Reading, "reading"); bad != nil {
			return bad, nil
		}
		taken := b.Of(reading.ReadingTaken)
		return taken.Check().Within("body"), nil
	case *model.RunMarked:
		run, there := s.fold.Run(b.Run)
		return t.fitsMark(s, there, run.By, b.Run, "run"), nil
	case *model.SettingTried:
		_, there := s.fold.Setting(b.Setting)
		return t.fitsMark(s, there, t.who.Person, b.Setting, "setting"), nil
	}
	return nil, nil
}

// fitsMark says whether a reading or a run may be set aside or taken back in:
// it is in the visit, and an assistant marks only their own.
func (t *pushTransaction) fitsMark(s *subject, there bool, by string, ref model.Ref, what string) *validation.Error {
	if !there {
		return &validation.Error{Code: validation.CodeSubject, Path: "body." + what, Want: "a " + what + " of this visit", Got: string(ref)}
	}
	if t.who.Role(s.Team) == model.RoleAssistant && by != t.who.Person {
		return &validation.Error{Code: validation.CodeNotAllowed, Path: "body." + what, Want: "a " + what + " of the assistant's own", Got: string(ref)}
	}
	return nil
}
