package simulation

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
)

// memory is what a tablet keeps for forgetting; it follows receipts.ts,
// forgotten.ts and forget.ts.
type memory struct {
	// age is the time that counted so far, device and server the clocks as they
	// were last read.
	age            time.Duration
	device, server time.Time
	// receipts say, by day of age, what was acknowledged.
	receipts map[int64]receipt
	// gone is the highest own number that has left.
	gone int64
	// day is when forgetting last ran.
	day  int64
	left []leftClient
}

// receipt: the server keeps own numbers up to ack, and its log reaches pos.
type receipt struct{ ack, pos int64 }

// leftClient is a client who has left this tablet, with all visits; back says
// that there is news.
type leftClient struct {
	team     string
	subjects []string
	back     bool
}

const (
	day        = 24 * time.Hour
	mostAtOnce = 7 * day
	keepDays   = 30 + 1
)

func (r *rows) noteReceipt(t *tablet, serverTime string, got receipt) {
	server, err := time.Parse(time.RFC3339, serverTime)
	if err != nil {
		return
	}
	device, err := time.Parse(time.RFC3339, t.now())
	t.w.must(err)
	r.memory.tick(device, server)
	today := int64(r.memory.age / day)
	had := r.memory.receipts[today]
	r.memory.receipts[today] = receipt{max(had.ack, got.ack), max(had.pos, got.pos)}
}

// tick counts time as far as both clocks agree that it passed.
func (m *memory) tick(device, server time.Time) {
	passed := min(device.Sub(m.device), server.Sub(m.server))
	if m.device.IsZero() {
		passed = -1
	}
	if passed >= 0 && passed < time.Hour {
		return
	}
	m.age += max(0, min(passed, mostAtOnce))
	m.device, m.server = device, server
}

// cutReceipts: the server keeps less than it said before.
func (r *rows) cutReceipts(ack int64) {
	for day, had := range r.memory.receipts {
		r.memory.receipts[day] = receipt{min(had.ack, ack), had.pos}
	}
	for key, one := range r.events {
		if one.own > ack {
			one.acked = time.Time{}
			r.events[key] = one
		}
	}
}

// firm is what was acknowledged thirty days ago.
func (t *tablet) firm() (firm receipt) {
	keep := int64(keepDays)
	if t.w.mut == forgetsEarly {
		keep = 3
	}
	for d, had := range t.disk.memory.receipts {
		if d+keep < int64(t.disk.memory.age/day) {
			firm = receipt{max(firm.ack, had.ack), max(firm.pos, had.pos)}
		}
	}
	firm.ack = min(firm.ack, t.disk.ack)
	return firm
}

// forget has closed clients leave the tablet; see forget.ts. No team is taken off
// a tablet here, so that nothing of one's own is out of sight.
func (t *tablet) forget() {
	firm, today := t.firm(), int64(t.disk.memory.age/day)
	if firm.pos == 0 || t.disk.memory.day == today {
		return
	}
	var leaving []leftClient
	var gone []row
	for _, one := range t.closed() {
		rows := t.rowsAbout(one.subjects)
		if !slices.ContainsFunc(rows, func(r row) bool { return !t.isFirm(r, firm) }) {
			leaving, gone = append(leaving, one), append(gone, rows...)
		}
	}
	if len(gone) == 0 {
		t.disk.memory.day = today
		return
	}
	t.commit(func(r *rows) {
		r.memory.day = today
		r.memory.left = append(slices.Clone(r.memory.left), leaving...)
		for _, one := range gone {
			t.w.forgetting(t, one)
			delete(r.events, one.key)
			r.memory.gone = max(r.memory.gone, one.own)
		}
	})
	t.w.note("%s: %d entries leave, own ones up to %d", t.label, len(gone), t.disk.memory.gone)
	t.refresh()
}

func (t *tablet) isFirm(r row, firm receipt) bool {
	if t.w.mut == forgetsUnsent {
		return true
	}
	return !r.quarantined && r.pos > 0 && r.pos <= firm.pos && r.own <= firm.ack
}

// closed are the closed clients of whom nothing is open.
func (t *tablet) closed() (list []leftClient) {
	clients, visits := t.subjects()
	for _, id := range clients {
		client, err := record.FoldClient(t.entries(id))
		t.w.must(err)
		if client.Status != "closed" {
			continue
		}
		one, open := leftClient{team: client.Team, subjects: []string{id}}, false
		for _, v := range visits {
			visit, err := record.FoldVisit(t.entries(v), t.logs())
			t.w.must(err)
			if visit.Client != id {
				continue
			}
			one.subjects = append(one.subjects, v)
			open = open || visit.Signed == nil || visit.Unknown > 0 || toChoose(visit)
		}
		if !open {
			list = append(list, one)
		}
	}
	return list
}

func toChoose(visit model.Visit) bool {
	return slices.ContainsFunc(visit.Answers, func(a model.Answer) bool { return len(a.Heads) > 1 })
}

func (t *tablet) rowsAbout(subjects []string) (list []row) {
	for _, r := range t.disk.events {
		if slices.Contains(subjects, r.subject) {
			list = append(list, r)
		}
	}
	return list
}

