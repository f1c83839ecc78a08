package server

import (
	"sync"
	"time"

	"golang.org/x/time/rate"
)

// rates is a token bucket a person.
type rates struct {
	mu        sync.Mutex
	perSecond float64
	burst     int
	buckets   map[string]*rate.Limiter
}

func newRates(perSecond float64, burst int) *rates {
	return &rates{perSecond: perSecond, burst: max(1, burst), buckets: make(map[string]*rate.Limiter)}
}

// allow takes one token. Only signed-in people get here, so the number of
// buckets is the number of people.
func (r *rates) allow(person string, now time.Time) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	b, ok := r.buckets[person]
	if !ok {
		b = rate.NewLimiter(rate.Limit(r.perSecond), r.burst)
		r.buckets[person] = b
	}
	return b.AllowN(now, 1)
}
