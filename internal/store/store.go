package store

import (
	"context"
	"io"
	"iter"

	"doorsill/internal/model"
)

// Store keeps everything the server knows. It is safe for use by several
// goroutines. Reads see one moment; writes happen one after another.
type Store interface {
	// View calls fn with a Reader that sees one moment. The Reader and what
	// its methods return must not be used after fn has returned, unless a
	// method says that it returns a copy. The error is fn's own, ErrClosed or
	// the context's.
	View(ctx context.Context, fn func(Reader) error) error

	// Update calls fn with a Writer. When fn returns nil everything that it
	// wrote is durable once Update returns; when fn returns an error nothing
	// of it was written. The context is looked at before fn starts. A store
	// that had no space, and found some, calls fn a second time.
	Update(ctx context.Context, fn func(Writer) error) error

	// Close waits for calls that are under way and lets the data go.
	Close() error
}

// Spacious is a Store that knows when it has no space for more than a little.
type Spacious interface {
	// Room returns ErrFull while only what must be written should be.
	Room() error
}

// Checked is a Store that notices when it should not be written to any more.
type Checked interface {
	// Sound returns ErrDamaged when the end of the log or of the audit trail can
	// not be relied on.
	Sound() error
	// Noted returns an error where the records were opened without knowing how far
	// they must go: an older copy in their place would not have been noticed.
	Noted() error
}

// Copy is the whole store as it stands at one moment.
type Copy struct {
	Log  string
	Head int64
	// Size is how many bytes WriteTo writes.
	Size    int64
	WriteTo func(io.Writer) (int64, error)
}

// Copier is a Store that can be copied while it is in use.
type Copier interface {
	// Copy calls fn, which must not take long: the moment is held until it
	// returns. Reading and writing go on meanwhile.
	Copy(fn func(Copy) error) error
}

// Reader answers questions about one moment. Single lookups return ErrNotFound
// when there is nothing; lists are then empty.
type Reader interface {
	LogReader
	TabletReader
	ResultReader
	QuarantineReader
	PeopleReader
	AuditReader
}

// Writer is a Reader that can also write; it sees its own writes.
type Writer interface {
	Reader
	LogWriter
	TabletWriter
	ResultWriter
	QuarantineWriter
	PeopleWriter
	AuditWriter
}

// LogReader reads the log of events.
type LogReader interface {
	// LogID names this log. It is random, made with the store, and changed
	// when the store is restored from a copy.
	LogID() (string, error)

	// Logs are this log and those that it was restored from, with how far they
	// are the same.
	Logs() (model.Logs, error)

	// Head is the last position given, 0 when the log is empty.
	Head() (int64, error)

	// Placed says what became of number n of a tablet.
	Placed(tablet string, n int64) (Placed, error)

	// Entries returns up to limit entries after a position, in order.
	Entries(after int64, limit int) ([]model.Entry, error)

	// EntriesOfTeam returns up to limit entries of a team after a position, in
	// order, and whether there are more.
	EntriesOfTeam(team string, after int64, limit int) (entries []model.Entry, more bool, err error)

	// EntriesOfSubject returns all entries of a client or visit, in order.
	EntriesOfSubject(subject string) ([]model.Entry, error)

	// Subject says what an id is and whose.
	Subject(id string) (Subject, error)

	// VisitsOfClient returns the ids of a client's visits, oldest first.
	VisitsOfClient(client string) ([]string, error)
}

// LogWriter adds to the log. Nothing is ever changed or removed in it.
type LogWriter interface {
	// Append gives the batch's events the next positions and returns the
	// first of them. It returns ErrOrder when one of the numbers has been
	// placed before. It does not move the tablet's Ack.
	Append(Batch) (first int64, err error)

	// AddSubject says what a new id is and whose. It returns ErrTaken when
	// the id exists already.
	AddSubject(Subject) error

	// SetLogID names the log anew; for restoring from a copy. What is in the log
	// now is what it shares with the one of the name before; see Logs.
	SetLogID(string) error
}

// TabletReader reads the tablets.
type TabletReader interface {
	// Tablet returns one tablet.
	Tablet(id string) (Tablet, error)
	// Tablets returns all tablets, ordered by id.
	Tablets() ([]Tablet, error)
	// TabletsOfPerson returns a person's tablets, ordered by id.
	TabletsOfPerson(person string) ([]Tablet, error)
}

// TabletWriter writes the tablets.
type TabletWriter interface {
	// SetTablet adds or replaces a tablet.
	SetTablet(Tablet) error
}

// ResultReader reads what the engine said and the caseload's lines.
type ResultReader interface {
	// Result returns the last result of a visit, as a copy. With ErrDamaged comes
	// what could be made out of it, of which nothing holds but a body that has its
	// hash.
	Result(visit string) (Result, error)
	// ResultFormat is the format that SetResultFormat named last, empty when it
	// was never called.
	ResultFormat() (string, error)
	// Summary returns the caseload's line of a client.
	Summary(client string) (Summary, error)
	// Summaries runs over the lines of a team ordered by client id, or over
	// all teams when team is empty. A line that is damaged comes with no more
	// than its Client, and its Team where that was asked for, beside the error, and
	// the run goes on; an error without a Client ends it.
	Summaries(team string) iter.Seq2[Summary, error]
}

