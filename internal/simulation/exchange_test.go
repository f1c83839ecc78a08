package simulation

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"
)

// sumHeader carries the hash of an answer's body.
const sumHeader = "Doorsill-Sum"

const (
	mostConflicts = 4
	mostLogs      = 3
)

// problem is why an exchange ended early, by the codes of StoreError.
type problem struct {
	code   string
	status int
	reason string
}

func (p *problem) Error() string { return fmt.Sprintf("%s %d %s", p.code, p.status, p.reason) }

func statusOf(err error) int {
	var p *problem
	if errors.As(err, &p) {
		return p.status
	}
	return 0
}

// exchange sends and takes in, as exchange.ts does.
func (t *tablet) exchange() error {
	t.begin(vecStep{Do: "sync"})
	err := t.sendAndTake()
	if err == nil {
		t.forget()
	}
	t.problem, t.last = "", err
	if err != nil {
		t.problem = err.Error()
		t.w.note("%s: %v", t.label, err)
	}
	t.synced(err)
	return err
}

// synced writes an exchange down.
func (t *tablet) synced(err error) {
	if t.recorder == nil {
		return
	}
	var p *problem
	if errors.As(err, &p) {
		t.doing.Problem = p.shown()
	}
	t.doing.Asks, t.recorder.asks = t.recorder.asks, nil
	t.recorder.add(t.doing)
}

// shown is the code that the person's screen gets; see problemOf in desk.ts.
func (p *problem) shown() string {
	if p.reason == "tablet" || p.reason == "damaged" || p.reason == serverFullCode {
		return p.reason
	}
	return p.code
}

func (t *tablet) sendAndTake() error {
	for range mostLogs {
		full := t.pushAll()
		if !isFull(full) && full != nil {
			return full
		}
		again, err := t.takeTeam(t.team)
		if err != nil {
			return err
		}
		if !again {
			return full
		}
	}
	return nil
}

const serverFullCode = "server-full"

// isFull: a server that is full takes nothing in, and can still be read.
func isFull(err error) bool {
	var p *problem
	return errors.As(err, &p) && p.reason == serverFullCode
}

// takeTeam pulls; a team that this person has left is passed over, and then
// the session says whose log it is.
func (t *tablet) takeTeam(team string) (newLog bool, err error) {
	newLog, err = t.pull(team)
	if status := statusOf(err); status != http.StatusForbidden && status != http.StatusNotFound {
		return newLog, err
	}
	_, body, err := t.ask("GET", "/api/v1/session", "", nil)
	if err != nil {
		return false, err
	}
	var said struct {
		Log        *string
		ServerTime string `json:"server_time"`
	}
	switch {
	case json.Unmarshal(body, &said) != nil || said.Log == nil:
		return false, errForeign
	case t.disk.log == "" || t.disk.log == *said.Log:
		t.disk.noteReceipt(t, said.ServerTime, receipt{})
		return false, nil
	}
	t.takeNewLog(*said.Log)
	return true, nil
}

// ask sends a request and reads the answer as http.ts does.
func (t *tablet) ask(method, path, kind string, body []byte) (int, []byte, error) {
	return t.askSigned(method, path, kind, body, "")
}

func (t *tablet) askSigned(method, path, kind string, body []byte, signature string) (int, []byte, error) {
	got, err := t.w.net.send(ask{method, path, kind, body, t.cookie, t, signature})
	if errors.Is(err, errTimeout) {
		return 0, nil, &problem{code: "offline", reason: timeoutReason}
	}
	if err != nil {
		return 0, nil, &problem{code: "offline"}
	}
	if got.cookie != nil {
		t.cookie = got.cookie
	}
	if got.status == http.StatusNoContent {
		return got.status, nil, nil
	}
	ok := got.status < 300
	if !strings.HasPrefix(got.kind, "application/json") {
		if !ok && !strings.HasPrefix(got.kind, "text/html") {
			return 0, nil, refusedWith(got.status, "")
		}
		return 0, nil, &problem{code: "portal", status: got.status}
	}
	if sum := sha256.Sum256(got.body); got.sum != "" && got.sum != hex.EncodeToString(sum[:]) && t.w.mut != answersUnchecked || !json.Valid(got.body) {
		return 0, nil, &problem{code: "offline"}
	}
	if ok || got.status == http.StatusConflict {
		return got.status, got.body, nil
	}
	var said struct{ Error string }
	_ = json.Unmarshal(got.body, &said)
	return 0, nil, refusedWith(got.status, said.Error)
}

