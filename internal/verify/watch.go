package verify

import (
	"context"
	"fmt"
	"sync"
	"time"

	"doorsill/internal/checklist"
	"doorsill/internal/model"
	"doorsill/internal/panics"
	"doorsill/internal/store"
)

// Watch verifies a store while it is in use. Each pass looks at one moment of it,
// so that what is written meanwhile is no difference. It is safe for use by
// several goroutines; they take turns.
type Watch struct {
	store      store.Store
	checklists []*checklist.Definition
	now        func() time.Time
	pause      func(context.Context) error
	turn       sync.Mutex

	mu   sync.Mutex
	last Outcome
}

// Outcome is how a pass ended.
type Outcome struct {
	// At is when it ended; zero when there was none yet.
	At     time.Time
	Took   time.Duration
	Report Report
	// Err says that the store could not be read.
	Err error
}

// Clean says whether everything could be read and fits.
func (o *Outcome) Clean() bool { return o.Err == nil && o.Report.Clean() }

// Faults counts what does not fit; what can not be read is one.
func (o *Outcome) Faults() int64 {
	n := int64(len(o.Report.Faults)) + o.Report.More
	if o.Err != nil {
		n++
	}
	return n
}

// NewWatch returns a watch that has not looked yet. pause is called between any two
// reads and waits as it likes, so that those who are served come first.
func NewWatch(s store.Store, checklists []*checklist.Definition, now func() time.Time, pause func(context.Context) error) *Watch {
	return &Watch{store: s, checklists: checklists, now: now, pause: pause}
}

// Run makes one pass. The error is the context's, and then there is no outcome.
func (w *Watch) Run(ctx context.Context) (Outcome, error) {
	w.turn.Lock()
	defer w.turn.Unlock()
	began := w.now()
	report, err := survived(func() (Report, error) { return Store(ctx, unhurried{w.store, w.pause}, w.checklists) })
	if ended := ctx.Err(); ended != nil {
		return Outcome{}, fmt.Errorf("verify: %w", ended)
	}
	at := w.now()
	out := Outcome{At: at, Took: at.Sub(began), Report: report, Err: err}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.last = out
	return out, nil
}

// survived makes a panic of a pass its error: whatever the records hold, those who
// are served beside it go on being served.
func survived(pass func() (Report, error)) (report Report, err error) {
	defer func() {
		if recovered := recover(); recovered != nil {
			err = fmt.Errorf("verify: %w", panics.Error(recovered))
		}
	}()
	return pass()
}

// Last is how the last pass ended; its At is zero when there was none.
func (w *Watch) Last() Outcome {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.last
}

// unhurried is a store whose readers pause.
type unhurried struct {
	store.Store
	pause func(context.Context) error
}

// View calls fn with a Reader of one moment that pauses between reads.
func (u unhurried) View(ctx context.Context, fn func(store.Reader) error) error {
	return u.Store.View(ctx, func(r store.Reader) error {
		return fn(unhurriedReader{r, func() error { return u.pause(ctx) }})
	})
}

// unhurriedReader pauses at the reads of which there are many.
type unhurriedReader struct {
	store.Reader
	pause func() error
}

// Entries pauses and reads.
func (r unhurriedReader) Entries(after int64, limit int) ([]model.Entry, error) {
	if err := r.pause(); err != nil {
		return nil, err
	}
	return r.Reader.Entries(after, limit)
}

// EntriesOfSubject pauses and reads.
func (r unhurriedReader) EntriesOfSubject(subject string) ([]model.Entry, error) {
	if err := r.pause(); err != nil {
		return nil, err
	}
	return r.Reader.EntriesOfSubject(subject)
}

// Placed pauses and reads.
func (r unhurriedReader) Placed(tablet string, n int64) (store.Placed, error) {
	if err := r.pause(); err != nil {
		return store.Placed{}, err
	}
	return r.Reader.Placed(tablet, n)
}

// Result pauses and reads.
func (r unhurriedReader) Result(visit string) (store.Result, error) {
	if err := r.pause(); err != nil {
		return store.Result{}, err
	}
	return r.Reader.Result(visit)
}

// Summary pauses and reads.
func (r unhurriedReader) Summary(client string) (store.Summary, error) {
	if err := r.pause(); err != nil {
		return store.Summary{}, err
	}
	return r.Reader.Summary(client)
}
