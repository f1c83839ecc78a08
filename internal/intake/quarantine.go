package intake

import (
	"bytes"
	"errors"
	"strings"

	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// quarantine keeps an event in quarantine.
func (t *pushTransaction) quarantine(n int64, it *item, bad *validation.Error) (Verdict, error) {
	roles := t.who.Teams
	if roles == nil {
		roles = map[string]string{} // none, and not that none were noted
	}
	q := store.Quarantined{
		Tablet: t.tablet, N: n, Person: t.who.Person, Kind: it.event.Kind, Subject: it.event.Subject,
		Code: bad.Code, Field: bad.Path, Want: bad.Want, Got: bad.Got, Hint: hint(bad),
		Received: t.now, Skewed: t.push.skewed(), Roles: roles, Raw: bytes.Clone(it.raw),
	}
	if err := t.mayQuarantine(&q); err != nil {
		return Verdict{}, err
	}
	if err := t.address(&q, it.body); err != nil {
		return Verdict{}, err
	}
	id, err := t.w.Quarantine(q)
	if err != nil {
		return Verdict{}, err
	}
	q.ID = id
	if q.Code == validation.CodeUnreadable {
		if err := t.w.SetJudgedBy(""); err != nil { // the next start looks at it
			return Verdict{}, err
		}
	}
	return verdictOf(&q), t.touchClient(q.Client)
}

// address finds the team whose lead must see the entry: the team of what it is
// about, else the one that it names, else where earlier entries about the same
// went, else one of the author's.
func (t *pushTransaction) address(q *store.Quarantined, body model.Body) error {
	about := q.Subject
	claimed := ""
	switch b := body.(type) {
	case *model.ClientOpened:
		claimed = b.Team
	case *model.ControlListed:
		claimed = b.Team
	case *model.VisitStarted:
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
	_, err = t.w.Team(claimed)
	if err == nil {
		q.Team = claimed
		return nil
	}
	if !errors.Is(err, store.ErrNotFound) {
		return err
	}
	if q.Team, err = t.w.QuarantineTeam(t.tablet, q.Subject); !errors.Is(err, store.ErrNotFound) {
		return err
	}
	for team := range t.who.Teams {
		if q.Team == "" || team < q.Team {
			q.Team = team
		}
	}
	return nil
}

func verdictOf(q *store.Quarantined) Verdict {
	return Verdict{N: q.N, Verdict: Quarantined, Code: q.Code, Hint: q.Hint, Field: q.Field, Want: q.Want, Entry: q.ID}
}

// hint says in plain words what was wrong. What was expected follows only where
// somebody entered it: of what the program writes around an entry nobody on a
// visit knows anything, and the verdict names it for programs.
func hint(bad *validation.Error) string {
	var b strings.Builder
	b.WriteString(reason(bad.Code))
	if field, ok := strings.CutPrefix(bad.Path, "body."); ok {
		b.WriteString(" In the field “" + field + "” the server expected " + bad.Want)
		if bad.Got != "" {
			b.WriteString(" and got " + bad.Got)
		}
		b.WriteString(".")
	}
	b.WriteString(" The entry is kept, but it does not count.")
	return b.String()
}

func reason(code string) string {
	switch code {
	case validation.CodeBrokenJSON:
		return "The entry can not be read."
	case validation.CodeRepeated:
		return "The entry names a field twice, so it can be read in two ways."
	case validation.CodeRequired:
		return "Something is missing in the entry."
	case validation.CodeWrongType:
		return "A value is of the wrong kind."
	case validation.CodeOutOfRange:
		return "A value is outside what is possible."
	case validation.CodeWrongUnit:
		return "The unit does not fit what was measured."
	case validation.CodeTooOld:
		return "The entry was written by an app that is too old; update the app."
	case validation.CodeUnknownItem:
		return "The visit's checklist has no such question."
	case validation.CodeOtherChecklist:
		return "The entry belongs to another version of the checklist."
	case validation.CodeOtherTeam:
		return "The entry is about a client of another team."
	case validation.CodeNotAllowed:
		return "The author's role does not cover this."
	case validation.CodeSigned:
		return "The visit was signed before this entry arrived; add it as an amendment."
	case validation.CodeForked:
		return "This tablet has sent another entry under the same number, as happens when a tablet is copied or restored."
	case validation.CodeUnsigned:
		return "This came sealed and was not signed by the tablet that it names, so somebody else may have written it."
	case validation.CodeUnknownSchema:
		return "The entry was written by a newer version of the app than the server knows; once the server is updated it looks at the entry again."
	case validation.CodeUnreadable:
		return "What the server has of the visit is damaged; once it can be read the entry is looked at again."
	case validation.CodeOvertaken:
		return "The entry could only be read after its author had written a later one of the same kind, which counts."
	case validation.CodeAhead:
		return "The entry says that its tablet had read more of the records than there were, so what its author had seen is not known."
	case validation.CodeAuthor:
		return "The entry was not written by the person whose tablet sent it."
	case validation.CodeSubject:
		return "The entry does not fit what it is about."
	case validation.CodeOverride:
		return "The therapist's decision can not stand like this."
	}
	return "The entry can not be taken in."
}
