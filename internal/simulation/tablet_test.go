package simulation

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"time"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/tablettest"
)

// tablet is one person's browser: what its database has committed, and what is
// only in memory and goes with a crash. It follows frontend/lib function by
// function; testdata/sync holds both to the same exchanges.
type tablet struct {
	w      *world
	label  string
	person string
	team   string
	// disk is durable, everything below it is not.
	disk rows

	cookie *http.Cookie
	// cursors are those of the teams that the screens show, as last read.
	cursors map[string]int64
	// cursorLog is the log that they are of.
	cursorLog string
	// old is the app from before entries named their log and what they replace,
	// unsigned the one from before tablets signed.
	old, unsigned bool
	// impostor is another device that took the tablet's name, and has another key.
	impostor bool
	// lie changes what the next event says.
	lie func(*model.Event)
	// most and page are how many events go in one push and one pull.
	most, page int
	// ahead is how far its clock is off; zone is what it calls its time.
	ahead time.Duration
	zone  string
	// crashAt counts down the transactions until the browser dies, before the
	// commit or after it; 0 is never.
	crashAt    int
	crashAfter bool
	// crashed counts the transactions of what it is doing now.
	crashed int
	doing   vecStep
	// problem is what the person is told about the last exchange.
	problem string
	// last is the same for the simulation.
	last error
	// recorder writes down what happens; nil most of the time.
	recorder *recorder
}

// rows are a person's database on one device; see frontend/lib/database/rows.ts.
type rows struct {
	// tablet is the stream's name, as the keeper's row has it.
	tablet string
	events map[string]row
	n, ack int64
	log    string
	// earlier are the logs that log was restored from, once a page said so.
	earlier []model.EarlierLog
	cursors map[string]cursor
	refused []refusal
	// memory is what forgetting keeps.
	memory memory
	// key is what the tablet signs with, and registered the log under which the
	// server was told; nil before.
	key        *tablettest.Signer
	registered *string
}

// row is one event, own or pulled.
type row struct {
	key, subject string
	pos          int64
	own          int64
	quarantined  bool
	team         string
	raw          []byte
	// acked is when this tablet heard that the server keeps it, by no clock of
	// the run: for the invariants only.
	acked time.Time
}

type cursor struct {
	after int64
	count int
	done  bool
	// old says that the log was another one before; see dropUnplaced.
	old bool
}

// refusal is an entry that the server quarantined, as the person sees it.
type refusal struct{ ref, code, hint, field string }

func (r rows) clone() rows {
	r.events, r.cursors, r.refused = maps.Clone(r.events), maps.Clone(r.cursors), slices.Clone(r.refused)
	r.memory.receipts, r.memory.left = maps.Clone(r.memory.receipts), slices.Clone(r.memory.left)
	return r
}

func newTablet(w *world, label, who string) *tablet {
	t := &tablet{w: w, label: label, person: who, zone: "Europe/Dublin",
		most: pick(w, []int{1000, 1000, 5, 2}), page: pick(w, []int{1000, 1000, 7, 3})}
	for _, p := range people() {
		if p.id == who {
			t.team = p.team
		}
	}
	t.disk = rows{tablet: label, events: map[string]row{}, cursors: map[string]cursor{}, memory: memory{receipts: map[int64]receipt{}},
		key: tablettest.NewSigner("key of " + label)}
	w.server.set(func(sw store.Writer) error {
		return sw.SetTablet(store.Tablet{ID: label, Person: who, Label: "invented", Registered: w.stamp(w.serverNow())})
	})
	return t
}

func (w *world) stamp(at time.Time) string { return at.UTC().Format(store.TimeLayout) }

func (t *tablet) now() string { return t.w.stamp(t.w.clock.Add(t.ahead)) }

// crashed is thrown where a browser dies.
type crashed struct{ t *tablet }

// commit is one strict transaction: all of it is on disk afterwards, or none.
func (t *tablet) commit(change func(*rows)) {
	t.crashed++
	at := t.crashAt == 1
	t.crashAt = max(0, t.crashAt-1)
	if at && !t.crashAfter {
		panic(crashed{t})
	}
	change(&t.disk)
	if at {
		panic(crashed{t})
	}
}

