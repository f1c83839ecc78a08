package simulation

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"doorsill/internal/record"
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
	got, err := t.w.net.send(ask{method, path, kind, body, t.cookie, t})
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
	status, body, err := t.ask("POST", "/api/v1/events", "application/x-ndjson", sent)
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
		r.ack, r.log = 0, log
		for key, one := range r.events {
			one.aside = one.aside && one.own == 0
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
			one.aside = v.Verdict == "quarantined"
			pos = max(pos, v.Pos)
			if one.acked.IsZero() {
				one.acked = t.w.clock
			}
			if !one.aside && v.Pos != 0 {
				one.pos = v.Pos
			}
			r.events[key] = one
			if one.aside && t.w.mut == asideForgotten {
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

// pullAnswer is one page; fields that must be there are pointers.
type pullAnswer struct {
	Log    *string `json:"log"`
	Events []struct {
		Pos int64           `json:"pos"`
		Raw json.RawMessage `json:"raw"`
	} `json:"events"`
	Next       *int64 `json:"next"`
	More       *bool  `json:"more"`
	ServerTime string `json:"server_time"`
}

// pull takes in a team to its end; true when the log turned out to be another.
func (t *tablet) pull(team string) (newLog bool, err error) {
	for {
		after := t.disk.cursors[team].after
		p, err := t.askPage(team, after)
		if p == nil {
			return err == nil, err
		}
		if err := t.applyPage(team, after, *p); err != nil {
			return false, err
		}
		if !*p.More || *p.Next <= after {
			return t.bringBack(team)
		}
	}
}

// askPage asks for one page; nil when the log turned out to be another, which
// is taken on.
func (t *tablet) askPage(team string, after int64) (*pullAnswer, error) {
	log := t.disk.log
	path := fmt.Sprintf("/api/v1/teams/%s/events?log=%s&after=%d&limit=%d", team, url.QueryEscape(log), after, t.page)
	status, body, err := t.ask("GET", path, "", nil)
	if err != nil {
		return nil, err
	}
	if status == http.StatusConflict {
		var c conflictAnswer
		if json.Unmarshal(body, &c) != nil {
			return nil, errForeign
		}
		if c.Log == nil {
			c.Log = new(string)
		}
		t.takeNewLog(*c.Log)
		return nil, nil
	}
	var p pullAnswer
	if json.Unmarshal(body, &p) != nil || p.Log == nil || p.Next == nil || p.More == nil {
		return nil, errForeign
	}
	if log != "" && *p.Log != log {
		t.takeNewLog(*p.Log)
		return nil, nil
	}
	return &p, nil
}

// applyPage writes the rows and moves the cursor in one transaction.
func (t *tablet) applyPage(team string, after int64, p pullAnswer) error {
	var news []row
	last, named := t.disk.ack, map[string]bool{}
	for _, e := range p.Events {
		event, err := record.Decode(e.Raw)
		if err != nil {
			return errForeign
		}
		if event.Tablet == t.disk.tablet && t.disk.n == t.disk.ack {
			last = max(last, event.N)
		}
		named[event.Subject], named[clientIn(event)] = true, true
		news = append(news, t.rowsOf(team, event, e.Pos, e.Raw)...)
	}
	forward := func(r *rows) {
		was := r.cursors[team]
		r.cursors[team] = cursor{*p.Next, was.count + len(p.Events), was.done || !*p.More, was.old && *p.More}
		r.log = *p.Log
	}
	if t.w.mut == cursorFirst {
		t.commit(forward)
	}
	t.commit(func(r *rows) {
		for _, one := range news {
			r.events[one.key] = one
		}
		if r.cursors[team].old && !*p.More && t.w.mut != ghostsCount {
			r.dropUnplaced(team)
		}
		if last > r.ack {
			r.n, r.ack = last, last
		}
		forward(r)
		for i, one := range r.memory.left {
			// News of a client who has left this tablet, or a new visit to them.
			r.memory.left[i].back = one.back || slices.ContainsFunc(one.subjects, func(id string) bool { return named[id] })
		}
		r.noteReceipt(t, p.ServerTime, receipt{r.ack, *p.Next})
	})
	t.refresh()
	return nil
}

// rowsOf are the rows of an entry; two when another device wrote under this
// tablet's name and number.
func (t *tablet) rowsOf(team string, event record.Event, pos int64, raw []byte) []row {
	one := row{key: string(event.Ref()), subject: event.Subject, pos: pos, team: team, raw: raw}
	mine := t.disk.events[one.key]
	switch {
	case mine.own != 0 && (mine.pos == pos || bytes.Equal(mine.raw, raw) || t.w.mut == forksMerged):
		// An own event keeps its bytes and takes only its place.
		one.own, one.raw, one.acked = mine.own, mine.raw, mine.acked
	case event.Tablet == t.disk.tablet:
		// Another device writes under this tablet's name: what it said lies
		// beside what was said here, which does not count.
		one.key += forked
		if mine.own != 0 {
			mine.aside = true
			return []row{mine, one}
		}
	}
	return []row{one}
}

// forked is added to the key of an event that another device wrote under this
// tablet's name and number.
const forked = "~log"

// dropUnplaced: what others said and a restored server does not have is kept
// and does not count, until the server gives it a place.
func (r *rows) dropUnplaced(team string) {
	for key, one := range r.events {
		if one.own == 0 && one.pos == 0 && (one.team == team || one.team == "") {
			one.aside = true
			r.events[key] = one
		}
	}
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
