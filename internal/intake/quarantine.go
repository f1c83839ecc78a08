package intake

import (
	"bytes"
	"strings"

	"doorsill/internal/record"
	"doorsill/internal/store"
)

// quarantine keeps an event in quarantine.
func (t *pushTransaction) quarantine(n int64, it *item, bad *record.Refusal) (Verdict, error) {
	q := store.Quarantined{
		Tablet: t.tablet, N: n, Person: t.who.Person, Kind: it.event.Kind, Subject: it.event.Subject,
		Code: bad.Code, Field: bad.Field, Want: bad.Want, Got: bad.Got, Hint: hint(bad),
		Received: t.now, Raw: bytes.Clone(it.raw),
	}
	if err := t.address(&q, it.body); err != nil {
		return Verdict{}, err
	}
	id, err := t.w.Quarantine(q)
	if err != nil {
		return Verdict{}, err
	}
	q.ID = id
	if q.Client != "" {
		err = t.touchClient(q.Client)
	}
	return verdictOf(&q), err
}

// address finds the team whose lead must see the entry: the team of what it is
// about, else the one that it names, else where earlier entries about the same
// went, else one of the author's.
func (t *pushTransaction) address(q *store.Quarantined, body record.Body) error {
	about := q.Subject
	claimed := ""
	switch b := body.(type) {
	case *record.ClientOpened:
		claimed = b.Team
	case *record.ControlListed:
		claimed = b.Team
	case *record.VisitStarted:
		about, claimed = b.Client, b.Team
	}
	s, err := t.find(about)
	if err != nil {
		return err
	}
	if s != nil {
		q.Team, q.Client = s.Team, s.Client
		return nil
	}
	if _, err := t.w.Team(claimed); claimed != "" && err == nil {
		q.Team = claimed
		return nil
	}
	earlier, err := t.w.QuarantinedOf(store.QuarantineFilter{Tablet: t.tablet})
	if err != nil {
		return err
	}
	for i := range earlier {
		if q.Subject != "" && earlier[i].Subject == q.Subject {
			q.Team = earlier[i].Team
			return nil
		}
	}
	for team := range t.who.Teams {
		if q.Team == "" || team < q.Team {
			q.Team = team
		}
	}
	return nil
}

func verdictOf(q *store.Quarantined) Verdict {
	return Verdict{N: q.N, Verdict: Quarantined, Code: q.Code, Hint: q.Hint, Field: q.Field, Want: q.Want}
}

// hint says in plain words what was wrong and what was expected.
func hint(bad *record.Refusal) string {
	var b strings.Builder
	b.WriteString(reason(bad.Code))
	if bad.Field != "" {
		b.WriteString(" In the field “" + strings.TrimPrefix(bad.Field, "body.") + "” the server expected ")
	} else {
		b.WriteString(" The server expected ")
	}
	b.WriteString(bad.Want)
	if bad.Got != "" {
		b.WriteString(" and got " + bad.Got)
	}
	b.WriteString(". The entry is kept, but it does not count.")
	return b.String()
}

func reason(code string) string {
	switch code {
	case record.CodeBrokenJSON:
		return "The entry can not be read."
	case record.CodeRequired:
		return "Something is missing in the entry."
	case record.CodeWrongType:
		return "A value is of the wrong kind."
	case record.CodeOutOfRange:
		return "A value is outside what is possible."
	case record.CodeWrongUnit:
		return "The unit does not fit what was measured."
	case record.CodeTooOld:
		return "The entry was written by an app that is too old; update the app."
	case record.CodeUnknownItem:
		return "The visit's checklist has no such question."
	case record.CodeOtherChecklist:
		return "The entry belongs to another version of the checklist."
	case record.CodeOtherTeam:
		return "The entry is about a client of another team."
	case record.CodeNotAllowed:
		return "The author's role does not cover this."
	case record.CodeSigned:
		return "The visit was signed before this entry arrived; add it as an amendment."
	case record.CodeForked:
		return "This tablet has sent another entry under the same number, as happens when a tablet is copied or restored."
	case record.CodeAuthor:
		return "The entry was not written by the person whose tablet sent it."
	case record.CodeSubject:
		return "The entry does not fit what it is about."
	case record.CodeOverride:
		return "The therapist's decision can not stand like this."
	}
	return "The entry can not be taken in."
}
