// Package model holds what was said and what it folds to, as plain structs with
// their ranges, words and lengths. What reads, writes and checks them is
// generated from the tags beside the fields, and so are the types of the front
// end and the JSON Schemas; "go run ./cmd/bundle types" does it. PROTOCOL.md in
// package record describes the same for somebody who writes another client.
//
// A tag check holds, comma-separated: a range "0..24", also "0..LengthMM" up to
// another field; zero, when 0 means not known; oneof= and a list of words;
// max= and the longest length; keys= and the list of words, or site, that the
// keys of a map are from; required; optional, for a text that may be empty; each,
// when every element has checks of its own; and formats such as id, date and
// ref. A tag want says what a required text is, a tag unit what a number counts.
// What concerns several fields is a method checkTogether.
package model

import (
	"strconv"
	"strings"
)

// Schema numbers of events. A server reads SchemaOldest to SchemaNow; an event
// with a later number is stored and shown as "update the app".
const (
	SchemaNow    = 1
	SchemaOldest = 1
)

// ServerTablet is the stream of the events that the server writes itself.
const ServerTablet = "server"

// Event is one immutable statement by one person on one tablet. The log keeps
// the bytes as they were received; this struct is only a reading of them.
//
//codegen:read
type Event struct {
	// Tablet names the stream the event belongs to: one person on one device.
	Tablet string `json:"tablet" check:"id"`
	// N counts 1, 2, 3… without gaps within the tablet.
	N int64 `json:"n" check:"1.."`
	// Kind says what Body holds; see the Kind constants.
	Kind string `json:"kind" check:"kind"`
	// Subject is the id of the client, visit or control that the event is about.
	Subject string `json:"subject" check:"id"`
	// Author is the id of the person who wrote it, always the tablet's owner.
	Author string `json:"author" check:"id"`
	// At is the tablet's own time, RFC 3339 with milliseconds in UTC. It is a
	// claim: shown and flagged when far off, never used for ordering.
	At string `json:"at" check:"time"`
	// Zone is the tablet's IANA time zone, to show At as the author saw it.
	Zone string `json:"zone" check:"zone"`
	// Schema is the version of the body's shape.
	Schema int `json:"schema" check:"schema"`
	// Seen is the last log position of the team that the tablet had pulled
	// when the event was written. Two answers that had not seen each other
	// are both kept.
	Seen int64 `json:"seen" check:"0..,named"`
	// Log is the id of the log in which Seen counts; see Logs. It is left out
	// before the first pull, and by versions of the app that did not know it.
	Log string `json:"log,omitempty" check:"id,optional"`
	// Body is the kind's own part.
	Body Raw `json:"body" check:"object"`
}

// Ref names the event for ever.
func (e *Event) Ref() Ref { return MakeRef(e.Tablet, e.N) }

// Known reports whether this version can read the event's body. An event of an
// unknown kind or a later schema is kept and counted, not refused.
func (e *Event) Known() bool {
	return e.Schema >= SchemaOldest && e.Schema <= SchemaNow && KindOf(e.Kind) != nil
}

// Ref names an event for ever: "tablet:n".
type Ref string

// MakeRef names an event.
func MakeRef(tablet string, n int64) Ref {
	return Ref(tablet + ":" + strconv.FormatInt(n, 10))
}

// Tablet returns the tablet that a ref names, empty when it is not a ref.
func (r Ref) Tablet() string {
	tablet, _, _ := strings.Cut(string(r), ":")
	return tablet
}

// Number returns the number within the tablet that a ref names, 0 when it is not a
// ref.
func (r Ref) Number() int64 {
	_, n, _ := strings.Cut(string(r), ":")
	number, err := strconv.ParseInt(n, 10, 64)
	if err != nil {
		return 0
	}
	return number
}

// Entry is an event in its place: the position that the server gave it, or 0
// while it waits on a tablet.
type Entry struct {
	Pos int64 `json:"pos"`
	// Received is the server's time of arrival, RFC 3339 in UTC; empty while
	// the event waits.
	Received string `json:"received,omitempty"`
	// Skewed marks that the tablet's clock was more than five minutes off
	// when the event arrived.
	Skewed bool `json:"skewed,omitempty"`
	// Raw is the event exactly as its tablet wrote it.
	Raw Raw `json:"raw"`
}

// PullAnswer is a page of a team's log, the answer of
// GET /api/v1/teams/{team}/events. AppendJSON writes each event byte for byte as
// its tablet wrote it; encoding/json would write it anew.
//
//codegen:write
type PullAnswer struct {
	Log string `json:"log"`
	// Earlier are the logs that this one was restored from, oldest first, with
	// the last position up to which each is the same.
	Earlier []EarlierLog `json:"earlier,omitempty"`
	Events  []Entry      `json:"events"`
	// Next is the cursor for the next pull; More says that there is more now.
	Next int64 `json:"next"`
	More bool  `json:"more"`
	// Head is the last position of the whole log.
	Head       int64  `json:"head"`
	ServerTime string `json:"server_time"`
}

// Stamp says who said something, when by their own tablet, and where in the
// log it stands.
type Stamp struct {
	Ref Ref    `json:"ref"`
	By  string `json:"by"`
	At  string `json:"at"`
	// Pos is 0 while the event waits on a tablet.
	Pos int64 `json:"pos"`
}
