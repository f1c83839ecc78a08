package store

// Times in this package are RFC 3339 in UTC with milliseconds (see TimeLayout),
// so that they sort as text; an empty string is "never".

// TimeLayout is how times are written in stored records.
const TimeLayout = "2006-01-02T15:04:05.000Z"

// Subject is what an event can be about.
type Subject struct {
	ID string `json:"id"`
	// Kind is model.SubjectClient, model.SubjectVisit or model.SubjectControl.
	Kind string `json:"kind"`
	Team string `json:"team"`
	// Client is the client of a visit, ID itself for a client, and empty for a
	// control.
	Client string `json:"client"`
	// Checklist is the hash that a visit is pinned to.
	Checklist string `json:"checklist,omitempty"`
}

// Batch is some events of one tablet with consecutive numbers that are about
// one subject.
type Batch struct {
	Tablet string
	// FirstN is the number of the first event, 1 or more.
	FirstN  int64
	Team    string
	Subject string
	// Received is the server's time of arrival.
	Received string
	// Skewed marks that the tablet's clock was off by more than is shown
	// without a flag.
	Skewed bool
	// Events are the bytes as received, without line ends; none is empty.
	Events [][]byte
}

// Placed says where a tablet's number went: into the log or into quarantine.
type Placed struct {
	// Pos is the log position, or 0 when the event was quarantined.
	Pos int64
	// Quarantine is the number of the quarantined entry, or 0.
	Quarantine int64
	// Raw is the event as received; not a copy.
	Raw []byte
}

// Tablet is one person on one device.
type Tablet struct {
	ID         string `json:"id"`
	Person     string `json:"person"`
	Label      string `json:"label"`
	Registered string `json:"registered"`
	// Ack is the highest number up to which every event has been placed.
	Ack      int64  `json:"ack"`
	LastPush string `json:"last_push,omitempty"`
	// Waiting is how many events the tablet said that it still holds, and
	// OldestWaiting when the oldest of them was written.
	Waiting       int64  `json:"waiting"`
	OldestWaiting string `json:"oldest_waiting,omitempty"`
	// WaitingClients are the clients that the waiting events are about.
	WaitingClients []string `json:"waiting_clients,omitempty"`
	// SkewSeconds is how far the tablet's clock was ahead of the server's at
	// the last push; negative is behind.
	SkewSeconds int64 `json:"skew_seconds,omitempty"`
	// Seen is when the tablet last asked for anything, right to five minutes.
	Seen string `json:"seen,omitempty"`
	// Revoked marks a tablet that was withdrawn: it may still send what it
	// holds, and nothing else. RevokedAt and RevokedBy say when and by whom.
	Revoked   bool   `json:"revoked,omitempty"`
	RevokedAt string `json:"revoked_at,omitempty"`
	RevokedBy string `json:"revoked_by,omitempty"`
	// Cleared is when the withdrawn tablet said that it holds nothing more.
	Cleared string `json:"cleared,omitempty"`
	// Key is what the tablet signs with, nil until it registers one.
	Key *TabletKey `json:"key,omitempty"`
}

// TabletKey is the public half of a tablet's key pair; see package signing.
type TabletKey struct {
	Algorithm string `json:"algorithm"`
	Public    string `json:"public"`
	// At is when it was registered.
	At string `json:"at"`
}

// Result is what the engine said about a visit.
type Result struct {
	Visit string `json:"visit"`
	// Format, Engine, Catalogue and Rules are those of a model.Result. A result
	// of an earlier version can have model.FirstResultFormat and no catalogue.
	Format    string `json:"format"`
	Engine    string `json:"engine"`
	Catalogue string `json:"catalogue,omitempty"`
	Rules     string `json:"rules"`
	// Body is the canonical form, the bytes that are hashed; empty when the
	// visit could not be scored. SHA256 is its hash in hex.
	Body   []byte `json:"-"`
	SHA256 string `json:"sha256"`
	// Pos is the position of the last event that the result knows of.
	Pos int64  `json:"pos"`
	At  string `json:"at"`
	// Brief is what the caseload needs of the visit.
	Brief Brief `json:"brief"`
	// Evidence is a result by an earlier program that this one replaced, nil where
	// there was none.
	Evidence *Evidence `json:"evidence,omitempty"`
}

