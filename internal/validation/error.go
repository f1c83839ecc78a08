// Package validation says what is wrong with input, in one type of error for
// all of it: what was expected at which place, and what was found. It holds the
// checks of single values that need to know nothing else.
package validation

import "strings"

// Codes of an Error. The first group is found in what is read by itself. The
// second needs more than an event: the visit's checklist, the team or the log.
const (
	CodeBrokenJSON = "broken-json"      // the bytes are not one JSON object
	CodeRepeated   = "repeated-field"   // an object that names a field twice
	CodeRequired   = "required"         // something is missing
	CodeWrongType  = "wrong-type"       // a text where a number belongs, or a word that is not in the list
	CodeOutOfRange = "out-of-range"     // a number, date or length outside what is possible
	CodeWrongUnit  = "wrong-unit"       // a unit that does not measure this
	CodeTooOld     = "too-old-schema"   // written by a version that is no longer read
	CodeOverride   = "override-refused" // a decision that ends before it begins

	CodeUnknownItem    = "unknown-item"    // the visit's checklist has no such item
	CodeOtherChecklist = "other-checklist" // an item or visit of another checklist version
	CodeOtherTeam      = "other-team"      // about something of a team that the author is not in
	CodeNotAllowed     = "not-allowed"     // the author's role may not write this
	CodeSigned         = "signed"          // the visit was signed before this arrived
	CodeForked         = "forked"          // the number carries other bytes already
	CodeUnsigned       = "unsigned"        // came sealed, not signed by the tablet that it names; counts once somebody confirms it
	CodeAhead          = "ahead"           // had seen more of the log than there is
	CodeUnknownSchema  = "unknown-schema"  // of a kind or schema that is not known yet
	CodeUnreadable     = "unreadable"      // about a visit of which what is stored can not be read
	CodeOvertaken      = "overtaken"       // could be read late, when its author had gone on
	CodeAuthor         = "author"          // not written by the tablet's owner
	CodeSubject        = "subject"         // about something that does not exist, or exists already

	CodeInvalid = "invalid" // a field of a request that is no event
)

// Error says what is wrong with one input and what was expected, in words for
// the person who has to put it right.
type Error struct {
	// Code is one of the Code constants.
	Code string
	// Path leads to the field, such as "body.level"; empty when the whole input
	// is meant.
	Path string
	// Want is what was expected, Got what was found; both read on after
	// "expected" and "got". Got may be empty.
	Want string
	Got  string
}

// Error says it in one line: "body.level: expected 0 to 4, got 7".
func (e *Error) Error() string {
	var b strings.Builder
	if e.Path != "" {
		b.WriteString(e.Path)
		b.WriteString(": ")
	}
	b.WriteString("expected ")
	b.WriteString(e.Want)
	if e.Got != "" {
		b.WriteString(", got ")
		b.WriteString(e.Got)
	}
	return b.String()
}

// Within puts the error's path under a parent and returns the error; nil stays
// nil.
func (e *Error) Within(parent string) *Error {
	switch {
	case e == nil:
		return nil
	case e.Path == "":
		e.Path = parent
	case e.Path[0] == '[':
		e.Path = parent + e.Path
	default:
		e.Path = parent + "." + e.Path
	}
	return e
}

// Invalid says that a field of a request is not as it must be.
func Invalid(path, want string) *Error { return &Error{Code: CodeInvalid, Path: path, Want: want} }

// First returns the first error that is not nil.
func First(errs ...*Error) *Error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// Quote puts what was found in quotation marks, shortened so that it can stand
// in a sentence.
func Quote(s string) string { return `"` + Shorten(s) + `"` }

// Shorten cuts what was found, so that it can stand in a sentence.
func Shorten(s string) string {
	const longest = 40
	if letters := []rune(s); len(letters) > longest {
		return string(letters[:longest]) + "…"
	}
	return s
}

// Either joins words to "a, b or c".
func Either(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
