// Package record reads the immutable events that tablets write, puts them into
// their order, and folds them into clients, visits and controls. It is pure: no
// clock, no disk, no network. PROTOCOL.md beside this file describes the same
// for somebody who writes another client.
package record

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"doorsill/internal/model"
	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// LongestLine is the most bytes of one event.
const LongestLine = 256 << 10

// Receive reads an event that arrives, with its body: as Decode and ReadBody do,
// and refuses a field that is named twice, in the event or anywhere in its body,
// since programs differ in which of the two they take, and a time zone's name that
// is not printable ASCII. Events that were stored before these were refused are read
// by Decode and ReadBody, which take the last of two and any zone.
// The error is a *validation.Error; the Event then holds what could be read.
func Receive(raw []byte) (model.Event, model.Body, error) {
	event, err := Decode(raw)
	if err != nil {
		return event, nil, err
	}
	if repeated := strictjson.CheckRepeats(raw); repeated != nil {
		return event, nil, repeated
	}
	if !printable(event.Zone) {
		return event, nil, validation.Unexpected(validation.CodeWrongType, "zone", "a time zone such as Europe/Dublin", event.Zone)
	}
	body, err := ReadBody(&event)
	if err != nil {
		return event, nil, err
	}
	if bad := CheckNew(body); bad != nil {
		return event, nil, bad
	}
	if bad := checkMeasured(&event, body); bad != nil {
		return event, nil, bad
	}
	return event, body, nil
}

// checkMeasured refuses a reading that names no value, also in an amendment: read as
// 0, a release or a force that is not meant would be the best there can be. One that
// was missed has none. Stored events, which are from before it was refused, are read
// as 0.
func checkMeasured(event *model.Event, body model.Body) *validation.Error {
	raw, path := []byte(event.Body), "body"
	if amendment, is := body.(*model.AmendmentMade); is {
		raw, path = amendment.Change, "body.change"
		body, _ = ReadChange(amendment) // which was read with the amendment
	}
	reading, is := body.(*model.ReadingTaken)
	if !is || reading.Missed || reading.Value != 0 {
		return nil
	}
	given := false
	r := strictjson.NewReader(raw)
	if bad := r.Object(func(key []byte) *validation.Error {
		given = given || string(key) == "value" && r.Peek() != 'n' // null counts as absent
		return r.Skip()
	}); bad != nil {
		return bad.Within(path)
	}
	if !given {
		return (&validation.Error{Code: validation.CodeRequired, Path: "value", Want: "what was measured; 0 where nothing came"}).Within(path)
	}
	return nil
}

// CheckNew refuses what is read of stored events, which are from before it was
// refused, and no more of new ones: also in an amendment.
func CheckNew(body model.Body) *validation.Error {
	path := "body"
	if amendment, is := body.(*model.AmendmentMade); is {
		body, _ = ReadChange(amendment) // which was read with the amendment
		path = "body.change"
	}
	if setup, is := body.(*model.SetupChosen); is {
		return setup.CheckNew().Within(path)
	}
	return nil
}

// printable says whether a text is of visible ASCII alone, as names of time zones are.
func printable(text string) bool {
	return strings.IndexFunc(text, func(r rune) bool { return r <= ' ' || r > '~' }) < 0
}

// Decode reads one event's own fields. Body is left as it is, but is JSON; see
// ReadBody. Fields that it does not know are passed over. The error is a
// *validation.Error; the Event then holds what could be read.
func Decode(raw []byte) (model.Event, error) {
	var event model.Event
	if err := readEvent(&event, raw); err != nil {
		return event, err
	}
	return event, nil
}

func readEvent(e *model.Event, raw []byte) *validation.Error {
	if len(raw) == 0 {
		return &validation.Error{Code: validation.CodeBrokenJSON, Want: "an event", Got: "nothing"}
	}
	if len(raw) > LongestLine {
		return &validation.Error{Code: validation.CodeOutOfRange, Want: "at most " + strconv.Itoa(LongestLine) + " bytes an event", Got: strconv.Itoa(len(raw))}
	}
	if !utf8.Valid(raw) {
		return &validation.Error{Code: validation.CodeBrokenJSON, Want: "text in UTF-8", Got: "other bytes"}
	}
	r := strictjson.NewReader(raw)
	if r.Peek() != '{' {
		return r.Broken("an event as a JSON object")
	}
	seen := false
	err := r.Object(func(key []byte) *validation.Error {
		seen = seen || string(key) == "seen"
		return e.ReadField(r, key)
	})
	if err == nil {
		err = r.End()
	}
	if err != nil {
		return err
	}
	return checkEvent(e, seen)
}

// checkEvent says that seen is missing before it says that the body is.
func checkEvent(e *model.Event, seen bool) *validation.Error {
	err := e.Check()
	if (err == nil || err.Path == "body") && !seen {
		return &validation.Error{Code: validation.CodeRequired, Path: "seen", Want: "the last log position that the tablet had pulled"}
	}
	return err
}

// ReadBody reads and checks the body: types, words from lists, units, ranges
// and dates. Fields that it does not know are passed over. It returns nil and
// no error for an event that is not Known because it is newer. The error is a
// *validation.Error.
func ReadBody(e *model.Event) (model.Body, error) {
	if e.Schema < model.SchemaOldest {
		return nil, &validation.Error{Code: validation.CodeTooOld, Path: "schema", Want: "an event of a newer version of the app"}
	}
	if e.Schema > model.SchemaNow {
		return nil, nil
	}
	body, err := ReadKind(e.Kind, e.Body)
	if err != nil {
		return nil, err
	}
	return body, nil
}

// ReadKind reads and checks the body of an event of a kind, as ReadBody does; nil
// and no error for a kind that is not known.
func ReadKind(kind string, raw []byte) (model.Body, *validation.Error) {
	body, err := readKind(kind, raw)
	return body, err.Within("body")
}

// ReadChange reads the change that an amendment carries. The error is a
// *validation.Error.
func ReadChange(a *model.AmendmentMade) (model.Body, error) {
	body, err := readKind(a.Kind, a.Change)
	if err != nil {
		return nil, err.Within("change")
	}
	return body, nil
}

func readKind(name string, raw []byte) (model.Body, *validation.Error) {
	kind := model.KindOf(name)
	if kind == nil {
		return nil, nil
	}
	body := kind.New()
	r := strictjson.NewReader(raw)
	err := r.Object(func(key []byte) *validation.Error { return body.ReadField(r, key) })
	if err == nil {
		err = r.End()
	}
	if err == nil {
		err = body.Check()
	}
	if amendment, is := body.(*model.AmendmentMade); is && err == nil {
		_, err = readKind(amendment.Kind, amendment.Change)
		err = err.Within("change")
	}
	if err != nil {
		return nil, err
	}
	return body, nil
}
