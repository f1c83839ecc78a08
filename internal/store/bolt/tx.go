package bolt

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
)

// The file's buckets. A key of several parts has a zero byte after each text
// part; numbers are eight bytes, big end first, so that they sort.
var (
	bucketMeta         = bucketNamed("meta")       // format, log id, earlier logs, format of results
	bucketLog          = bucketNamed("log")        // position of the first -> batch
	bucketNumbers      = bucketNamed("numbers")    // tablet, first n -> where a run of numbers went
	bucketByTeam       = bucketNamed("by-team")    // team, position -> count
	bucketBySubject    = bucketNamed("by-subject") // subject, position -> count
	bucketSubjects     = bucketNamed("subjects")   // id -> Subject
	bucketVisits       = bucketNamed("visits")     // client, order -> visit
	bucketTablets      = bucketNamed("tablets")    // id -> Tablet
	bucketResults      = bucketNamed("results")    // visit -> Result
	bucketSummaries    = bucketNamed("summaries")  // client -> Summary
	bucketCaseload     = bucketNamed("caseload")   // team, client -> nothing
	bucketQuarantine   = bucketNamed("quarantine") // id -> Quarantined
	bucketQuarantineBy = bucketNamed("aside-by")   // kind of list, name, id -> nothing
	bucketPeople       = bucketNamed("people")     // id -> Person
	bucketLogins       = bucketNamed("logins")     // login -> person
	bucketTeams        = bucketNamed("teams")      // id -> Team
	bucketMembers      = bucketNamed("members")    // person, team -> role
	bucketMembersOf    = bucketNamed("members-of") // team, person -> role
	bucketSessions     = bucketNamed("sessions")   // hash -> Session
	bucketSignedIn     = bucketNamed("signed-in")  // person, hash -> nothing
	bucketAudit        = bucketNamed("audit")      // seq -> AuditEntry
	bucketTabletsOf    = bucketNamed("tablets-of") // person, tablet -> nothing

	// What follows from the quarantined entries.
	bucketQuarantineOpen  = bucketNamed("aside-open")  // kind of list, name, id -> nothing
	bucketQuarantineCount = bucketNamed("aside-count") // kind of list, name -> open entries, bytes
	bucketQuarantineAs    = bucketNamed("aside-as")    // tablet, n, SHA-256 -> id
	bucketQuarantineTeam  = bucketNamed("aside-team")  // tablet, subject -> team of the first

	keyFormat       = []byte("format")
	keyLogID        = []byte("log-id")
	keyEarlierLogs  = []byte("earlier-logs")
	keyResultFormat = []byte("result-format")
)

func buckets() []bucketName {
	return []bucketName{
		bucketMeta, bucketLog, bucketNumbers, bucketByTeam, bucketBySubject, bucketSubjects, bucketVisits,
		bucketTablets, bucketResults, bucketSummaries, bucketCaseload, bucketQuarantine, bucketQuarantineBy,
		bucketPeople, bucketLogins, bucketTeams, bucketMembers, bucketMembersOf, bucketSessions,
		bucketSignedIn, bucketAudit, bucketTabletsOf, bucketQuarantineOpen, bucketQuarantineCount, bucketQuarantineAs,
		bucketQuarantineTeam,
	}
}

// tx is one moment, for reading or writing.
type tx struct {
	tx *bbolt.Tx
	// unchecked marks a file of an earlier format, which has no sums.
	unchecked bool
	// tail is what is wrong with the log's end since the file was opened, or nil.
	tail error
	// made is kept once it was made up; see makeUp.
	made *madeUp
}

var _ store.Writer = (*tx)(nil)

func open(t *bbolt.Tx) *tx { return &tx{tx: t} }

// under makes the beginning of the keys that belong to texts.
func under(texts ...string) []byte {
	var key []byte
	for _, text := range texts {
		key = append(key, text...)
		key = append(key, 0)
	}
	return key
}

// numbered makes a key from the beginning and a number.
func numbered(prefix []byte, n int64) []byte {
	return binary.BigEndian.AppendUint64(bytes.Clone(prefix), uint64(n))
}

func numberKey(n int64) []byte { return numbered(nil, n) }

// numberOf reads the number at the end of a key.
func numberOf(key []byte) int64 {
	if len(key) < 8 {
		return 0
	}
	return int64(binary.BigEndian.Uint64(key[len(key)-8:]))
}

// get reads a JSON record, ErrNotFound when there is none.
func get[T any](t *tx, bucket bucketName, key []byte) (record T, err error) {
	data, found, err := t.table(bucket).get(key)
	if err != nil {
		return record, err
	}
	if !found {
		return record, store.ErrNotFound
	}
	return decode[T](bucket, key, data)
}

func decode[T any](bucket bucketName, key, stored []byte) (record T, err error) {
	data, err := unseal(bucket, key, stored)
	if err != nil {
		return record, err
	}
	if err := json.Unmarshal(data, &record); err != nil {
		return record, fmt.Errorf("read %s: %w", bucket, errors.Join(store.ErrDamaged, err))
	}
	return record, nil
}

func put(t *tx, bucket bucketName, key []byte, record any) error {
	return putIn(t.table(bucket), key, record)
}

func putIn(b table, key []byte, record any) error {
	data, err := json.Marshal(record)
	if err != nil {
		return fmt.Errorf("write %s: %w", b.name, err)
	}
	return b.put(key, seal(b.name, key, data))
}

// all reads every record of a bucket in key order.
func all[T any](t *tx, bucket bucketName) ([]T, error) {
	var list []T
	for e, err := range t.table(bucket).under(nil) {
		if err != nil {
			return list, err
		}
		record, err := decode[T](bucket, e.key, e.value)
		if err != nil {
			return list, err
		}
		list = append(list, record)
	}
	return list, nil
}

// names are what follows a prefix in the keys of a list.
func (t *tx) names(bucket bucketName, prefix []byte) ([]string, error) {
	var list []string
	for e, err := range t.table(bucket).under(prefix) {
		if err != nil {
			return list, err
		}
		list = append(list, string(e.key[len(prefix):]))
	}
	return list, nil
}