// alive runs work that the browser may not survive, and opens it again.
func (t *tablet) alive(work func()) {
	defer func() {
		t.crashAt = 0
		switch why := recover().(type) {
		case nil:
		case crashed:
			t.w.note("%s: CRASHED", t.label)
			t.died()
		default:
			panic(why)
		}
	}()
	work()
}

// died is what is left after a crash. A step that was under way is recorded
// with the crash in it.
func (t *tablet) died() {
	s := t.doing
	s.Crash, s.After = t.crashed, t.crashAfter
	if r := t.recorder; r != nil {
		s.Asks, r.asks = r.asks, nil
	}
	t.recorder.add(s)
	t.reopen()
}

// reopen is a cold start: only what is on disk is left, and the session's
// cookie, which the browser keeps.
func (t *tablet) reopen() {
	t.problem, t.lie = "", nil
	t.refresh()
}

// refresh reads again what an exchange has changed.
func (t *tablet) refresh() {
	t.cursors, t.cursorLog = map[string]int64{}, t.disk.log
	for _, r := range t.disk.events {
		if team := teamIn(r.raw); team != "" && !r.quarantined {
			t.cursors[team] = t.disk.cursors[team].after
		}
	}
}

// write is the outbox: the event gets the next number and is on disk before
// anybody is told that it is saved.
func (t *tablet) write(kind, subject string, body any) *entry {
	body = t.replacing(subject, body)
	event := t.event(kind, subject, body)
	n := event.N
	t.begin(vecStep{Do: "write", Kind: kind, Subject: subject, Body: body})
	line := lineOf(t.w, event)
	key := string(event.Ref())
	if _, taken := t.disk.events[key]; taken {
		t.w.doubt("%s can not write any more: number %d is taken on its own disk", t.label, n)
		return nil
	}
	said := &entry{id: len(t.w.said), author: t.person, impostor: t.impostor, lines: map[string]bool{string(line): true}, knew: t.knows()}
	if item, chooses := answered(body); item != "" {
		said.item, said.chooses = subject+" "+item, chooses
	}
	if t.w.mut == tornWrite {
		t.commit(func(r *rows) { r.events[key] = row{key: key, subject: subject, own: n, raw: line} })
	}
	t.commit(func(r *rows) {
		r.events[key] = row{key: key, subject: subject, own: n, raw: line}
		r.n = n
		t.w.said = append(t.w.said, said)
	})
	t.recorder.add(t.doing)
	t.w.note("%s (%s) writes %s %s about %s, seen %d of %q", t.label, t.person, key, kind, subject, event.Seen, event.Log)
	return said
}

// event is the next event of the tablet.
func (t *tablet) event(kind, subject string, body any) model.Event {
	content, err := json.Marshal(body)
	t.w.must(err)
	event := model.Event{Tablet: t.disk.tablet, N: t.disk.n + 1, Kind: kind, Subject: subject, Author: t.person,
		At: t.now(), Zone: t.zone, Schema: model.SchemaNow, Seen: t.seen(subject, body), Log: t.cursorLog, Body: content}
	if t.w.mut == seenFromServer {
		event.Seen = t.w.server.head()
	}
	if t.old {
		event.Log = ""
	}
	if t.lie != nil {
		t.lie(&event)
	}
	return event
}

// replacing names in an answer what it replaces: see frontend/lib/records/replaced.ts.
func (t *tablet) replacing(subject string, body any) any {
	answer, is := body.(model.AnswerGiven)
	if !is || t.old || t.lie != nil || answer.Replaces != nil {
		return body
	}
	entries, logs := t.entries(subject), t.logs()
	if t.w.mut == replacesUnseen {
		entries, logs = t.w.stored(subject), t.w.serverState().logs
	}
	visit, err := record.FoldVisit(entries, logs)
	t.w.must(err)
	answer.Replaces = []model.Ref{}
	for _, one := range visit.Answers {
		if one.Item != answer.Item {
			continue
		}
		for _, head := range one.Heads {
			answer.Replaces = append(answer.Replaces, head.Ref)
			if head.Pos != 0 || head.Ref.Tablet() != t.disk.tablet {
				continue
			}
			for _, before := range head.Replaces {
				if before.Tablet() != t.disk.tablet {
					answer.Replaces = append(answer.Replaces, before)
				}
			}
		}
	}
	slices.Sort(answer.Replaces)
	answer.Replaces = slices.Compact(answer.Replaces)
	return answer
}