// ResultWriter writes results and the caseload's lines.
type ResultWriter interface {
	// SetResult replaces the result of a visit.
	SetResult(Result) error
	// SetResultFormat notes that no result is of an earlier format any more.
	SetResultFormat(format string) error
	// SetSummary replaces the line of a client.
	SetSummary(Summary) error
}

// QuarantineReader reads what was quarantined.
type QuarantineReader interface {
	// Quarantined returns one entry, as a copy.
	Quarantined(id int64) (Quarantined, error)
	// QuarantinedOf returns the entries that the filter lets through, as
	// copies, oldest first.
	QuarantinedOf(QuarantineFilter) ([]Quarantined, error)
	// QuarantinePage returns up to limit of them with an ID above after, and
	// whether there are more.
	QuarantinePage(f QuarantineFilter, after int64, limit int) (page []Quarantined, more bool, err error)
	// QuarantineOpen counts the open entries of one tablet, person, client or
	// team. It reads what is kept beside the entries, however many there are.
	QuarantineOpen(by QuarantineList, name string) (QuarantineCount, error)
	// QuarantinedAs returns the entry that these bytes became when they came
	// under a number of a tablet, as a copy.
	QuarantinedAs(tablet string, n int64, raw []byte) (Quarantined, error)
	// QuarantineTeam returns the team that a tablet's first quarantined entry
	// about a subject went to. An entry without a team, or whose subject is not
	// an id, counts for nothing.
	QuarantineTeam(tablet, subject string) (string, error)
	// JudgedBy is what SetJudgedBy noted last, empty when it was never called.
	JudgedBy() (known string, err error)
}

// QuarantineWriter quarantines entries, settles them and places them. Nothing
// is removed.
type QuarantineWriter interface {
	// Quarantine keeps an entry and returns its number, 1, 2, 3…; the ID
	// given is ignored. An entry whose Code is "forked" or "unsigned" does not
	// place its tablet's number, every other does and returns ErrOrder when the
	// number has been placed before.
	Quarantine(Quarantined) (id int64, err error)
	// Settle notes that somebody dealt with an entry. The last note counts.
	Settle(id int64, s Settlement) error
	// Judge replaces what an open entry says was wrong with it: Code, Field,
	// Want, Got and Hint. It returns ErrOrder when the entry is not open, or
	// when it is or would become "forked".
	Judge(id int64, q Quarantined) error
	// Place gives an open entry the next position. The batch holds that entry
	// alone, and its tablet's number leads to the log from then on. It returns
	// ErrOrder when the entry is not open, when its number leads elsewhere, as
	// that of a "forked" one does, or when the batch is another.
	Place(id int64, b Batch, at string) (pos int64, err error)
	// SetJudgedBy notes what was known when the open entries were judged last.
	SetJudgedBy(known string) error
}

// PeopleReader reads accounts, teams and sessions.
type PeopleReader interface {
	// Person returns one person.
	Person(id string) (Person, error)
	// PersonByLogin returns the person with that login, compared exactly.
	PersonByLogin(login string) (Person, error)
	// People returns everybody, ordered by id.
	People() ([]Person, error)
	// Team returns one team.
	Team(id string) (Team, error)
	// Teams returns all teams, ordered by id.
	Teams() ([]Team, error)
	// MembershipsOfPerson returns a person's teams, ordered by team id.
	MembershipsOfPerson(person string) ([]Membership, error)
	// MembershipsOfTeam returns a team's people, ordered by person id.
	MembershipsOfTeam(team string) ([]Membership, error)
	// Session returns one session by the hash of its secret.
	Session(hash string) (Session, error)
	// Sessions returns all sessions, ordered by hash.
	Sessions() ([]Session, error)
	// SessionsOfPerson returns a person's sessions, ordered by hash.
	SessionsOfPerson(person string) ([]Session, error)
}

// PeopleWriter writes accounts, teams and sessions.
type PeopleWriter interface {
	// SetPerson adds or replaces a person. It returns ErrTaken when the login
	// is another person's.
	SetPerson(Person) error
	// SetTeam adds or replaces a team.
	SetTeam(Team) error
	// SetMembership adds or replaces a person's role in a team.
	SetMembership(Membership) error
	// RemoveMembership takes a person out of a team; it is no error when the
	// person was not in it.
	RemoveMembership(person, team string) error
	// SetSession adds or replaces a session.
	SetSession(Session) error
	// RemoveSession ends a session; it is no error when there is none.
	RemoveSession(hash string) error
	// RemoveSessionsOfPerson ends all sessions of a person and returns how
	// many there were.
	RemoveSessionsOfPerson(person string) (int, error)
	// RemoveSessionsExpired ends the sessions whose Expires is before the
	// RFC 3339 time, and those that are damaged, and returns how many there were.
	RemoveSessionsExpired(before string) (int, error)
}

// AuditReader reads the audit trail.
type AuditReader interface {
	// LastAudit returns the last entry, ErrNotFound when there is none.
	LastAudit() (AuditEntry, error)
	// AuditEntries runs over the entries after a number, oldest first. It
	// stops after an error.
	AuditEntries(after int64) iter.Seq2[AuditEntry, error]
}

// AuditWriter adds to the audit trail.
type AuditWriter interface {
	// AppendAudit adds an entry. Its Seq must be the last one's plus 1, else
	// ErrOrder. The chain of hashes is the caller's business.
	AppendAudit(AuditEntry) error
}