func refusedWith(status int, reason string) error {
	code := "refused"
	switch {
	case status == http.StatusUnauthorized:
		code = "sign-in"
	case status == http.StatusTooManyRequests, status >= 500:
		code = "server"
	}
	return &problem{code, status, reason}
}

// batch is what one push holds.
type batch struct {
	from  int64
	lines [][]byte
}

func (t *tablet) pushAll() error {
	most, conflicts, asked := t.most, 0, false
	for {
		if err := t.registerKey(); err != nil {
			return err
		}
		b := t.nextBatch(most, asked)
		if len(b.lines) == 0 {
			return nil
		}
		said, err := t.sendBatch(b)
		asked = said == "gap" || asked && said != "log"
		switch {
		case isTooMuch(err) && len(b.lines) > 1:
			most = len(b.lines) / 2
		case err != nil:
			return err
		case said == "taken":
			conflicts = 0
		default:
			if conflicts++; conflicts > mostConflicts {
				return &problem{code: "server", reason: "no agreement"}
			}
		}
	}
}

const timeoutReason = "timeout"

// isTooMuch: for the server, or for the way to it.
func isTooMuch(err error) bool {
	var p *problem
	return errors.As(err, &p) && (p.status == http.StatusRequestEntityTooLarge || p.reason == timeoutReason)
}

// nextBatch is what comes next in order. A restored server has what left this
// tablet long ago: it is passed over, until the server has asked for it.
func (t *tablet) nextBatch(most int, asked bool) batch {
	own := map[int64]row{}
	for _, r := range t.disk.events {
		if r.own != 0 {
			own[r.own] = r
		}
	}
	gone := t.disk.memory.gone
	if asked || t.w.mut == goneSentAsNotes {
		gone = 0
	}
	b := batch{from: t.disk.ack + 1}
	for b.from <= gone && own[b.from].raw == nil {
		b.from++
	}
	to := min(t.disk.n, b.from+int64(most)-1)
	for n := b.from; n <= to; n++ {
		line := own[n].raw
		if line == nil && n <= gone {
			break
		}
		if line == nil {
			t.w.damaged(t, n)
			line = fmt.Appendf(nil, `{"tablet":%q,"n":%d,"damaged":"this row could not be read on its tablet"}`, t.disk.tablet, n)
		}
		b.lines = append(b.lines, line)
	}
	return b
}

// header is the first line of a push, in the order in which the tablet writes
// it.
type header struct {
	Log    string `json:"log"`
	Tablet string `json:"tablet"`
	From   int64  `json:"from"`
	Count  int    `json:"count"`
	SHA256 string `json:"sha256"`
	At     string `json:"at"`
}

func (t *tablet) bytesOf(b batch) []byte {
	var rest bytes.Buffer
	for _, line := range b.lines {
		rest.Write(line)
		rest.WriteByte('\n')
	}
	sum := sha256.Sum256(rest.Bytes())
	head, err := json.Marshal(header{t.disk.log, t.disk.tablet, b.from, len(b.lines), hex.EncodeToString(sum[:]), t.now()})
	t.w.must(err)
	return slices.Concat(head, []byte("\n"), rest.Bytes())
}

// pushAnswer is the receipt; fields that must be there are pointers.
type pushAnswer struct {
	Log        *string `json:"log"`
	Ack        *int64  `json:"ack"`
	ServerTime string  `json:"server_time"`
	Verdicts   []struct {
		N       int64  `json:"n"`
		Verdict string `json:"verdict"`
		Pos     int64  `json:"pos"`
		Code    string `json:"code"`
		Hint    string `json:"hint"`
		Field   string `json:"field"`
	} `json:"verdicts"`
}

type conflictAnswer struct {
	Error string  `json:"error"`
	Ack   *int64  `json:"ack"`
	Log   *string `json:"log"`
}

var errForeign = &problem{code: "server", reason: "an answer that is not understood"}

// sendBatch sends one batch; unless it is taken, the server asks to send from
// elsewhere.
func (t *tablet) sendBatch(b batch) (said string, err error) {
	sent := t.bytesOf(b)
	if t.w.mut == acksEarly {
		t.commit(func(r *rows) { r.ack = b.from + int64(len(b.lines)) - 1 })
	}
	status, body, err := t.askSigned("POST", "/api/v1/events", "application/x-ndjson", sent, t.signatureOf(sent))
	var p *problem
	if errors.As(err, &p) && p.reason == "unsigned" {
		t.disk.registered = nil
	}
	if err != nil {
		return "", err
	}
	if status == http.StatusConflict {
		var c conflictAnswer
		if json.Unmarshal(body, &c) != nil {
			return "", errForeign
		}
		return c.Error, t.applyConflict(c)
	}
	var got pushAnswer
	if json.Unmarshal(body, &got) != nil || got.Log == nil || got.Ack == nil {
		return "", errForeign
	}
	t.applyVerdicts(b, got)
	return "taken", nil
}

