package server

import (
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"
)

// metrics counts requests by route. Nothing in it names a person or a client:
// the label is the route's pattern, not the path.
type metrics struct {
	mu     sync.Mutex
	routes map[routeKey]*routeStats
}

type routeKey struct{ method, route, class string }

type routeStats struct {
	count   int64
	seconds float64
	buckets [len(bucketBounds)]int64
}

// bucketBounds are upper bounds in seconds.
var bucketBounds = [...]float64{0.001, 0.005, 0.02, 0.1, 0.5, 2}

func newMetrics() *metrics { return &metrics{routes: make(map[routeKey]*routeStats)} }

// observe counts one answered request.
func (m *metrics) observe(method, route string, status int, took time.Duration) {
	key := routeKey{method, route, fmt.Sprintf("%dxx", status/100)}
	m.mu.Lock()
	defer m.mu.Unlock()
	s, ok := m.routes[key]
	if !ok {
		s = &routeStats{}
		m.routes[key] = s
	}
	s.count++
	s.seconds += took.Seconds()
	for i, bound := range bucketBounds {
		if took.Seconds() <= bound {
			s.buckets[i]++
		}
	}
}

// gauge is one number that is asked for when the metrics are read.
type gauge struct {
	name, help string
	value      float64
}

// write prints the metrics in the text exposition format, version 0.0.4.
func (m *metrics) write(w io.Writer, gauges []gauge) {
	m.mu.Lock()
	defer m.mu.Unlock()
	keys := make([]routeKey, 0, len(m.routes))
	for k := range m.routes {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b routeKey) int {
		return strings.Compare(a.route+a.method+a.class, b.route+b.method+b.class)
	})
	fmt.Fprint(w, "# HELP doorsill_request_seconds Time to answer a request.\n# TYPE doorsill_request_seconds histogram\n")
	for _, k := range keys {
		m.routes[k].write(w, fmt.Sprintf(`method="%s",route="%s",class="%s"`, k.method, label(k.route), k.class))
	}
	for _, g := range append(gauges, processGauges()...) {
		fmt.Fprintf(w, "# HELP %s %s\n# TYPE %s gauge\n%s %g\n", g.name, g.help, g.name, g.name, g.value)
	}
}

func (s *routeStats) write(w io.Writer, labels string) {
	for i, bound := range bucketBounds {
		fmt.Fprintf(w, "doorsill_request_seconds_bucket{%s,le=\"%g\"} %d\n", labels, bound, s.buckets[i])
	}
	fmt.Fprintf(w, "doorsill_request_seconds_bucket{%s,le=\"+Inf\"} %d\n", labels, s.count)
	fmt.Fprintf(w, "doorsill_request_seconds_sum{%s} %g\n", labels, s.seconds)
	fmt.Fprintf(w, "doorsill_request_seconds_count{%s} %d\n", labels, s.count)
}

func label(s string) string {
	return strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`).Replace(s)
}

func processGauges() []gauge {
	var mem runtime.MemStats
	runtime.ReadMemStats(&mem)
	return []gauge{
		{"doorsill_memory_bytes", "Memory taken from the system.", float64(mem.Sys)},
		{"doorsill_heap_bytes", "Memory in use by live data.", float64(mem.HeapAlloc)},
		{"doorsill_goroutines", "Tasks under way.", float64(runtime.NumGoroutine())},
	}
}
