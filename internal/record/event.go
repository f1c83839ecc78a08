// Package record holds what was said: the immutable events that tablets write,
// their order, and the fold that turns them into clients and visits. It is
// pure: no clock, no disk, no network. PROTOCOL.md beside this file describes
// the same for somebody who writes another client.
package record

import "encoding/json"

// Schema numbers of events. A server reads SchemaOldest to SchemaNow; an event
// with a later number is stored and shown as "update the app".
const (
	SchemaNow    = 1
	SchemaOldest = 1
)

// Event is one immutable statement by one person on one tablet. The log keeps
// the bytes as they were received; this struct is only a reading of them.
type Event struct {
	// Tablet names the stream the event belongs to: one person on one device.
	Tablet string `json:"tablet"`
	// N counts 1, 2, 3… without gaps within the tablet.
	N int64 `json:"n"`
	// Kind says what Body holds; see the Kind constants.
	Kind string `json:"kind"`
	// Subject is the id of the client, visit or control that the event is about.
	Subject string `json:"subject"`
	// Author is the id of the person who wrote it, always the tablet's owner.
	Author string `json:"author"`
	// At is the tablet's own time, RFC 3339 with milliseconds in UTC. It is a
	// claim: shown and flagged when far off, never used for ordering.
	At string `json:"at"`
	// Zone is the tablet's IANA time zone, to show At as the author saw it.
	Zone string `json:"zone"`
	// Schema is the version of the body's shape.
	Schema int `json:"schema"`
	// Seen is the last log position of the team that the tablet had pulled
	// when the event was written. Two answers that had not seen each other
	// are both kept.
	Seen int64 `json:"seen"`
	// Body is the kind's own part.
	Body json.RawMessage `json:"body"`
}

// Ref names an event for ever: "tablet:n".
type Ref string

// Kinds of event. A client's subject is the client id, a visit's the visit id, a
// control's the control id.
const (
	KindClientOpened   = "client-opened"   // ClientOpened
	KindClientChanged  = "client-changed"  // ClientChanged
	KindClientAssigned = "client-assigned" // ClientAssigned; written by the server only
	KindVisitStarted   = "visit-started"   // VisitStarted
	KindVisitNoted     = "visit-noted"     // VisitNoted
	KindAnswerGiven    = "answer-given"    // AnswerGiven
	KindAnswerChosen   = "answer-chosen"   // AnswerChosen
	KindReadingTaken   = "reading-taken"   // ReadingTaken
	KindReadingMarked  = "reading-marked"  // ReadingMarked
	KindRunTimed       = "run-timed"       // RunTimed
	KindRunMarked      = "run-marked"      // RunMarked
	KindSetupChosen    = "setup-chosen"    // SetupChosen
	KindPlanAgreed     = "plan-agreed"     // PlanAgreed
	KindOverrideMade   = "override-made"   // OverrideMade
	KindVisitSigned    = "visit-signed"    // VisitSigned
	KindAmendmentMade  = "amendment-made"  // AmendmentMade
	KindControlListed  = "control-listed"  // ControlListed; its subject is the control
	KindKitPacked      = "kit-packed"      // KitPacked
	KindNeedsNoted     = "needs-noted"     // NeedsNoted
	KindNeedsUnset     = "needs-unset"     // NeedsUnset
	KindChairMeasured  = "chair-measured"  // ChairMeasured
	KindPlaceMeasured  = "place-measured"  // PlaceMeasured
	KindSettingChanged = "setting-changed" // SettingChanged
	KindSettingTried   = "setting-tried"   // SettingTried
	KindMountNoted     = "mount-noted"     // MountNoted
)

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
	Raw json.RawMessage `json:"raw"`
}