// Evidence is a result as an earlier program computed it and somebody perhaps
// signed it. It is kept because no present program can compute its bytes.
type Evidence struct {
	Format string `json:"format"`
	Engine string `json:"engine"`
	Body   []byte `json:"-"`
	SHA256 string `json:"sha256"`
	// Pos is the position of the last event that it knows of.
	Pos int64 `json:"pos"`
}

// Brief is a visit in a few words.
type Brief struct {
	Client string `json:"client"`
	// Begun is when the visit was started: what its tablet claims, but not
	// later than when the server first heard of it.
	Begun  string `json:"begun"`
	Author string `json:"author"`
	Signed bool   `json:"signed"`
	// Second marks a second rating of a colleague's visit.
	Second bool `json:"second,omitempty"`
	// Mismatch marks a signed visit whose first result was not the one that
	// was shown when signing.
	Mismatch bool   `json:"mismatch,omitempty"`
	Recheck  string `json:"recheck,omitempty"`
	// Choices counts items that wait for a choice, Unknown events that this
	// version can not read.
	Choices int `json:"choices"`
	Unknown int `json:"unknown,omitempty"`
	// Level, Effective, Interim, Override, Stops and Limits are those of a
	// Summary; Level is empty when the visit could not be scored.
	Level     string `json:"level,omitempty"`
	Effective string `json:"effective,omitempty"`
	Interim   bool   `json:"interim,omitempty"`
	Override  bool   `json:"override,omitempty"`
	Stops     int    `json:"stops"`
	Limits    int    `json:"limits"`
	// Unscored marks a visit that the engine could not score.
	Unscored bool `json:"unscored,omitempty"`
	// Measures is what a forecast over visits asks of this one, or nil.
	Measures *VisitMeasures `json:"sight,omitempty"`
}

// VisitMeasures is what one visit gives to a forecast over several.
type VisitMeasures struct {
	// At is the tablet's time, Day its day in UTC counted from 1 January 1970.
	At  string `json:"at"`
	Day int    `json:"day"`
	// Site, OperateGF and Needed are those of the set-up; empty without one.
	Site      string   `json:"site,omitempty"`
	OperateGF float64  `json:"operate_gf,omitempty"`
	Needed    []string `json:"needed,omitempty"`
	// WaitWeeks is until delivery, nil when nobody said.
	WaitWeeks *float64 `json:"wait_weeks,omitempty"`
	// RecheckWeeks is the ordinary interval, 0 for none.
	RecheckWeeks int          `json:"recheck_weeks,omitempty"`
	Forces       []VisitForce `json:"forces,omitempty"`
}

// VisitForce is force at one site in one direction in gram-force; nil is not
// measured. Numbers are stored as text, as earlier versions did.
type VisitForce struct {
	Site      string   `json:"site"`
	Direction string   `json:"direction"`
	Usable    *float64 `json:"usable,omitempty,string"`
	Rested    *float64 `json:"rested,omitempty,string"`
	Tired     *float64 `json:"tired,omitempty,string"`
}

