package intake_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/synctest"

	"doorsill/internal/account"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// gated is a store of which the next update waits until it is let through, so
// that what is pushed meanwhile comes together.
type gated struct {
	store.Store
	gate    chan struct{}
	updates int
	// append stands in for the writing of a batch.
	append func(store.Batch) error
	// again has the store call an update twice, as one does that found space.
	again bool
	room  error
}

func (g *gated) Update(ctx context.Context, fn func(store.Writer) error) error {
	g.updates++
	if gate := g.gate; gate != nil {
		g.gate = nil
		<-gate
	}
	if g.again {
		if err := g.Store.Update(ctx, func(w store.Writer) error { return errors.Join(fn(gatedWriter{w, g}), errDisk) }); !errors.Is(err, errDisk) {
			return err
		}
	}
	return g.Store.Update(ctx, func(w store.Writer) error { return fn(gatedWriter{w, g}) })
}

// Room makes it a store that knows when it is full.
func (g *gated) Room() error { return g.room }

type gatedWriter struct {
	store.Writer
	*gated
}

func (w gatedWriter) Append(b store.Batch) (int64, error) {
	if w.append != nil {
		if err := w.append(b); err != nil {
			return 0, err
		}
	}
	return w.Writer.Append(b)
}

// newGated is a service with a client and a visit of Marit's.
func newGated(t *testing.T) (*service, *gated, *tablet) {
	t.Helper()
	h := newService(t)
	g := &gated{Store: h.store}
	h.intake.Close()
	h.intake = intake.New(g, append(authoring.StandardVersions(), h.older), h.now)
	t.Cleanup(h.intake.Close)
	return h, g, h.visited()
}

// together has all that is done wait for one another, and returns their errors.
func (g *gated) together(first func(), do ...func() error) []error {
	gate := make(chan struct{})
	g.gate = gate
	go first()
	synctest.Wait() // the writer is held
	errs := make([]error, len(do))
	done := make(chan struct{})
	for i := range do {
		go func() {
			errs[i] = do[i]()
			done <- struct{}{}
		}()
		synctest.Wait() // it waits to be taken
	}
	close(gate)
	for range do {
		<-done
	}
	return errs
}

// pushOne is one answer from a tablet of its own.
func (h *service) pushOne(log, name, item string) func() error {
	on := h.tablet(name, "davit")
	on.write(model.KindAnswerGiven, "v1", level(item, "2"))
	return func() error {
		_, err := h.intake.Push(context.Background(), caller("davit"), pushOf(log, name, 1, on.lines))
		return err
	}
}

// TestWhatWaitsIsCommittedTogether: up to 64 in one commit, and one that is
// refused does not have the others done again.
func TestWhatWaitsIsCommittedTogether(t *testing.T) {
	for waiting, commits := range map[int]int{1: 1, 63: 1, 64: 1, 65: 2} {
		synctest.Test(t, func(t *testing.T) {
			h, g, marit := newGated(t)
			var do []func() error
			for i := range waiting {
				do = append(do, h.pushOne(marit.log, fmt.Sprintf("tab-%d", i), "pos-trunk"))
			}
			first := h.pushOne(marit.log, "tab-first", "pos-head")
			before := g.updates
			for i, err := range g.together(func() { _ = first() }, do...) {
				if err != nil {
					t.Errorf("%d of %d: %v", i, waiting, err)
				}
			}
			if got := g.updates - before - 1; got != commits {
				t.Errorf("%d pushes took %d commits, want %d", waiting, got, commits)
			}
		})
	}
}

// TestTheServersOwnEventsShareACommit with pushes, each at its own position.
func TestTheServersOwnEventsShareACommit(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h, g, marit := newGated(t)
		assign := func(version int64, status string) func() error {
			return func() error {
				_, err := h.intake.Assign(context.Background(), caller("lena"), "c1", version, "", status)
				return err
			}
		}
		first, last := h.pushOne(marit.log, "tab-first", "pos-head"), h.pushOne(marit.log, "tab-last", "pos-trunk")
		before := g.updates
		errs := g.together(func() { _ = first() }, assign(0, "active"), assign(1, "hold"), last)
		if err := errors.Join(errs...); err != nil || g.updates-before != 2 {
			t.Errorf("%v, %d commits, want 2", err, g.updates-before)
		}
		h.view(func(r store.Reader) error {
			entries, err := r.Entries(3, 10)
			if err != nil || len(entries) != 3 {
				t.Fatalf("%d entries, %v", len(entries), err)
			}
			for i := range 2 { // each has seen what stands before it
				if event, err := record.Decode(entries[i].Raw); err != nil || event.Seen != entries[i].Pos-1 {
					t.Errorf("at %d: seen %d, %v", entries[i].Pos, event.Seen, err)
				}
			}
			return nil
		})
	})
}

