package simulation

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
)

// errNetwork is what a tablet sees when a request or its answer did not come
// through.
var errNetwork = errors.New("no answer")

// errTimeout is what a tablet sees when it has waited long enough.
var errTimeout = fmt.Errorf("%w in time", errNetwork)

// weather is what the network does to one request.
type weather int

const (
	fair        weather = iota
	loseRequest         // the server never sees it
	loseAnswer          // the server has done it, the tablet does not know
	sendTwice           // the same bytes arrive twice
	holdBack            // the tablet gives up waiting; the bytes arrive later
	cutRequest          // the bytes end early
	flipRequest         // one bit of the request is changed
	cutAnswer           // the answer ends early
	flipAnswer          // one bit of the answer is changed
	portal              // the network answers for itself
	tooLarge            // something on the way takes no such body
	busy                // 429
	unavailable         // 503
	staleAnswer         // a proxy gives an earlier answer to the same address
	tooSlow             // the tablet gives up waiting for its own large body
	full                // the server takes nothing in, and can be read
	allWeather          // how many there are
)

func (f weather) String() string {
	return [...]string{"fair", "request lost", "answer lost", "sent twice", "held back", "request cut", "bit of request flipped", "answer cut",
		"bit of answer flipped", "portal", "413", "429", "503", "stale answer", "too slow", "server full"}[f]
}

// ask is a request as a tablet makes it.
type ask struct {
	method, path string
	kind         string
	body         []byte
	cookie       *http.Cookie
	from         *tablet
	// signature is the tablet's, of a push.
	signature string
}

// isKey says whether a tablet registers its key.
func (a ask) isKey() bool { return a.method == http.MethodPut && strings.HasSuffix(a.path, "/key") }

// reply is what a tablet gets to see.
type reply struct {
	status int
	kind   string
	sum    string
	body   []byte
	cookie *http.Cookie
	// store is what the answer says about being kept on the way.
	store string
	// begun is when the history has the request that was answered.
	begun int64
}

// network stands between tablets and server.
type network struct {
	w *world
	// forecast is what happens to the next requests; fair when it is empty.
	forecast []weather
	held     []ask
	// seen are answers to reads by path, as a proxy would keep them.
	seen map[string]reply
	// underWay are the lines of the push that is being answered, by ref.
	underWay map[string][]byte
	// record is told about each exchange; nil most of the time.
	record func(sky weather, sent ask, got *reply)
}

func (n *network) next() weather {
	if len(n.forecast) == 0 {
		return fair
	}
	sky := n.forecast[0]
	n.forecast = n.forecast[1:]
	return sky
}

// send carries one request; the error is errNetwork.
func (n *network) send(a ask) (got reply, err error) {
	sky, asked, begun := n.next(), a, n.w.seen.Begin()
	defer func() {
		if got.begun == 0 {
			got.begun = begun // but for what a proxy had kept
		}
		n.w.saw(asked, got)
	}()
	if n.record != nil {
		defer func() {
			if err != nil {
				n.record(sky, asked, nil)
			} else {
				n.record(sky, asked, &got)
			}
		}()
	}
	if sky != fair {
		n.w.note("network: %s (%s %s)", sky, a.method, a.path)
	}
	switch sky {
	case loseRequest:
		return reply{}, errNetwork
	case holdBack:
		n.held = append(n.held, a)
		return reply{}, errNetwork
	case portal:
		return reply{status: 200, kind: "text/html", body: []byte("<html>Sign in to the wireless network</html>")}, nil
	case tooLarge:
		return reply{status: 413, kind: "text/html", body: []byte("<html>413</html>")}, nil
	case busy:
		return reply{status: 429, kind: "application/json", body: []byte(`{"error":"too-many","message":"Later."}`)}, nil
	case unavailable:
		return reply{status: 503, kind: "application/json", body: []byte(`{"error":"busy","message":"Later."}`)}, nil
	case cutRequest:
		a.body = n.cut(a.body)
	case flipRequest:
		a.body = n.flip(a.body)
	case sendTwice:
		if _, ok := n.deliver(a); !ok {
			return reply{}, errNetwork
		}
	case tooSlow:
		if n.w.one(2) {
			n.held = append(n.held, a)
		}
		return reply{}, errTimeout
	case full:
		if a.method == "POST" {
			return reply{status: 503, kind: "application/json", body: []byte(`{"error":"server-full","message":"There is no room."}`)}, nil
		}
	case staleAnswer:
		if old, there := n.seen[a.path]; there && a.method == "GET" {
			return old, nil
		}
	}
	got, ok := n.deliver(a)
	switch {
	case !ok, sky == loseAnswer:
		return reply{}, errNetwork
	case sky == cutAnswer:
		got.body = n.cut(got.body)
	case sky == flipAnswer:
		got.body = n.flip(got.body)
	}
	return got, nil
}

func (n *network) cut(b []byte) []byte {
	return b[:n.w.rng.IntN(len(b)+1)]
}

// flip changes one bit, every other time one near the beginning, where the
// numbers of a header or a receipt are.
func (n *network) flip(b []byte) []byte {
	if len(b) == 0 {
		return b
	}
	b = bytes.Clone(b)
	at := n.w.rng.IntN(len(b) * 8)
	if n.w.one(2) {
		at %= min(len(b), 160) * 8
	}
	b[at/8] ^= 1 << (at % 8)
	return b
}

// deliver hands a request to the server; false when there was no answer.
func (n *network) deliver(a ask) (reply, bool) {
	begun := n.w.seen.Begin()
	n.underWay = map[string][]byte{}
	for _, line := range bytes.Split(a.body, []byte("\n")) {
		n.underWay[refIn(string(line))] = line
	}
	r := httptest.NewRequest(a.method, a.path, io.NopCloser(bytes.NewReader(a.body)))
	if a.kind != "" {
		r.Header.Set("Content-Type", a.kind)
	}
	if a.cookie != nil {
		r.AddCookie(a.cookie)
	}
	if a.signature != "" {
		r.Header.Set("Doorsill-Signature", a.signature)
	}
	answer, ok := n.w.server.serve(r)
	if !ok {
		return reply{}, false
	}
	got := reply{status: answer.Code, kind: answer.Header().Get("Content-Type"), sum: answer.Header().Get(sumHeader), body: answer.Body.Bytes()}
	got.store, got.begun = answer.Header().Get("Cache-Control"), begun
	if set := answer.Result().Cookies(); len(set) > 0 {
		got.cookie = set[0] // the session's
	}
	if a.method == "GET" && got.status == http.StatusOK && strings.Contains(a.path, "/events") {
		if n.seen == nil {
			n.seen = map[string]reply{}
		}
		n.seen[a.path] = got
	}
	return got, true
}

// late has requests arrive that a tablet has long given up, in any order.
func (n *network) late() {
	for len(n.held) > 0 && !n.w.one(3) {
		at := n.w.rng.IntN(len(n.held))
		a := n.held[at]
		n.held = append(n.held[:at], n.held[at+1:]...)
		n.w.note("network: a held back %s %s arrives", a.method, a.path)
		n.deliver(a)
	}
}
