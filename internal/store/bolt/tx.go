package bolt

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"iter"

	"go.etcd.io/bbolt"

	"doorsill/internal/store"
)

// The file's buckets. A key of several parts has a zero byte after each text
// part; numbers are eight bytes, big end first, so that they sort.
var (
	bucketMeta         = []byte("meta")       // format, log id, earlier logs, format of results
	bucketLog          = []byte("log")        // position of the first -> batch
	bucketNumbers      = []byte("numbers")    // tablet, first n -> where a run of numbers went
	bucketByTeam       = []byte("by-team")    // team, position -> count
	bucketBySubject    = []byte("by-subject") // subject, position -> count
	bucketSubjects     = []byte("subjects")   // id -> Subject
	bucketVisits       = []byte("visits")     // client, order -> visit
	bucketTablets      = []byte("tablets")    // id -> Tablet
	bucketResults      = []byte("results")    // visit -> Result
	bucketSummaries    = []byte("summaries")  // client -> Summary
	bucketCaseload     = []byte("caseload")   // team, client -> nothing
	bucketQuarantine   = []byte("quarantine") // id -> Quarantined
	bucketQuarantineBy = []byte("aside-by")   // kind of list, name, id -> nothing
	bucketPeople       = []byte("people")     // id -> Person
	bucketLogins       = []byte("logins")     // login -> person
	bucketTeams        = []byte("teams")      // id -> Team
	bucketMembers      = []byte("members")    // person, team -> role
	bucketMembersOf    = []byte("members-of") // team, person -> role
	bucketSessions     = []byte("sessions")   // hash -> Session
	bucketSignedIn     = []byte("signed-in")  // person, hash -> nothing
	bucketAudit        = []byte("audit")      // seq -> AuditEntry

	// What follows from the quarantined entries.
	bucketQuarantineOpen  = []byte("aside-open")  // kind of list, name, id -> nothing
	bucketQuarantineCount = []byte("aside-count") // kind of list, name -> open entries, bytes
	bucketQuarantineAs    = []byte("aside-as")    // tablet, n, SHA-256 -> id
	bucketQuarantineTeam  = []byte("aside-team")  // tablet, subject -> team of the first

	keyFormat       = []byte("format")
	keyLogID        = []byte("log-id")
	keyEarlierLogs  = []byte("earlier-logs")
	keyResultFormat = []byte("result-format")
	keyJudgedBy     = []byte("judged-by")
)

func buckets() [][]byte {
	return [][]byte{
		bucketMeta, bucketLog, bucketNumbers, bucketByTeam, bucketBySubject, bucketSubjects, bucketVisits,
		bucketTablets, bucketResults, bucketSummaries, bucketCaseload, bucketQuarantine, bucketQuarantineBy,
		bucketPeople, bucketLogins, bucketTeams, bucketMembers, bucketMembersOf, bucketSessions,
		bucketSignedIn, bucketAudit,
	}
}

// tx is one moment, for reading or writing.
type tx struct {
	tx *bbolt.Tx
	// made is kept once it was made up; see makeUp.
	made *madeUp
}

var _ store.Writer = (*tx)(nil)

func open(t *bbolt.Tx) *tx { return &tx{tx: t} }

func (t *tx) bucket(name []byte) *bbolt.Bucket { return t.tx.Bucket(name) }

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
func get[T any](t *tx, bucket, key []byte) (T, error) {
	var record T
	data := t.bucket(bucket).Get(key)
	if data == nil {
		return record, store.ErrNotFound
	}
	return decode[T](bucket, key, data)
}

func decode[T any](bucket, key, stored []byte) (record T, err error) {
	data, err := unseal(bucket, key, stored)
	if err != nil {
		return record, err
	}
	if err := json.Unmarshal(data, &record); err != nil {
		return record, fmt.Errorf("read %s: %w", bucket, errors.Join(store.ErrDamaged, err))
	}
	return record, nil
}

func put(t *tx, bucket, key []byte, record any) error {
	data, err := json.Marshal(record)
	if err != nil {
		return fmt.Errorf("write %s: %w", bucket, err)
	}
	if err := t.bucket(bucket).Put(key, seal(bucket, key, data)); err != nil {
		return fmt.Errorf("write %s: %w", bucket, err)
	}
	return nil
}

// all reads every record of a bucket in key order.
func all[T any](t *tx, bucket []byte) ([]T, error) {
	var list []T
	for key, data := range t.each(bucket, nil) {
		record, err := decode[T](bucket, key, data)
		if err != nil {
			return list, err
		}
		list = append(list, record)
	}
	return list, nil
}

// each runs over the keys with a prefix, without the prefix, and their values.
func (t *tx) each(bucket, prefix []byte) iter.Seq2[[]byte, []byte] {
	return func(yield func(rest, value []byte) bool) {
		c := t.bucket(bucket).Cursor()
		for key, value := c.Seek(prefix); key != nil && bytes.HasPrefix(key, prefix); key, value = c.Next() {
			if !yield(key[len(prefix):], value) {
				return
			}
		}
	}
}
