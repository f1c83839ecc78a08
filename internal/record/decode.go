package record

import (
	"strconv"
	"strings"
	"time"
)

// Limits of an event's own fields.
const (
	LongestID   = 64        // bytes of a tablet, person, client or visit id
	LongestZone = 64        // bytes of a time zone's name
	LongestKind = 40        // bytes of a kind
	LongestLine = 256 << 10 // bytes of one event
)

// Decode reads one event's own fields. Body is left as it is, but is JSON;
// see ReadBody. Fields that it does not know are passed over. The error is a
// *Refusal; the Event then holds what could be read.
func Decode(raw []byte) (Event, error) {
	var event Event
	if bad := event.read(raw); bad != nil {
		return event, bad
	}
	return event, nil
}

func (e *Event) read(raw []byte) *Refusal {
	if len(raw) == 0 {
		return &Refusal{Code: CodeBrokenJSON, Want: "an event", Got: "nothing"}
	}
	if len(raw) > LongestLine {
		return &Refusal{Code: CodeOutOfRange, Want: "at most " + strconv.Itoa(LongestLine) + " bytes an event", Got: strconv.Itoa(len(raw))}
	}
	if !validText(raw) {
		return &Refusal{Code: CodeBrokenJSON, Want: "text in UTF-8", Got: "other bytes"}
	}
	s := scan{b: raw}
	if s.peek() != '{' {
		return s.broken("an event as a JSON object")
	}
	var seen envelopeFields
	bad := s.object(func(key []byte) *Refusal { return e.field(&s, key, &seen) })
	if bad == nil {
		bad = s.end()
	}
	if bad != nil {
		return bad
	}
	return e.check(seen)
}

// envelopeFields marks which of an event's own fields were named.
type envelopeFields uint16

const (
	namedTablet envelopeFields = 1 << iota
	namedN
	namedKind
	namedSubject
	namedAuthor
	namedAt
	namedZone
	namedSchema
	namedSeen
	namedBody
)

func (e *Event) field(s *scan, key []byte, seen *envelopeFields) *Refusal {
	var mark envelopeFields
	var bad *Refusal
	switch string(key) {
	case "tablet":
		mark, bad = namedTablet, s.text(&e.Tablet)
	case "n":
		mark, bad = namedN, s.integer(&e.N)
	case "kind":
		mark, bad = namedKind, s.text(&e.Kind)
	case "subject":
		mark, bad = namedSubject, s.text(&e.Subject)
	case "author":
		mark, bad = namedAuthor, s.text(&e.Author)
	case "at":
		mark, bad = namedAt, s.text(&e.At)
	case "zone":
		mark, bad = namedZone, s.text(&e.Zone)
	case "schema":
		mark, bad = namedSchema, s.count(&e.Schema)
	case "seen":
		mark, bad = namedSeen, s.integer(&e.Seen)
	case "body":
		mark, bad = namedBody, s.raw(&e.Body)
	default:
		return s.skip(0)
	}
	if bad == nil && *seen&mark != 0 {
		return &Refusal{Code: CodeBrokenJSON, Field: string(key), Want: "each field once", Got: string(key) + " twice"}
	}
	*seen |= mark
	return bad
}

func (e *Event) check(seen envelopeFields) *Refusal {
	switch {
	case !validID(e.Tablet):
		return badID("tablet", e.Tablet)
	case e.N < 1:
		return &Refusal{Code: CodeOutOfRange, Field: "n", Want: "a number from 1", Got: strconv.FormatInt(e.N, 10)}
	case !validKind(e.Kind):
		return missingOr(CodeWrongType, "kind", "the kind of event, in small letters and hyphens", e.Kind)
	case !validID(e.Subject):
		return badID("subject", e.Subject)
	case !validID(e.Author):
		return badID("author", e.Author)
	case !validTime(e.At):
		return missingOr(CodeWrongType, "at", "a time such as 2026-03-01T09:30:00.000Z", e.At)
	case e.Zone == "" || len(e.Zone) > LongestZone:
		return missingOr(CodeWrongType, "zone", "a time zone such as Europe/Dublin", e.Zone)
	case e.Schema < 1:
		return &Refusal{Code: CodeRequired, Field: "schema", Want: "a number from 1"}
	case e.Seen < 0:
		return &Refusal{Code: CodeOutOfRange, Field: "seen", Want: "a number from 0", Got: strconv.FormatInt(e.Seen, 10)}
	case seen&namedSeen == 0:
		return &Refusal{Code: CodeRequired, Field: "seen", Want: "the last log position that the tablet had pulled"}
	case len(e.Body) == 0 || e.Body[0] != '{':
		return &Refusal{Code: CodeRequired, Field: "body", Want: "an object"}
	}
	return nil
}

func badID(field, got string) *Refusal {
	return missingOr(CodeWrongType, field, "an id of 1 to 64 letters, digits, hyphens or underscores", got)
}

// missingOr refuses a text that is empty or wrong.
func missingOr(code, field, want, got string) *Refusal {
	if got == "" {
		return &Refusal{Code: CodeRequired, Field: field, Want: want}
	}
	return &Refusal{Code: code, Field: field, Want: want, Got: quoted(got)}
}

// ServerTablet is the stream of the events that the server writes itself.
const ServerTablet = "server"

// ValidID says whether an id is 1 to 64 letters, digits, hyphens or
// underscores.
func ValidID(id string) bool { return validID(id) }

func validID(id string) bool {
	if id == "" || len(id) > LongestID {
		return false
	}
	for i := 0; i < len(id); i++ {
		c := id[i] | 0x20
		if !(c >= 'a' && c <= 'z' || id[i] >= '0' && id[i] <= '9' || id[i] == '-' || id[i] == '_') {
			return false
		}
	}
	return true
}

func validKind(kind string) bool {
	if kind == "" || len(kind) > LongestKind {
		return false
	}
	for i := 0; i < len(kind); i++ {
		if c := kind[i]; !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-') {
			return false
		}
	}
	return true
}

func validTime(at string) bool {
	if !strings.HasSuffix(at, "Z") {
		return false
	}
	_, err := time.Parse(time.RFC3339, at)
	return err == nil
}

// MakeRef names an event.
func MakeRef(tablet string, n int64) Ref {
	return Ref(tablet + ":" + strconv.FormatInt(n, 10))
}

// Tablet is the tablet that a ref names, empty when it is not a ref.
func (r Ref) Tablet() string {
	tablet, _, _ := strings.Cut(string(r), ":")
	return tablet
}

func validRef(r Ref) bool {
	tablet, n, found := strings.Cut(string(r), ":")
	if !found || !validID(tablet) || n == "" || n[0] == '0' {
		return false
	}
	_, err := strconv.ParseUint(n, 10, 53)
	return err == nil
}

// Ref names the event for ever.
func (e *Event) Ref() Ref { return MakeRef(e.Tablet, e.N) }
