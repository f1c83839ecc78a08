package account

import (
	"errors"
	"math"
	"net/netip"
	"sync"
	"time"
)

// TooMany says how long to wait; errors.Is(err, ErrTooMany) holds.
type TooMany struct{ Wait time.Duration }

// Error is the sentence of ErrTooMany.
func (e *TooMany) Error() string { return ErrTooMany.Error() }

// Is makes a TooMany an ErrTooMany.
func (e *TooMany) Is(target error) bool { return target == ErrTooMany }

// Failed sign-ins are counted by source and login together, so that somebody
// who guesses from elsewhere can not lock the person out, and by source alone,
// so that one source can not try many logins. There is no count by login
// alone: whoever knows a name could use it up. A tablet that is known to be the
// person's has tries of its own, so that not even somebody behind the same
// address can. Each count is a bucket of tries that fills again with time; a
// success gives its tries back.
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
}

func newSignInLimiter() *signInLimiter {
	return &signInLimiter{buckets: make(map[string]*bucket)}
}

// take uses one try of a source with a login, or one of the known tablet or
// session when known names one. It returns a *TooMany when there is none left
// of either; giveBack undoes it after a success.
func (l *signInLimiter) take(source, login, known string, now time.Time) (giveBack func(), err error) {
	source = network(source)
	l.mu.Lock()
	defer l.mu.Unlock()
	pair := l.bucket("pair\x00"+source+"\x00"+login, pairTries, pairRefill, now)
	all := l.bucket("source\x00"+source, sourceTries, sourceRefill, now)
	wait := max(pair.wait(), all.wait())
	if known != "" {
		own := l.bucket("known\x00"+known, pairTries, pairRefill, now)
		if own.wait() == 0 {
			own.tries--
			return l.refilling(own, nil), nil
		}
		wait = min(wait, own.wait())
	}
	if wait > 0 {
		return nil, &TooMany{Wait: wait}
	}
	pair.tries--
	all.tries--
	return l.refilling(pair, all), nil
}

// refilling returns what a success does: all tries of the one bucket are there
// again, and one of the other.
func (l *signInLimiter) refilling(whole, one *bucket) func() {
	return func() {
		l.mu.Lock()
		defer l.mu.Unlock()
		whole.tries = whole.most
		if one != nil {
			one.tries = math.Min(one.most, one.tries+1)
		}
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

// IsTooMany returns how long to wait when err says that there were too many
// tries.
func IsTooMany(err error) (time.Duration, bool) {
	var t *TooMany
	if errors.As(err, &t) {
		return t.Wait, true
	}
	return 0, false
}
