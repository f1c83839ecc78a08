package audit

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strconv"

	"doorsill/internal/store"
)

// next makes the line that follows last.
func next(last store.AuditEntry, n Note, at string) store.AuditEntry {
	if n.Result == "" {
		n.Result = OK
	}
	e := store.AuditEntry{
		Seq: last.Seq + 1, At: at, Person: n.Person, Action: n.Action,
		Subject: n.Subject, Team: n.Team, Detail: detail(n), Prev: last.Hash,
	}
	e.Hash = Hash(e)
	return e
}

// detail quotes the parts, so that nothing a client sends can look like
// another part or another line.
func detail(n Note) string {
	times := ""
	if n.Times > 1 {
		times = " times=" + strconv.Itoa(n.Times)
	}
	return "from=" + strconv.QuoteToASCII(n.From) + times + " result=" + n.Result
}

// Hash is the SHA-256 in hex of a line's fields but Hash itself, each written
// as its length in bytes, a colon and the bytes, in the order seq, at, person,
// action, subject, team, detail, prev.
func Hash(e store.AuditEntry) string {
	h := sha256.New()
	for _, field := range []string{
		strconv.FormatInt(e.Seq, 10), e.At, e.Person, e.Action, e.Subject, e.Team, e.Detail, e.Prev,
	} {
		fmt.Fprintf(h, "%d:%s", len(field), field)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// Verify reads the whole trail and returns its last line (a zero entry when it
// is empty). The error wraps ErrBroken and names the first line that does not
// follow from the one before.
func Verify(ctx context.Context, s store.Store) (last store.AuditEntry, err error) {
	err = s.View(ctx, func(r store.Reader) error {
		last, err = Follow(r)
		return err
	})
	return last, err
}

// Follow is Verify within one moment of a store.
func Follow(r store.Reader) (last store.AuditEntry, err error) { return follow(r, 0) }

// FollowEnd checks no more than the last lines of the trail. The error is as that
// of Verify.
func FollowEnd(r store.Reader, lines int64) error {
	end, err := r.LastAudit()
	if errors.Is(err, store.ErrNotFound) {
		return nil
	}
	if err != nil {
		return err
	}
	last, err := follow(r, max(0, end.Seq-lines))
	if err == nil && last != end {
		err = fmt.Errorf("%w: line %d is not the last", ErrBroken, end.Seq)
	}
	return err
}

// follow follows the chain from a line on, whose own hash is believed.
func follow(r store.Reader, after int64) (last store.AuditEntry, err error) {
	last.Seq = after
	for e, err := range r.AuditEntries(after) {
		if err != nil {
			return last, err
		}
		if last.Seq == after && after > 0 {
			last.Hash = e.Prev
		}
		if err := follows(last, e); err != nil {
			return last, err
		}
		last = e
	}
	return last, nil
}

func follows(last, e store.AuditEntry) error {
	switch {
	case e.Seq != last.Seq+1:
		return fmt.Errorf("%w: line %d follows line %d", ErrBroken, e.Seq, last.Seq)
	case e.Prev != last.Hash:
		return fmt.Errorf("%w: line %d does not follow from the one before", ErrBroken, e.Seq)
	case e.Hash != Hash(e):
		return fmt.Errorf("%w: line %d was changed", ErrBroken, e.Seq)
	}
	return nil
}