// bringBack takes clients in again of whom there is news, all at once.
func (t *tablet) bringBack(team string) (newLog bool, err error) {
	var subjects []string
	for _, one := range t.disk.memory.left {
		if one.back && one.team == team && t.w.mut != forgetsForGood {
			subjects = append(subjects, one.subjects...)
		}
	}
	if len(subjects) == 0 {
		return false, nil
	}
	end, news := t.disk.cursors[team].after, []row{}
	for after, more := int64(0), true; more; {
		p, err := t.askPage(team, after)
		if p == nil {
			return err == nil, err
		}
		for _, e := range p.Events {
			event, err := record.Decode(e.Raw)
			if err != nil {
				return false, errForeign
			}
			if e.Pos <= end && slices.Contains(subjects, event.Subject) {
				news = append(news, t.rowsOf(team, event, e.Pos, e.Raw, t.disk.n)...)
			}
		}
		more, after = *p.More && *p.Next > after && *p.Next < end, *p.Next
	}
	t.commit(func(r *rows) {
		for _, one := range news {
			r.events[one.key] = one
		}
		r.memory.left = slices.DeleteFunc(slices.Clone(r.memory.left), func(one leftClient) bool { return slices.Contains(subjects, one.subjects[0]) })
	})
	t.w.note("%s: %v come back", t.label, subjects)
	t.refresh()
	return false, nil
}

// clientIn is the client that an event names.
func clientIn(event model.Event) string {
	var body struct{ Client string }
	_ = json.Unmarshal(event.Body, &body)
	return body.Client
}

// forgotten says whether a subject has left the tablet.
func (t *tablet) forgotten(id string) bool {
	return slices.ContainsFunc(t.disk.memory.left, func(one leftClient) bool { return slices.Contains(one.subjects, id) })
}

// forgetting doubts what leaves a tablet though it should not.
func (w *world) forgetting(t *tablet, r row) {
	switch {
	case r.own > t.disk.ack, r.own != 0 && r.pos == 0:
		w.doubt("%s forgets %s, which the server has not acknowledged", t.label, r.key)
	case r.quarantined:
		w.doubt("%s forgets %s, which does not count", t.label, r.key)
	case r.own != 0 && w.clock.Sub(r.acked) < 30*day:
		w.doubt("%s forgets %s %v after it was acknowledged", t.label, r.key, w.clock.Sub(r.acked))
	case w.serverState().lines[string(r.raw)] == 0 && w.server.logID() == t.disk.log:
		w.doubt("%s forgets %s, which the server does not have", t.label, r.key)
	}
}

// damaged doubts a note in the place of an entry that has left the tablet, or that
// lies on it. What another device wrote under its name it may lack.
func (w *world) damaged(t *tablet, n int64) {
	switch key := ref(t.disk.tablet, n); {
	case n <= t.disk.memory.gone:
		w.doubt("%s sends a note for %s, which has left it", t.label, key)
	case t.disk.events[key+forked].key != "":
		w.doubt("%s sends a note for %s, which it has", t.label, key)
	}
}

// goneWhole: who has left a tablet has left it with everything, and nothing is
// shown of them.
func goneWhole(w *world, _ *serverState) error {
	var bad []string
	for _, t := range w.tablets {
		for _, one := range t.disk.memory.left {
			for _, id := range one.subjects {
				if w.reads(t) && len(t.entries(id)) > 0 {
					bad = append(bad, fmt.Sprintf("%s shows a part of %s", t.label, id))
				}
			}
		}
	}
	if len(bad) > 0 {
		return fmt.Errorf("%s", strings.Join(bad, "\n"))
	}
	return nil
}

// closeClient: the visits are signed, and the lead closes the client.
func closeClient(w *world, t *tablet) {
	clients, visits := t.subjects()
	if len(clients) == 0 {
		return
	}
	id := pick(w, clients)
	for _, v := range visits {
		visit, err := record.FoldVisit(t.entries(v), t.logs())
		w.must(err)
		if visit.Client == id && visit.Signed == nil {
			t.choose(&visit)
			t.sign(v)
		}
	}
	sync(w, t)
	lead := w.tablets[2]
	sync(w, lead)
	client, err := record.FoldClient(lead.entries(id))
	w.must(err)
	body := fmt.Sprintf(`{"version":%d,"status":"closed"}`, client.Version)
	_, _, _ = lead.ask("PUT", "/api/v1/clients/"+id+"/assignment", "application/json", []byte(body))
}

// openAgain has the lead open a closed client again, who may have left tablets.
func openAgain(w *world, _ *tablet) {
	subjects := w.serverState().subjects
	for _, id := range slices.Sorted(maps.Keys(subjects)) {
		if subjects[id].Kind != model.SubjectClient || subjects[id].Team != north {
			continue
		}
		client, err := record.FoldClient(w.stored(id))
		w.must(err)
		if client.Status == "closed" {
			body := fmt.Sprintf(`{"version":%d,"status":"active"}`, client.Version)
			_, _, _ = w.tablets[2].ask("PUT", "/api/v1/clients/"+id+"/assignment", "application/json", []byte(body))
			return
		}
	}
}

// month passes, with a tablet that is used now and then.
func month(w *world, t *tablet) {
	for range 6 {
		w.pass(6*day + time.Duration(w.rng.IntN(48))*time.Hour)
		sync(w, t)
		sync(w, pick(w, w.tablets))
	}
}

// fresh are the backups that are younger than what tablets still have.
func (s *service) fresh() (list [][]byte) {
	for _, one := range slices.Sorted(maps.Keys(s.taken)) {
		if s.w.clock.Sub(s.taken[one]) < 30*day {
			list = append(list, s.backups[one])
		}
	}
	return list
}

func (s *service) logID() (id string) {
	s.view(func(r store.Reader) (err error) { id, err = r.LogID(); return err })
	return id
}
