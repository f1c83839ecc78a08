package record

import "strings"

// Codes of a Refusal. The last group is found by the server when it puts an
// event into its place.
const (
	CodeBrokenJSON = "broken-json"    // the bytes are not one JSON object
	CodeRequired   = "required"       // something is missing
	CodeWrongType  = "wrong-type"     // a text where a number belongs, or a word that is not in the list
	CodeOutOfRange = "out-of-range"   // a number, date or length outside what is possible
	CodeWrongUnit  = "wrong-unit"     // a unit that does not measure this
	CodeTooOld     = "too-old-schema" // written by a version that is no longer read

	CodeUnknownItem    = "unknown-item"    // the visit's checklist has no such item
	CodeOtherChecklist = "other-checklist" // an item or visit of another checklist version
	CodeOtherTeam      = "other-team"      // about something of a team that the author is not in
	CodeNotAllowed     = "not-allowed"     // the author's role may not write this
	CodeSigned         = "signed"          // the visit was signed before this arrived
	CodeForked         = "forked"          // the number carries other bytes already
	CodeAuthor         = "author"          // not written by the tablet's owner
	CodeSubject        = "subject"         // about something that does not exist, or exists already
	CodeOverride       = "override-refused"
)

// Refusal says what is wrong with one event and what was expected, in words
// for the person who has to put it right.
type Refusal struct {
	// Code is one of the Code constants.
	Code string
	// Field is the path of the field, such as "body.level"; empty when the
	// whole event is meant.
	Field string
	// Want is what was expected, Got what was found; both read on after
	// "expected" and "got". Got may be empty.
	Want string
	Got  string
}

// Error says it in one line: "body.level: expected 0 to 4, got 7".
func (r *Refusal) Error() string {
	var b strings.Builder
	if r.Field != "" {
		b.WriteString(r.Field)
		b.WriteString(": ")
	}
	b.WriteString("expected ")
	b.WriteString(r.Want)
	if r.Got != "" {
		b.WriteString(", got ")
		b.WriteString(r.Got)
	}
	return b.String()
}

// within puts a refusal's field under a parent.
func (r *Refusal) within(parent string) *Refusal {
	switch {
	case r.Field == "":
		r.Field = parent
	case r.Field[0] == '[':
		r.Field = parent + r.Field
	default:
		r.Field = parent + "." + r.Field
	}
	return r
}

// quoted shortens what was found so that it can stand in a sentence.
func quoted(s string) string {
	const longest = 40
	if len([]rune(s)) > longest {
		s = string([]rune(s)[:longest]) + "…"
	}
	return `"` + s + `"`
}

// oneOf says "a, b or c".
func oneOf(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
