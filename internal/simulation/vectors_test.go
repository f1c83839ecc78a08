package simulation

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

var update = flag.Bool("update", false, "writes testdata/sync anew")

// vector is what one tablet did and met in a run, for the tablet's own code to
// do again: frontend/lib/sync/vectors.test.ts.
type vector struct {
	Name   string    `json:"name"`
	Tablet string    `json:"tablet"`
	Person string    `json:"person"`
	Team   string    `json:"team"`
	Log    string    `json:"log"`
	Steps  []vecStep `json:"steps"`
}

// vecStep is one thing that happened on the tablet. Disk is what its database
// must hold afterwards.
type vecStep struct {
	// Do is write or sync.
	Do string `json:"do"`
	// At and Zone are the tablet's clock.
	At   string `json:"at"`
	Zone string `json:"zone"`
	// Kind, Subject and Body are what is written.
	Kind    string `json:"kind,omitempty"`
	Subject string `json:"subject,omitempty"`
	Body    any    `json:"body,omitempty"`
	// Asks are the requests that the tablet must make, with what comes back.
	Asks []vecAsk `json:"asks,omitempty"`
	// Crash counts the transactions on events until the browser dies, before
	// the commit or after it.
	Crash int  `json:"crash,omitempty"`
	After bool `json:"after,omitempty"`
	// Problem is what the exchange ended with, empty when it was complete.
	Problem string `json:"problem,omitempty"`

	Disk vecDisk `json:"disk"`
}

type vecAsk struct {
	Method string `json:"method"`
	Path   string `json:"path"`
	Body   string `json:"body,omitempty"`
	// Network says what became of the request, for the reader.
	Network string `json:"network,omitempty"`
	// Lost requests get no answer.
	Lost bool `json:"lost,omitempty"`
	// Late ones get none in the time that the tablet waits.
	Late   bool   `json:"late,omitempty"`
	Status int    `json:"status,omitempty"`
	Type   string `json:"type,omitempty"`
	Sum    string `json:"sum,omitempty"`
	Answer []byte `json:"answer,omitempty"` // base64: bits may be flipped
}

type vecDisk struct {
	N       int64             `json:"n"`
	Ack     int64             `json:"ack"`
	Log     string            `json:"log"`
	Cursors map[string][2]int `json:"cursors"`
	Refused []string          `json:"refused"`
	// Events are "key pos own aside hash", by key.
	Events []string `json:"events"`
}

// recorder watches one tablet.
type recorder struct {
	t   *tablet
	out vector
	// asks are those of the exchange under way.
	asks []vecAsk
}

func (w *world) watch(t *tablet) *recorder {
	t.most, t.page = 1000, 1000
	r := &recorder{t: t, out: vector{Tablet: t.disk.tablet, Person: t.person, Team: t.team}}
	t.recorder = r
	w.net.record = func(sky weather, sent ask, got *reply) {
		if sent.from != t || sent.method == "POST" && sent.path == "/api/v1/session" || sent.path == "/api/v1/tablets" {
			return
		}
		one := vecAsk{Method: sent.method, Path: sent.path, Lost: got == nil, Late: sky == tooSlow}
		if !sent.isKey() {
			one.Body = string(sent.body) // the tablet that plays it has another key
		}
		if sky != fair {
			one.Network = sky.String()
		}
		if got != nil {
			one.Status, one.Type, one.Sum, one.Answer = got.status, got.kind, got.sum, got.body
		}
		r.asks = append(r.asks, one)
	}
	return r
}

// add writes a step down, with the disk as it is now.
func (r *recorder) add(s vecStep) {
	if r == nil {
		return
	}
	s.At, s.Zone, s.Disk = r.t.now(), r.t.zone, r.t.disk.shown()
	r.out.Steps = append(r.out.Steps, s)
}

// shown is the disk in the form of the vectors.
func (r rows) shown() vecDisk {
	d := vecDisk{N: r.n, Ack: r.ack, Log: r.log, Cursors: map[string][2]int{}, Refused: []string{}, Events: []string{}}
	for team, c := range r.cursors {
		d.Cursors[team] = [2]int{int(c.after), c.count}
	}
	for _, one := range r.refused {
		d.Refused = append(d.Refused, one.ref+" "+one.code)
	}
	for _, key := range slices.Sorted(maps.Keys(r.events)) {
		one := r.events[key]
		sum := sha256.Sum256(one.raw)
		d.Events = append(d.Events, fmt.Sprintf("%s %d %d %v %s", key, one.pos, one.own, one.quarantined, hex.EncodeToString(sum[:4])))
	}
	return d
}

// vectors are runs that are recorded: a seed each, some of them with all the
// disasters, the last ones over years.
const (
	vectors    = 58
	firstYears = 48
	firstSeed  = 7000
)

// TestTheTabletsVectors holds testdata/sync to the simulation.
func TestTheTabletsVectors(t *testing.T) {
	g := newGround(t)
	for i := range vectors {
		name := fmt.Sprintf("%02d", i+1)
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			want := written(t, g, name, uint64(firstSeed+i))
			random := func() bool { return !bytes.Equal(want, written(t, g, name, uint64(firstSeed+i))) }
			compare(t, filepath.Join("..", "..", "testdata", "sync", name+".json"), want, random)
		})
	}
}

// written is a recording as it lies in its file.
func written(t *testing.T, g *ground, name string, seed uint64) []byte {
	v := record1(t, g, seed)
	v.Name = "run " + name
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(v); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// compare holds a file to what was generated; one in which the server made up
// a name or the id of a failed request differs each time.
func compare(t *testing.T, path string, want []byte, random func() bool) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) && !random() {
		t.Errorf("%s is stale: go test ./internal/simulation -run Vectors -update, and read the difference", path)
	}
}

// record1 plays a run and gives what the busiest tablet met.
func record1(t *testing.T, g *ground, seed uint64) vector {
	has, rare := features{}, 1
	if seed%2 == 1 {
		has, rare = features{restores: true, clones: seed%4 == 1, roles: true, flips: true}, 6
	}
	w := newWorldWith(t, g, seed, noMutation, &has)
	defer w.close()
	w.tablets = w.tablets[:3]
	one := w.tablets[seed/2%2]
	w.must(one.signIn())
	one.old, one.unsigned = false, false // it is the present app that plays the recording
	r := w.watch(one)
	r.out.Log = one.disk.log
	list := script(seed, 30, rare)
	if seed >= firstSeed+firstYears {
		list = years(seed, 24)
	}
	w.run(list)
	if err := w.judge(); err != nil {
		t.Errorf("seed %d: %v\n%s", seed, err, w.tail(200))
	}
	return r.out
}