// TestRefusalsCostTheOthersNothing: each kind of refusal stands beside a push
// that is taken in by the same commit.
func TestRefusalsCostTheOthersNothing(t *testing.T) {
	ctx := context.Background()
	for name, refused := range map[string]func(*service) error{
		"a header that was changed on its way": func(h *service) error {
			second := &tablet{service: h, id: "tab-m", person: "marit", lines: make([][]byte, 1)}
			second.startVisit("v1", "c1", "north")
			_, err := h.intake.Push(ctx, caller("marit"), pushOf("", "tab-m", 1, second.lines[1:]))
			var no *intake.PushError
			if errors.As(err, &no) {
				return nil
			}
			return fmt.Errorf("got %v", err)
		},
		"somebody was quicker": func(h *service) error {
			_, err := h.intake.Assign(ctx, caller("lena"), "c1", 7, "", "hold")
			var no *intake.Changed
			if errors.As(err, &no) {
				return nil
			}
			return fmt.Errorf("got %v", err)
		},
		"a word that is none": func(h *service) error {
			_, err := h.intake.Assign(ctx, caller("lena"), "c1", 0, "", "asleep")
			var no *validation.Error
			if errors.As(err, &no) {
				return nil
			}
			return fmt.Errorf("got %v", err)
		},
		"not allowed": func(h *service) error {
			_, err := h.intake.Assign(ctx, caller("ansel"), "c1", 0, "", "hold")
			if errors.Is(err, account.ErrNotAllowed) {
				return nil
			}
			return fmt.Errorf("got %v", err)
		},
	} {
		synctest.Test(t, func(t *testing.T) {
			h, g, marit := newGated(t)
			first, good := h.pushOne(marit.log, "tab-first", "pos-head"), h.pushOne(marit.log, "tab-good", "pos-trunk")
			before := g.updates
			errs := g.together(func() { _ = first() }, good, func() error { return refused(h) })
			if err := errors.Join(errs...); err != nil || g.updates-before != 2 {
				t.Errorf("%s: %v, %d commits, want 2", name, err, g.updates-before)
			}
		})
	}
}

// answers is how many answers to an item stand in visit v1.
func (h *service) answers(item string) int {
	h.Helper()
	for _, answer := range h.visit("v1").Answers {
		if answer.Item == item {
			return len(answer.Heads)
		}
	}
	return 0
}

// TestOneFaultDoesNotFailTheOthers: what waits with it is tried by itself, and so
// is it: the fault may have passed.
func TestOneFaultDoesNotFailTheOthers(t *testing.T) {
	for _, c := range []struct {
		waiting, faults, stand int
	}{{2, 2, 1}, {3, 2, 2}, {2, 1, 2}, {3, 1, 3}} {
		synctest.Test(t, func(t *testing.T) {
			h, g, marit := newGated(t)
			faults := 0
			g.append = func(b store.Batch) error {
				if b.Tablet == "tab-0" && faults < c.faults {
					faults++
					return errDisk
				}
				return nil
			}
			var do []func() error
			for i := range c.waiting {
				do = append(do, h.pushOne(marit.log, fmt.Sprintf("tab-%d", i), "pos-trunk"))
			}
			first := h.pushOne(marit.log, "tab-first", "pos-head")
			for i, err := range g.together(func() { _ = first() }, do...) {
				if fails := i == 0 && c.faults > 1; fails != errors.Is(err, errDisk) || !fails && err != nil {
					t.Errorf("%+v: push %d: %v", c, i, err)
				}
			}
			if got := h.answers("pos-trunk"); got != c.stand {
				t.Errorf("%+v: %d answers stand", c, got)
			}
		})
	}
}

