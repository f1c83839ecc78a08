package account

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"runtime"
	"testing"
	"time"
)

func TestTheLimiterForgetsRatherThanGrows(t *testing.T) {
	l, now := newSignInLimiter(), time.Date(2026, 3, 10, 9, 0, 0, 0, time.UTC)
	for i := range 3 * maxBuckets {
		source := fmt.Sprintf("10.%d.%d.%d", i>>16, i>>8&255, i&255)
		if _, err := l.take(attempt{source: source, login: fmt.Sprint("name ", i)}, now); err != nil {
			t.Fatalf("source %s at its first try: %v", source, err)
		}
		if len(l.buckets) > maxBuckets || len(l.guesses) > maxGuessed {
			t.Fatalf("%d buckets and %d names after %d sources", len(l.buckets), len(l.guesses), i+1)
		}
	}
	// What has filled up again goes first: a guess of just now still counts.
	l, later := newSignInLimiter(), now.Add(time.Hour)
	for i := range maxBuckets - 10 {
		l.bucket(fmt.Sprint(i), 5, time.Second, now).tries--
	}
	for range pairTries {
		if _, err := l.take(attempt{source: "192.0.2.1", login: "mara"}, later); err != nil {
			t.Fatal(err)
		}
	}
	for i := range 100 {
		l.bucket(fmt.Sprint("new ", i), 5, time.Second, later)
	}
	if _, err := l.take(attempt{source: "192.0.2.1", login: "mara"}, later); !errors.Is(err, ErrTooMany) {
		t.Errorf("making room forgot a guess of just now: %v", err)
	}
}

// busyHasher has no free slot, and as many strangers waiting as may.
func busyHasher(t *testing.T) *Hasher {
	t.Helper()
	h, err := NewHasher(Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	for range hashesAtOnce {
		h.slots <- struct{}{}
	}
	ctx, cancel := context.WithCancel(t.Context())
	gone := make(chan struct{}, hashesWaiting)
	for range hashesWaiting {
		go func() {
			_, _, _ = h.verify(ctx, h.nobody, "guess", hashesWaiting)
			gone <- struct{}{}
		}()
	}
	t.Cleanup(func() {
		cancel()
		for range hashesWaiting {
			<-gone
		}
	})
	for h.waiting.Load() < hashesWaiting {
		runtime.Gosched()
	}
	return h
}

func TestAFloodOfGuessesLeavesRoomForKnownTablets(t *testing.T) {
	h := busyHasher(t)
	if _, _, err := h.verify(t.Context(), h.nobody, "guess", hashesWaiting); !errors.Is(err, ErrBusy) {
		t.Errorf("one stranger more: %v, want %v", err, ErrBusy)
	}
	ctx, cancel := context.WithCancel(t.Context())
	answered := make(chan error, 1)
	go func() {
		_, _, err := h.verify(ctx, h.nobody, "guess", knownWaiting)
		answered <- err
	}()
	for h.waiting.Load() <= hashesWaiting {
		runtime.Gosched()
	}
	cancel()
	if err := <-answered; !errors.Is(err, context.Canceled) {
		t.Errorf("somebody at a known tablet: %v, want a place in the line", err)
	}
}

// TestEverySignInTakesOneHash wants whoever can not sign in to wait for a hash
// like everybody else, so that the time of an answer does not tell who exists.
func TestEverySignInTakesOneHash(t *testing.T) {
	h := busyHasher(t)
	s := &Service{hasher: h}
	stored := encodePHC(h.cost, make([]byte, saltBytes), make([]byte, hashBytes))
	known, closed, noPassword := claim{}, claim{}, claim{}
	known.person.Hash, known.person.Active = stored, true
	closed.person.Hash = stored
	noPassword.person.Active = true
	for name, who := range map[string]claim{"known": known, "closed": closed, "without a password": noPassword, "unknown": {}} {
		// No slot is free and the line is full: whoever needs no hash gets
		// another answer.
		if _, err := s.checkPassword(t.Context(), who, "guess"); !errors.Is(err, ErrBusy) {
			t.Errorf("%s: %v, want %v like the others", name, err, ErrBusy)
		}
	}
}
