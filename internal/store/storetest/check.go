// Package storetest says what every store.Store must do: Run is the
// conformance suite, Watch checks the invariants of a store after a test, and
// Check does so at any moment.
package storetest

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// Watch checks the store's invariants and closes it when the test ends.
func Watch(t testing.TB, s store.Store) store.Store {
	t.Helper()
	t.Cleanup(func() {
		if err := Check(s); err != nil && !errors.Is(err, store.ErrClosed) {
			t.Errorf("store: %v", err)
		}
		if err := s.Close(); err != nil {
			t.Errorf("close store: %v", err)
		}
	})
	return s
}

// Check returns what is wrong with a store: positions with gaps, an entry that
// a list lacks or has twice, an Ack that is not the highest number without a
// gap, a broken audit count.
func Check(s store.Store) error {
	return s.View(context.Background(), func(r store.Reader) error {
		c := &checker{r: r, teams: map[string][]int64{}, subjects: map[string][]int64{}, placed: map[string]int64{}}
		return errors.Join(c.log(), c.lists(), c.tablets(), c.quarantine(), c.summaries(), c.audit())
	})
}

type checker struct {
	r store.Reader
	// teams and subjects are the positions that their lists must hold.
	teams, subjects map[string][]int64
	// placed counts a tablet's numbers in the log and in quarantine.
	placed map[string]int64
}

// log walks the whole log.
func (c *checker) log() error {
	const page = 500
	after := int64(0)
	for {
		entries, err := c.r.Entries(after, page)
		if err != nil {
			return fmt.Errorf("entries after %d: %w", after, err)
		}
		for _, entry := range entries {
			if entry.Pos != after+1 {
				return fmt.Errorf("position %d follows %d", entry.Pos, after)
			}
			after = entry.Pos
			if err := c.entry(entry); err != nil {
				return fmt.Errorf("entry at position %d: %w", entry.Pos, err)
			}
		}
		if len(entries) < page {
			break
		}
	}
	if head, err := c.r.Head(); err != nil || head != after {
		return fmt.Errorf("head is %d, the last entry is at %d: %w", head, after, err)
	}
	return nil
}

func (c *checker) entry(entry model.Entry) error {
	event, err := record.Decode(entry.Raw)
	if err != nil {
		return err
	}
	if entry.Received == "" {
		return errors.New("no time of arrival")
	}
	placed, err := c.r.Placed(event.Tablet, event.N)
	if err != nil {
		return fmt.Errorf("placed %s: %w", event.Ref(), err)
	}
	if placed.Pos != entry.Pos || !bytes.Equal(placed.Raw, entry.Raw) {
		return fmt.Errorf("number %s is said to be at %d", event.Ref(), placed.Pos)
	}
	subject, err := c.r.Subject(event.Subject)
	if err != nil {
		return fmt.Errorf("subject %s: %w", event.Subject, err)
	}
	c.placed[event.Tablet]++
	c.teams[subject.Team] = append(c.teams[subject.Team], entry.Pos)
	c.subjects[subject.ID] = append(c.subjects[subject.ID], entry.Pos)
	return nil
}

// lists compares the lists by team and subject with the log.
func (c *checker) lists() error {
	for team, want := range c.teams {
		entries, more, err := c.r.EntriesOfTeam(team, 0, len(want)+1)
		if err != nil || more {
			return fmt.Errorf("entries of team %s: more %v, %w", team, more, err)
		}
		if err := samePositions(entries, want); err != nil {
			return fmt.Errorf("entries of team %s: %w", team, err)
		}
	}
	for subject, want := range c.subjects {
		entries, err := c.r.EntriesOfSubject(subject)
		if err != nil {
			return fmt.Errorf("entries of %s: %w", subject, err)
		}
		if err := samePositions(entries, want); err != nil {
			return fmt.Errorf("entries of %s: %w", subject, err)
		}
	}
	return nil
}

func samePositions(entries []model.Entry, want []int64) error {
	if len(entries) != len(want) {
		return fmt.Errorf("%d entries, the log has %d", len(entries), len(want))
	}
	for i, entry := range entries {
		if entry.Pos != want[i] {
			return fmt.Errorf("position %d where the log has %d", entry.Pos, want[i])
		}
	}
	return nil
}