// Summary is the caseload's line of one client.
type Summary struct {
	Client   string `json:"client"`
	Name     string `json:"name"`
	Ref      string `json:"ref"`
	Team     string `json:"team"`
	Priority string `json:"priority"`
	Course   string `json:"course"`
	Assignee string `json:"assignee"`
	Status   string `json:"status"`
	Referred string `json:"referred"`
	// Version is for compare-and-set of Assignee and Status.
	Version int64 `json:"version"`
	// Visit is the visit that the next fields are about: the last one begun.
	Visit string `json:"visit,omitempty"`
	// Level is the calculated level id, empty without a visit; Effective is
	// the level with the therapist's decision, if one was accepted.
	Level     string `json:"level,omitempty"`
	Effective string `json:"effective,omitempty"`
	Interim   bool   `json:"interim,omitempty"`
	Override  bool   `json:"override,omitempty"`
	// Stops and Limits count open effects.
	Stops  int `json:"stops"`
	Limits int `json:"limits"`
	// LastVisit is when the visit was started, by its author's tablet.
	LastVisit string `json:"last_visit,omitempty"`
	Author    string `json:"author,omitempty"`
	Signed    bool   `json:"signed"`
	// Mismatch marks a signed visit whose result is not the one shown when
	// signing.
	Mismatch bool `json:"mismatch,omitempty"`
	// Recheck is a date, 2006-01-02, or empty; RecheckForecast says that the
	// forecast asks for it sooner than what was agreed.
	Recheck         string `json:"recheck,omitempty"`
	RecheckForecast bool   `json:"recheck_forecast,omitempty"`
	// ReserveOn is the day on which the forecast's line falls to a reserve of 3, or
	// where the line does not, the early end of its band; ExpectedOn is the one on
	// which the control is expected. Both are empty when not known.
	ReserveOn  string `json:"reserve_on,omitempty"`
	ExpectedOn string `json:"expected_on,omitempty"`
	// Unscored counts visits that the engine could not score.
	Unscored int `json:"unscored,omitempty"`
	// Choices counts items that wait for a choice, over all visits.
	Choices int `json:"choices"`
	// Quarantined counts quarantined entries that nobody has settled.
	Quarantined int `json:"quarantined"`
	// Unsigned and Visits count visits.
	Unsigned int `json:"unsigned"`
	Visits   int `json:"visits"`
	// Unknown counts events that this version can not read.
	Unknown int `json:"unknown,omitempty"`
	// Damaged marks a line that could not be made anew, because something of the
	// client can not be read: the rest of it may be old.
	Damaged bool `json:"damaged,omitempty"`
}

// Quarantined is an event that the server keeps but does not count.
type Quarantined struct {
	ID     int64  `json:"id"`
	Tablet string `json:"tablet"`
	N      int64  `json:"n"`
	Person string `json:"person"`
	// Team is the team whose lead sees it.
	Team string `json:"team"`
	// Subject and Client are set when the event could be read that far and
	// is about something of that team.
	Subject string `json:"subject,omitempty"`
	Client  string `json:"client,omitempty"`
	Kind    string `json:"kind,omitempty"`
	// Code is for programs; Field, Want and Got say what was wrong, and Hint
	// says it in a sentence.
	Code     string `json:"code"`
	Field    string `json:"field,omitempty"`
	Want     string `json:"want,omitempty"`
	Got      string `json:"got,omitempty"`
	Hint     string `json:"hint"`
	Received string `json:"received"`
	// Skewed is that of a Batch.
	Skewed bool `json:"skewed,omitempty"`
	// Roles are the sender's roles by team on arrival, empty for somebody who
	// worked in none. Nil is in entries of earlier versions, which noted none.
	Roles map[string]string `json:"roles"`
	// Raw is the event as received; it may not be JSON.
	Raw     []byte      `json:"raw"`
	Settled *Settlement `json:"settled,omitempty"`
	// Pos is the log position that the entry was given later, and PlacedAt
	// when; 0 and empty while it has none.
	Pos      int64  `json:"pos,omitempty"`
	PlacedAt string `json:"placed_at,omitempty"`
}

// Open says whether somebody still has to deal with the entry: it was neither
// settled nor given a place in the log.
func (q *Quarantined) Open() bool { return q.Settled == nil && q.Pos == 0 }

// Settlement says who dealt with a quarantined entry.
type Settlement struct {
	By   string `json:"by"`
	At   string `json:"at"`
	Note string `json:"note"`
	// Confirmed says that the entry was confirmed to be its author's: it was
	// judged anew, and what counts of it is not this entry.
	Confirmed bool `json:"confirmed,omitempty"`
}

// QuarantineFilter narrows a list. Empty fields let everything through.
type QuarantineFilter struct {
	Team   string
	Tablet string
	Client string
	// Person is who sent it.
	Person string
	// N narrows to one number of the Tablet.
	N int64
	// Open leaves out what has been settled or placed, Closed what has not.
	Open, Closed bool
}

// QuarantineList names what open entries are counted by.
type QuarantineList string

// What open entries are counted by.
const (
	QuarantineByTeam   QuarantineList = "team"
	QuarantineByTablet QuarantineList = "tablet"
	QuarantineByClient QuarantineList = "client"
	QuarantineByPerson QuarantineList = "person"
)

// QuarantineCount says how many entries there are and how many bytes their
// events have together.
type QuarantineCount struct{ Entries, Bytes int64 }