func (t *tablet) applyConflict(c conflictAnswer) error {
	switch {
	case c.Error == "log" && c.Log != nil && *c.Log == t.disk.log:
		// The server has the log that was named here: the name was damaged on its way.
		return errForeign
	case c.Error == "log" && c.Log != nil:
		t.takeNewLog(*c.Log)
	case c.Error == "gap" && c.Ack != nil:
		t.disk.ack = *c.Ack // rows of one store: they are there or they are not
		t.disk.cutReceipts(*c.Ack)
	default:
		return errForeign
	}
	return nil
}

// takeNewLog: the server was restored. All own events wait again, and
// everything is asked for from the start.
func (t *tablet) takeNewLog(log string) {
	t.w.note("%s: the log is %s now", t.label, log)
	t.commit(func(r *rows) {
		r.forgetPlaces()
		r.ack, r.log, r.earlier = 0, log, nil
		for key, one := range r.events {
			one.quarantined = one.quarantined && one.own == 0
			r.events[key] = one
		}
	})
	t.refresh()
}

// forgetPlaces: positions, cursors and verdicts were those of another log.
func (r *rows) forgetPlaces() {
	for team := range r.cursors {
		r.cursors[team] = cursor{old: true}
	}
	r.refused = nil
	r.memory.receipts, r.memory.left = map[int64]receipt{}, nil
	for key, one := range r.events {
		one.pos, one.acked = 0, time.Time{}
		r.events[key] = one
	}
}

func (t *tablet) applyVerdicts(b batch, said pushAnswer) {
	t.commit(func(r *rows) {
		var pos int64
		for _, v := range said.Verdicts {
			key := ref(r.tablet, v.N)
			if v.Verdict == "quarantined" {
				r.refuse(refusal{key, v.Code, v.Hint, v.Field})
			}
			one, there := r.events[key]
			if !there || one.own != v.N {
				continue
			}
			one.quarantined = v.Verdict == "quarantined"
			pos = max(pos, v.Pos)
			if one.acked.IsZero() {
				one.acked = t.w.clock
			}
			if !one.quarantined && v.Pos != 0 {
				one.pos = v.Pos
			}
			r.events[key] = one
			if one.quarantined && t.w.mut == quarantineForgotten {
				delete(r.events, key)
			}
		}
		// A server that acknowledges more than was sent has met this name
		// before; what else waits here is sent all the same, for its verdict.
		r.ack, r.log = *said.Ack, *said.Log
		if sent := b.from + int64(len(b.lines)) - 1; sent < r.n && t.w.mut != acksBeyond {
			r.ack = min(r.ack, sent)
		}
		r.n = max(r.n, *said.Ack)
		r.noteReceipt(t, said.ServerTime, receipt{r.ack, pos})
	})
	t.refresh()
}

func (r *rows) refuse(news refusal) {
	r.refused = slices.DeleteFunc(r.refused, func(old refusal) bool { return old.ref == news.ref })
	r.refused = append(r.refused, news)
}

// signIn opens the session anew, as session.ts does for somebody who types the
// password; to a server that does not know this tablet it names itself.
func (t *tablet) signIn() error {
	body, err := json.Marshal(map[string]string{"name": t.person, "password": password, "tablet": t.disk.tablet})
	t.w.must(err)
	_, answer, err := t.ask("POST", "/api/v1/session", "application/json", body)
	if err != nil {
		return err
	}
	var said struct {
		Tablet string
		Log    *string
	}
	if json.Unmarshal(answer, &said) != nil || said.Log == nil {
		return errForeign
	}
	if said.Tablet != t.disk.tablet {
		t.w.note("%s: names itself", t.label)
		again := fmt.Sprintf(`{"label":"invented","id":%q}`, t.disk.tablet)
		if _, _, err := t.ask("POST", "/api/v1/tablets", "application/json", []byte(again)); err != nil {
			return err
		}
	}
	if t.disk.log == "" && *said.Log != "" {
		t.commit(func(r *rows) { r.log = *said.Log })
	}
	return nil
}