// tablets checks that Ack is the highest number up to which all are placed.
func (c *checker) tablets() error {
	tablets, err := c.r.Tablets()
	if err != nil {
		return err
	}
	for _, tablet := range tablets {
		if _, err := c.r.Placed(tablet.ID, tablet.Ack+1); !errors.Is(err, store.ErrNotFound) {
			return fmt.Errorf("tablet %s: number %d is placed beyond the receipt %d: %w", tablet.ID, tablet.Ack+1, tablet.Ack, err)
		}
		for n := int64(1); n <= tablet.Ack; n++ {
			placed, err := c.r.Placed(tablet.ID, n)
			if err != nil {
				return fmt.Errorf("tablet %s: number %d is acknowledged: %w", tablet.ID, n, err)
			}
			if placed.Quarantine != 0 {
				c.placed[tablet.ID]++
			}
		}
		if c.placed[tablet.ID] != tablet.Ack {
			return fmt.Errorf("tablet %s: %d numbers are placed, %d acknowledged", tablet.ID, c.placed[tablet.ID], tablet.Ack)
		}
	}
	return nil
}

func (c *checker) quarantine() error {
	list, err := c.r.QuarantinedOf(store.QuarantineFilter{})
	if err != nil {
		return err
	}
	counts := map[[2]string]store.QuarantineCount{}
	for i, q := range list {
		countOpen(counts, &q)
		if q.ID != int64(i)+1 {
			return fmt.Errorf("quarantined entry %d follows %d", q.ID, i)
		}
		if q.Code == "" || q.Hint == "" || q.Received == "" {
			return fmt.Errorf("quarantined entry %d does not say why and when", q.ID)
		}
		if q.Code == validation.CodeForked || q.Code == validation.CodeUnsigned {
			continue
		}
		placed, err := c.r.Placed(q.Tablet, q.N)
		here := placed.Quarantine == q.ID || q.Pos != 0 && placed.Pos == q.Pos
		if err != nil || !here || !bytes.Equal(placed.Raw, q.Raw) {
			return fmt.Errorf("quarantined entry %d is not where its number is: %w", q.ID, err)
		}
	}
	return c.counts(counts)
}

// countOpen counts an entry in each list.
func countOpen(counts map[[2]string]store.QuarantineCount, q *store.Quarantined) {
	for by, name := range map[store.QuarantineList]string{
		store.QuarantineByTeam: q.Team, store.QuarantineByTablet: q.Tablet, store.QuarantineByClient: q.Client, store.QuarantineByPerson: q.Person,
	} {
		n := counts[[2]string{string(by), name}]
		if q.Open() {
			n.Entries++
			n.Bytes += int64(len(q.Raw))
		}
		if name != "" {
			counts[[2]string{string(by), name}] = n
		}
	}
}

// counts compares the counts that are kept with the entries.
func (c *checker) counts(want map[[2]string]store.QuarantineCount) error {
	for of, n := range want {
		if kept, err := c.r.QuarantineOpen(store.QuarantineList(of[0]), of[1]); err != nil || kept != n {
			return fmt.Errorf("open entries of %s %s: counted %+v, there are %+v: %w", of[0], of[1], kept, n, err)
		}
	}
	return nil
}

// summaries checks that the lists by team hold every line once.
func (c *checker) summaries() error {
	teams := map[string]int{}
	for s, err := range c.r.Summaries("") {
		if err != nil {
			return err
		}
		teams[s.Team]++
	}
	for team, want := range teams {
		got := 0
		for s, err := range c.r.Summaries(team) {
			if err != nil {
				return err
			}
			if s.Team != team {
				return fmt.Errorf("the list of team %s has client %s of team %s", team, s.Client, s.Team)
			}
			got++
		}
		if got != want {
			return fmt.Errorf("the list of team %s has %d clients of %d", team, got, want)
		}
	}
	return nil
}

func (c *checker) audit() error {
	last := int64(0)
	for entry, err := range c.r.AuditEntries(0) {
		if err != nil {
			return err
		}
		if entry.Seq != last+1 {
			return fmt.Errorf("audit entry %d follows %d", entry.Seq, last)
		}
		last = entry.Seq
	}
	return nil
}
