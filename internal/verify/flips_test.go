package verify_test

import (
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/verify"
)

// TestFlippedBitsAreFound flips one bit of a closed file at a time, anywhere.
// Either the file is refused, or something is found, or everything that can be
// read from it is as it was: the bit lay where nothing is kept. Nothing
// panics, and no flip ever changes quietly what somebody reads.
//
// FLIPS sets how many are tried.
func TestFlippedBitsAreFound(t *testing.T) {
	data := smallService(t)
	want, err := everything(t, write(t, data))
	if err != nil {
		t.Fatal(err)
	}
	tries := 100
	if n, err := strconv.Atoi(os.Getenv("FLIPS")); err == nil {
		tries = n
	}
	seed := rand.Uint64()
	random := rand.New(rand.NewPCG(seed, 1))
	path := write(t, data)
	var refused, found, harmless int
	for range tries {
		at, bit := random.IntN(len(data)), random.IntN(8)
		if err := flip(path, data, at, bit); err != nil {
			t.Fatal(err)
		}
		switch faults, err := look(t, path); {
		case err != nil:
			refused++
			if !errors.Is(err, store.ErrDamaged) && !errors.Is(err, store.ErrForeign) {
				t.Errorf("byte %d bit %d: refused with %v", at, bit, err)
			}
		case faults > 0:
			found++
		default:
			harmless++
			if got, err := everything(t, path); err != nil || got != want {
				t.Errorf("byte %d bit %d: nothing was found, and what is read is not what was written (%v)", at, bit, err)
			}
		}
		if err := flip(path, data, at, bit); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("seed %d, %d flips in %d bytes: %d refused, %d found, %d where nothing is kept", seed, tries, len(data), refused, found, harmless)
	if found == 0 || refused+found+harmless != tries {
		t.Errorf("nothing was found at all")
	}
}

// flip turns one bit of the file, and of data, over.
func flip(path string, data []byte, at, bit int) error {
	data[at] ^= 1 << bit
	file, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = file.WriteAt(data[at:at+1], int64(at))
	return errors.Join(err, file.Close())
}

// look does what the command does: the pages first, then what they hold.
func look(t *testing.T, path string) (faults int, err error) {
	db, err := bolt.Open(path, bolt.Options{ReadOnly: true})
	if err != nil {
		return 0, err
	}
	pages, err := bolt.Inspect(path)
	if err != nil || len(pages) > 0 {
		return len(pages), errors.Join(err, db.Close())
	}
	report, err := verify.Store(t.Context(), db, lists())
	return len(report.Faults), errors.Join(err, db.Close())
}

// everything is a hash over all that can be asked of a store.
func everything(t *testing.T, path string) (sum string, err error) {
	db, err := bolt.Open(path, bolt.Options{ReadOnly: true})
	if err != nil {
		return "", err
	}
	all := sha256.New()
	err = db.View(t.Context(), func(r store.Reader) error { return readAll(all, r) })
	return fmt.Sprintf("%x", all.Sum(nil)), errors.Join(err, db.Close())
}

func readAll(out hash.Hash, r store.Reader) error {
	list := json.NewEncoder(out)
	entries, err := r.Entries(0, 1000)
	log, lerr := r.LogID()
	head, herr := r.Head()
	err = errors.Join(err, lerr, herr, list.Encode([]any{log, head, entries}))
	for i := range entries {
		event, bad := record.Decode(entries[i].Raw)
		if bad != nil {
			return bad
		}
		placed, perr := r.Placed(event.Tablet, event.N)
		subject, serr := r.Subject(event.Subject)
		visits, verr := r.VisitsOfClient(subject.Client)
		result, _ := r.Result(event.Subject)   // clients have none
		summary, _ := r.Summary(event.Subject) // visits have none
		of, oerr := r.EntriesOfSubject(event.Subject)
		team, _, terr := r.EntriesOfTeam(subject.Team, 0, 1000)
		err = errors.Join(err, perr, serr, verr, oerr, terr, list.Encode([]any{placed, subject, visits, result, summary, of, team}))
	}
	return errors.Join(err, readRest(list, r))
}

func readRest(list *json.Encoder, r store.Reader) error {
	tablets, err := r.Tablets()
	quarantined, aerr := r.QuarantinedOf(store.QuarantineFilter{})
	people, perr := r.People()
	teams, terr := r.Teams()
	err = errors.Join(err, aerr, perr, terr, list.Encode([]any{tablets, quarantined, people, teams}))
	for _, p := range people {
		login, lerr := r.PersonByLogin(p.Login)
		roles, rerr := r.MembershipsOfPerson(p.ID)
		sessions, serr := r.SessionsOfPerson(p.ID)
		err = errors.Join(err, lerr, rerr, serr, list.Encode([]any{login, roles, sessions}))
	}
	for _, team := range teams {
		members, merr := r.MembershipsOfTeam(team.ID)
		asideOf, aerr := r.QuarantinedOf(store.QuarantineFilter{Team: team.ID})
		err = errors.Join(err, merr, aerr, list.Encode([]any{members, asideOf}))
		for s, serr := range r.Summaries(team.ID) {
			err = errors.Join(err, serr, list.Encode(s))
		}
	}
	for e, eerr := range r.AuditEntries(0) {
		err = errors.Join(err, eerr, list.Encode(e))
	}
	return err
}