// answered is the item that a body answers or chooses about.
func answered(body any) (item string, chooses bool) {
	switch b := body.(type) {
	case model.AnswerGiven:
		return b.Item, false
	case model.AnswerChosen:
		return b.Item, true
	case amendment:
		return answered(b.Change)
	}
	return "", false
}

// logs are what the tablet knows of the log that its positions are of.
func (t *tablet) logs() model.Logs { return model.Logs{Log: t.disk.log, Earlier: t.disk.earlier} }

// put enters something without the bookkeeping of what was said, for a great
// many entries.
func (t *tablet) put(kind, subject string, body any) {
	content, err := json.Marshal(body)
	t.w.must(err)
	n := t.disk.n + 1
	line := lineOf(t.w, model.Event{Tablet: t.disk.tablet, N: n, Kind: kind, Subject: subject, Author: t.person,
		At: t.now(), Zone: t.zone, Schema: model.SchemaNow, Body: content})
	t.disk.events[ref(t.disk.tablet, n)] = row{key: ref(t.disk.tablet, n), subject: subject, own: n, raw: line}
	t.disk.n = n
}

// begin starts something that can be cut short by a crash.
func (t *tablet) begin(s vecStep) { t.doing, t.crashed = s, 0 }

// lineOf writes an event as JSON.stringify would.
func lineOf(w *world, event model.Event) []byte {
	var line bytes.Buffer
	out := json.NewEncoder(&line)
	out.SetEscapeHTML(false)
	w.must(out.Encode(event))
	return bytes.TrimSuffix(line.Bytes(), []byte("\n"))
}

// seen is the cursor of the team of what the event is about.
func (t *tablet) seen(subject string, body any) int64 {
	if team := t.teamOf(subject); team != "" {
		return t.cursors[team]
	}
	switch b := body.(type) {
	case model.ClientOpened:
		return t.cursors[b.Team]
	case model.VisitStarted:
		return t.cursors[b.Team]
	}
	return 0
}

func (t *tablet) teamOf(subject string) string {
	for _, e := range t.entries(subject) {
		if team := teamIn(e.Raw); team != "" {
			return team
		}
	}
	return ""
}

// teamIn is the team that an event names which begins a client or a visit.
func teamIn(raw []byte) string {
	event, err := record.Decode(raw)
	if err != nil || event.Kind != model.KindClientOpened && event.Kind != model.KindVisitStarted {
		return ""
	}
	var body struct{ Team string }
	if json.Unmarshal(event.Body, &body) != nil {
		return ""
	}
	return body.Team
}

// entries are what the tablet folds of a subject, in no order.
func (t *tablet) entries(subject string) []model.Entry {
	var list []model.Entry
	for _, r := range t.disk.events {
		if r.subject == subject && !r.quarantined {
			list = append(list, model.Entry{Pos: r.pos, Raw: r.raw})
		}
	}
	return list
}

// knows are the entries that are on the tablet.
func (t *tablet) knows() map[int]bool {
	known := map[int]bool{}
	for _, e := range t.w.said {
		for line := range e.lines {
			if r, there := t.disk.events[refIn(line)]; there && string(r.raw) == line {
				known[e.id] = true
			}
		}
	}
	return known
}

func ref(tablet string, n int64) string { return fmt.Sprintf("%s:%d", tablet, n) }

// refIn is the ref of an event's line, empty when it is not an event.
func refIn(line string) string {
	event, err := record.Decode([]byte(line))
	if err != nil {
		return ""
	}
	return string(event.Ref())
}

// waiting are own numbers that the server has not acknowledged.
func (t *tablet) waiting() (count int64) {
	for _, r := range t.disk.events {
		if r.own > t.disk.ack {
			count++
		}
	}
	return count
}

func (t *tablet) String() string {
	return fmt.Sprintf("%s of %s as %s: n %d, ack %d, log %s, cursors %v, refused %d, %s",
		t.label, t.person, t.disk.tablet, t.disk.n, t.disk.ack, t.disk.log, t.disk.cursors, len(t.disk.refused), t.problem)
}
