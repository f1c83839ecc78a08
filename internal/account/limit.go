package account

import (
	"math"
	"net/netip"
	"sync"
	"time"
)

// TooMany says how long to wait; errors.Is(err, ErrTooMany) holds.
type TooMany struct {
	Wait time.Duration
	// Name says that wrong passwords for this name, wherever they came from, are
	// the reason: at a browser or in a network where the person has signed in
	// before there is no need to wait.
	Name bool
}

// Error is the sentence of ErrTooMany.
func (e *TooMany) Error() string { return ErrTooMany.Error() }

// Is makes a TooMany an ErrTooMany.
func (e *TooMany) Is(target error) bool { return target == ErrTooMany }

// Failed sign-ins are counted by source and login together, so that somebody
// who guesses from elsewhere can not lock the person out; by source alone, so
// that one source can not try many logins; and by login over all sources, see
// guesses. A browser in which the person has signed in has tries of its own, so
// that not even somebody behind the same address can lock them out. The first two
// are buckets of tries that fill again with time; a success gives their tries
// back.
const (
	pairTries    = 5
	pairRefill   = 30 * time.Second
	sourceTries  = 30
	sourceRefill = 4 * time.Second
	maxBuckets   = 20_000
)

type bucket struct {
	tries  float64
	most   float64
	refill time.Duration
	at     time.Time
}

// fill brings the bucket up to now.
func (b *bucket) fill(now time.Time) {
	if d := now.Sub(b.at); d > 0 {
		b.tries = math.Min(b.most, b.tries+float64(d)/float64(b.refill))
	}
	b.at = now
}

// wait is how long until one try is there.
func (b *bucket) wait() time.Duration {
	if b.tries >= 1 {
		return 0
	}
	return time.Duration((1 - b.tries) * float64(b.refill))
}

type signInLimiter struct {
	mu      sync.Mutex
	buckets map[string]*bucket
	guesses map[string]*guesses
}

func newSignInLimiter() *signInLimiter {
	return &signInLimiter{buckets: make(map[string]*bucket), guesses: make(map[string]*guesses)}
}

// attempt is what a try is counted by.
type attempt struct {
	source, login string
	// person is whose login it is, or empty.
	person string
	// own is what the person is known by here: a browser, or a session; or empty.
	own string
	// network says that the person has signed in from the source's network.
	network bool
}

// taken is a try that was taken, until it is known how it ended.
type taken struct {
	l       *signInLimiter
	buckets []*bucket
	guesses *guesses
	// before and after are when the next try was allowed.
	before, after time.Time
}

// take uses one try. It returns a *TooMany when there is none left.
func (l *signInLimiter) take(a attempt, now time.Time) (*taken, error) {
	source := network(a.source)
	l.mu.Lock()
	defer l.mu.Unlock()
	pair := l.bucket("pair\x00"+source+"\x00"+a.login, pairTries, pairRefill, now)
	all := l.bucket("source\x00"+source, sourceTries, sourceRefill, now)
	wait := max(pair.wait(), all.wait())
	if a.own != "" {
		if g := l.guessesOf("own\x00"+a.own, a.person); !g.spent() {
			own := l.bucket("known\x00"+a.own, pairTries, pairRefill, now)
			if own.wait() == 0 {
				return l.taken(now, g, own), nil
			}
			wait = min(wait, own.wait())
		}
	}
	g := l.guessesOf("name\x00"+a.login, a.person)
	if a.network {
		here := l.guessesOf("network\x00"+attackerNetwork(a.source)+"\x00"+a.login, a.person)
		if !here.spent() {
			g = here
			g.next = time.Time{} // only the count is of interest: the waits are those of pair and source
		}
	}
	if wait > 0 {
		return nil, &TooMany{Wait: wait}
	}
	if wait := g.wait(now); wait > 0 {
		return nil, &TooMany{Wait: wait, Name: true}
	}
	return l.taken(now, g, pair, all), nil
}

func (l *signInLimiter) taken(now time.Time, g *guesses, buckets ...*bucket) *taken {
	for _, b := range buckets {
		b.tries--
	}
	t := &taken{l: l, buckets: buckets, guesses: g, before: g.next}
	g.failed++
	g.next = now.Add(pauseAfter(g.failed))
	t.after = g.next
	return t
}

// succeeded gives back all tries of the first bucket and one of the others, and
// begins the count of guesses anew.
func (t *taken) succeeded() {
	t.l.mu.Lock()
	defer t.l.mu.Unlock()
	t.undo()
	t.buckets[0].tries = t.buckets[0].most
	t.guesses.failed, t.guesses.next = 0, time.Time{}
}

// untried gives back the one try: the password was not looked at.
func (t *taken) untried() {
	t.l.mu.Lock()
	defer t.l.mu.Unlock()
	t.undo()
}

func (t *taken) undo() {
	for _, b := range t.buckets {
		b.tries = math.Min(b.most, b.tries+1)
	}
	t.guesses.failed = max(0, t.guesses.failed-1)
	if t.guesses.next.Equal(t.after) { // nobody has tried since
		t.guesses.next = t.before
	}
}

// network takes an IPv6 address for its /64: one household or one attacker has
// all of them.
func network(source string) string {
	addr, err := netip.ParseAddr(source)
	if err != nil || addr.Is4() || addr.Is4In6() {
		return source
	}
	prefix, err := addr.Prefix(64)
	if err != nil {
		return source
	}
	return prefix.String()
}

// attackerNetwork is the range of addresses that one attacker commonly has: the
// /64 of an IPv6 address and the /24 of an IPv4 one.
func attackerNetwork(source string) string {
	addr, err := netip.ParseAddr(source)
	if err != nil || !addr.Unmap().Is4() {
		return network(source)
	}
	prefix, err := addr.Unmap().Prefix(24)
	if err != nil {
		return source
	}
	return prefix.String()
}

func (l *signInLimiter) bucket(key string, most float64, refill time.Duration, now time.Time) *bucket {
	b, ok := l.buckets[key]
	if !ok {
		l.makeRoom(now)
		b = &bucket{tries: most, most: most, refill: refill, at: now}
		l.buckets[key] = b
	}
	b.fill(now)
	return b
}

// makeRoom drops buckets that are full again, and any others when that is not
// enough: memory is bounded whatever is thrown at it.
func (l *signInLimiter) makeRoom(now time.Time) {
	if len(l.buckets) < maxBuckets {
		return
	}
	for key, b := range l.buckets {
		if b.fill(now); b.tries >= b.most {
			delete(l.buckets, key)
		}
	}
	for key := range l.buckets {
		if len(l.buckets) < maxBuckets*3/4 {
			return
		}
		delete(l.buckets, key)
	}
}
