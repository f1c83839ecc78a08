package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"sync"
	"time"
)

// gate knows the requests that are under way: what they stand on must not be
// closed before the last one has ended.
type gate struct {
	handler http.Handler
	// passing is held for reading by each request, and for writing once no more
	// are let through.
	passing sync.RWMutex
}

// ServeHTTP lets a request through until the gate is shut.
func (g *gate) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if !g.passing.TryRLock() {
		panic(http.ErrAbortHandler) // its connection has been cut
	}
	defer g.passing.RUnlock()
	g.handler.ServeHTTP(w, r)
}

// stop takes nothing new in, gives requests three quarters of the time to finish,
// and then cuts their connections: of a request that comes slowly, or not to its
// end, nothing is taken in. The error says that one did not end all the same.
func (g *gate) stop(s *http.Server, within time.Duration, log *slog.Logger) error {
	limit := time.NewTimer(within)
	defer limit.Stop()
	finishing, cancel := context.WithTimeout(context.Background(), within*3/4)
	defer cancel()
	err := s.Shutdown(finishing)
	if errors.Is(err, context.DeadlineExceeded) {
		log.Warn("requests that did not end in time are cut off")
		err = s.Close()
	}
	if err != nil {
		return fmt.Errorf("stop: %w", err)
	}
	shut := make(chan struct{})
	go func() {
		g.passing.Lock()
		close(shut)
	}()
	select {
	case <-shut:
		return nil
	case <-limit.C:
		return fmt.Errorf("stop: a request did not end within %s", within)
	}
}