// TestWhoStopsWaiting is told so, and what was not begun is not taken in; what
// waits with it is.
func TestWhoStopsWaiting(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h, g, marit := newGated(t)
		ctx, stop := context.WithCancel(context.Background())
		push := func(ctx context.Context, name, item string) func() error {
			on := h.tablet(name, "davit")
			on.write(model.KindAnswerGiven, "v1", level(item, "2"))
			return func() error {
				_, err := h.intake.Push(ctx, caller("davit"), pushOf(marit.log, name, 1, on.lines))
				return err
			}
		}
		taken, waiting := push(ctx, "tab-taken", "pos-trunk"), push(ctx, "tab-waiting", "pos-trunk")
		stays := push(context.Background(), "tab-stays", "pos-head")
		gate := make(chan struct{})
		g.gate = gate
		errs := make(chan error, 3)
		for _, do := range []func() error{taken, waiting} {
			go func() { errs <- do() }()
			synctest.Wait()
		}
		stop()
		for range 2 {
			if err := <-errs; !errors.Is(err, context.Canceled) {
				t.Errorf("got %v", err)
			}
		}
		go func() { errs <- stays() }()
		synctest.Wait()
		close(gate)
		if err := <-errs; err != nil {
			t.Errorf("who stays: %v", err)
		}
		if trunk, head := h.answers("pos-trunk"), h.answers("pos-head"); trunk != 0 || head != 1 {
			t.Errorf("%d and %d answers stand, want 0 and 1", trunk, head)
		}
	})
}

// TestAFaultOfAnyKindIsOneJobs: also a panic.
func TestAFaultOfAnyKindIsOneJobs(t *testing.T) {
	for name, fault := range map[string]func() error{
		"an error": func() error { return errDisk },
		"a panic":  func() error { panic("a fault in the store") },
	} {
		synctest.Test(t, func(t *testing.T) {
			h, g, marit := newGated(t)
			g.append = func(b store.Batch) error {
				if b.Tablet == "tab-1" {
					return fault()
				}
				return nil
			}
			do := []func() error{h.pushOne(marit.log, "tab-0", "pos-trunk"), h.pushOne(marit.log, "tab-1", "pos-trunk"), h.pushOne(marit.log, "tab-2", "pos-trunk")}
			first := h.pushOne(marit.log, "tab-first", "pos-head")
			errs := g.together(func() { _ = first() }, do...)
			if errs[0] != nil || errs[1] == nil || errs[2] != nil {
				t.Errorf("%s: %v", name, errs)
			}
			if name == "a panic" && !strings.Contains(errs[1].Error(), "take in: panic: string\n") {
				t.Errorf("said %v", errs[1])
			}
			if got := h.answers("pos-trunk"); got != 2 {
				t.Errorf("%s: %d answers stand, want 2", name, got)
			}
		})
	}
}

// TestAFullStoreTellsEverybodyAtOnce, without trying each: that would use up
// the last space.
func TestAFullStoreTellsEverybodyAtOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h, g, marit := newGated(t)
		g.append = func(store.Batch) error { return store.ErrFull }
		do := []func() error{h.pushOne(marit.log, "tab-0", "pos-trunk"), h.pushOne(marit.log, "tab-1", "pos-trunk")}
		first := h.pushOne(marit.log, "tab-first", "pos-head")
		before := g.updates
		for i, err := range g.together(func() { _ = first() }, do...) {
			if !errors.Is(err, store.ErrFull) {
				t.Errorf("push %d: %v", i, err)
			}
		}
		if got := g.updates - before; got != 2 {
			t.Errorf("%d updates, want 2", got)
		}
	})
}

// TestSpaceThatTheStoreFindsIsNotForPushes: an update that is called a second
// time takes nothing in.
func TestSpaceThatTheStoreFindsIsNotForPushes(t *testing.T) {
	h, g, marit := newGated(t)
	g.again = true
	if err := h.pushOne(marit.log, "tab-0", "pos-trunk")(); !errors.Is(err, store.ErrFull) {
		t.Errorf("got %v", err)
	}
}

// TestAFullStoreStillAnswersARepeat: what was taken in before is known, and only
// what is new is refused.
func TestAFullStoreStillAnswersARepeat(t *testing.T) {
	h, g, marit := newGated(t)
	marit.lines = append(marit.lines, []byte("{"))
	marit.send()
	g.room = store.ErrFull
	before := g.updates
	for from := range int64(4) {
		answer, code := h.pushed(pushOf(marit.log, "tab-m", from+1, marit.lines[from:]))
		if want := []string{"1 known, 2 known, 3 quarantined broken-json", "2 known, 3 quarantined broken-json", "3 quarantined broken-json", ""}[from]; code != "" || verdicts(answer) != want || answer.Ack != 3 {
			t.Errorf("from %d: %q %s, receipt %d", from+1, code, verdicts(answer), answer.Ack)
		}
	}
	if g.updates != before {
		t.Errorf("%d updates for nothing new", g.updates-before)
	}
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	for from, line := range map[int64][]byte{4: marit.lines[3], 3: []byte("[")} {
		if _, err := h.intake.Push(context.Background(), caller("marit"), pushOf(marit.log, "tab-m", from, [][]byte{line})); !errors.Is(err, store.ErrFull) {
			t.Errorf("something new under %d: %v", from, err)
		}
	}
}
