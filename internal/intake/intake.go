// Package intake is the only way in. It reads a push, says of each event
// whether it can stand where it wants to stand, keeps what can not in
// quarantine, and commits events, receipts, results and the caseload's lines
// together, so that none can be ahead of another.
package intake

import (
	"fmt"
	"sync"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/checklist"
	"doorsill/internal/panics"
	"doorsill/internal/store"
)

// Limits of a push.
const (
	MaxHeader = 4 << 10 // bytes of the first line
	MaxEvents = 1_000   // events
	MaxBody   = 4 << 20 // bytes of the events
	// MaxPush is the bytes of a whole push: the first line has an end.
	MaxPush = MaxHeader + 1 + MaxBody
)

// MostSkew is how far a tablet's clock may be off before its events are marked.
const MostSkew = 5 * time.Minute

// Intake takes events in. It is safe for use by several goroutines.
type Intake struct {
	store      store.Store
	checklists checklists
	now        func() time.Time
	// unsignedUntil is when pushes of tablets without a key end; zero is never.
	unsignedUntil time.Time
	names         account.TabletNames

	jobs   chan *job
	recent recent
	// ended is closed by Close, done once the writer has stopped.
	ended, done chan struct{}
	end         sync.Once

	hooks sync.Mutex
	hook  []func([]store.Summary)
	// onUnscored is told of visits that could not be scored.
	onUnscored []func(visit, why string)
}

// New starts an intake on a store. Visits can be pinned to the checklists
// given. Close must be called before the store is closed.
func New(s store.Store, checklists []*checklist.Definition, now func() time.Time) *Intake {
	in := &Intake{
		store: s, checklists: newChecklists(checklists), now: now,
		jobs: make(chan *job), ended: make(chan struct{}), done: make(chan struct{}),
	}
	go in.write()
	return in
}

// OnCommit has fn called with the lines that changed, after each commit, one
// call at a time and in the order of commits. It must return soon and must not
// push.
func (in *Intake) OnCommit(fn func(changed []store.Summary)) {
	in.hooks.Lock()
	defer in.hooks.Unlock()
	in.hook = append(in.hook, fn)
}

// OnUnscored has fn called with each visit that the engine could not score when
// it was taken in, and with why, in words without clinical content. It may be
// called from several commits' scoring at a time, one call after another, and
// must return soon and must not push.
func (in *Intake) OnUnscored(fn func(visit, why string)) {
	in.hooks.Lock()
	defer in.hooks.Unlock()
	in.onUnscored = append(in.onUnscored, fn)
}

func (in *Intake) tell(changed []store.Summary) {
	if len(changed) == 0 {
		return
	}
	in.hooks.Lock()
	defer in.hooks.Unlock()
	for _, fn := range in.hook {
		fn(changed)
	}
}

// Close takes nothing more in and waits for what is under way.
func (in *Intake) Close() {
	in.end.Do(func() { close(in.ended) })
	<-in.done
}

func stampOf(at time.Time) string { return at.UTC().Format(store.TimeLayout) }

// fatal is what a panic while computing becomes: the push fails, the server
// goes on.
func fatal(recovered any) error { return fmt.Errorf("take in: %w", panics.Error(recovered)) }
