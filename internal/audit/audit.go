// Package audit keeps the trail of who saw or changed what. Every line names a
// person, an action, a record, a time, where the request came from and how it
// ended, and never says what the record holds. Each line carries the hash of
// the line before, so that a line can not be changed or taken out unnoticed as
// long as somebody knows a later hash.
package audit

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"doorsill/internal/store"
)

// ErrClosed is returned by Note after Close.
var ErrClosed = errors.New("audit trail is closed")

// ErrBroken is wrapped by the error of Verify when the chain does not hold.
var ErrBroken = errors.New("audit trail is broken")

// How an action ended.
const (
	OK     = "ok"
	Denied = "denied"
	Failed = "failed"
)

// Note is one line to be written.
type Note struct {
	// Person is who did it; empty for nobody signed in.
	Person string
	// Action is a verb and a noun, such as "read client".
	Action string
	// Subject is the id of the record, Team the team that it belongs to.
	Subject string
	Team    string
	// From is where the request came from.
	From string
	// Result is OK, Denied or Failed; empty counts as OK.
	Result string
	// Times is how often it happened, where one line stands for several; 0
	// counts as once.
	Times int
}

// Trail writes notes. It is safe for use by several goroutines; notes that
// wait at the same time share one commit.
type Trail struct {
	store store.Store
	now   func() time.Time
	in    chan job
	done  chan struct{}

	closing sync.RWMutex
	closed  bool
}

type job struct {
	note  Note
	reply chan error
}

// most bounds how many notes share a commit.
const most = 500

// New starts a trail on a store. Close ends it.
func New(s store.Store, now func() time.Time) *Trail {
	t := &Trail{store: s, now: now, in: make(chan job, most), done: make(chan struct{})}
	go t.run()
	return t
}

// Note writes one line and returns once it is durable. What must not happen
// without a trace must not go on when Note fails. It takes no context: a
// caller who went away has looked all the same.
func (t *Trail) Note(n Note) error {
	reply := make(chan error, 1)
	if !t.send(job{note: n, reply: reply}) {
		return ErrClosed
	}
	if err := <-reply; err != nil {
		return fmt.Errorf("write audit trail: %w", err)
	}
	return nil
}

func (t *Trail) send(j job) bool {
	t.closing.RLock()
	defer t.closing.RUnlock()
	if t.closed {
		return false
	}
	t.in <- j
	return true
}

// Close writes what waits and ends the trail. The store stays open.
func (t *Trail) Close() {
	t.closing.Lock()
	if !t.closed {
		t.closed = true
		close(t.in)
	}
	t.closing.Unlock()
	<-t.done
}

func (t *Trail) run() {
	defer close(t.done)
	for first := range t.in {
		batch := t.gather(first)
		err := t.write(batch)
		for _, j := range batch {
			j.reply <- err
		}
	}
}

func (t *Trail) gather(first job) []job {
	batch := []job{first}
	for len(batch) < most {
		select {
		case j, ok := <-t.in:
			if !ok {
				return batch
			}
			batch = append(batch, j)
		default:
			return batch
		}
	}
	return batch
}

// write appends the batch after the last line that the store has; it asks
// every time, since another process may have written in between.
func (t *Trail) write(batch []job) error {
	return t.store.Update(context.Background(), func(w store.Writer) error {
		last, err := w.LastAudit()
		if err != nil && !errors.Is(err, store.ErrNotFound) {
			return err
		}
		at := t.now().UTC().Format(store.TimeLayout)
		for _, j := range batch {
			last = next(last, j.note, at)
			if err := w.AppendAudit(last); err != nil {
				return err
			}
		}
		return nil
	})
}
