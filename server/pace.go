package server

import (
	"context"
	"time"
)

// What goes over all records beside serving works this long at a time, and rests
// so many times as long as it has worked.
const (
	workAtOnce = 5 * time.Millisecond
	restFor    = 3
)

// pace returns what such work calls between its steps, from one goroutine at a
// time. It takes a quarter of one processor at most. The error is the context's.
func pace() func(context.Context) error {
	since := time.Now()
	return func(ctx context.Context) error {
		worked := time.Since(since)
		if worked < workAtOnce {
			return ctx.Err()
		}
		// After a long time without work there is nothing to make up for.
		rest := time.NewTimer(restFor * min(worked, 10*workAtOnce))
		defer rest.Stop()
		select {
		case <-rest.C:
		case <-ctx.Done():
		}
		since = time.Now()
		return ctx.Err()
	}
}
