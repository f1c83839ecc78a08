package simulation

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"slices"

	"doorsill/internal/audit"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/store/storetest"
)

// invariant is a row of the table of what must hold.
type invariant struct {
	name  string
	check func(*world, *serverState) error
}

// invariants is what must hold once everybody has exchanged what they have.
func invariants() []invariant {
	return []invariant{
		{"the store is whole", func(w *world, _ *serverState) error { return storetest.Check(w.server.file.Store) }},
		{"the audit trail holds", auditHolds},
		{"everybody came to rest", cameToRest},
		{"nothing that was entered is gone", nothingGone},
		{"nothing counts twice", nothingTwice},
		{"what was acknowledged is kept", acknowledgedKept},
		{"no cursor is ahead of its rows", cursorsHonest},
		{"tablets and server see the same", sameFold},
		{"results are those of the fold", sameResult},
		{"of two who answered apart, both stand", bothStand},
		{"what was set aside is shown", quarantineShown},
		{"who left a tablet left it whole", goneWhole},
		{"everybody saw one history", oneHistory},
		{"nothing counts in a name that its author did not give it", onlyTheirs},
	}
}

// serverState is what the server holds in the end.
type serverState struct {
	log    string
	logs   model.Logs
	head   int64
	placed map[string]model.Entry
	// lines counts how often a line is in the log, quarantined how often in quarantine.
	lines, quarantined map[string]int
	subjects           map[string]store.Subject
}

func (w *world) serverState() *serverState {
	v := &serverState{placed: map[string]model.Entry{}, lines: map[string]int{}, quarantined: map[string]int{}, subjects: map[string]store.Subject{}}
	w.server.view(func(r store.Reader) error {
		var err, herr, lerr error
		v.log, err = r.LogID()
		v.head, herr = r.Head()
		v.logs, lerr = r.Logs()
		w.must(errors.Join(err, herr, lerr))
		entries, err := r.Entries(0, 1<<20)
		for _, e := range entries {
			e.Raw = slices.Clone(e.Raw)
			v.lines[string(e.Raw)]++
			v.placed[refIn(string(e.Raw))] = e
			event, bad := record.Decode(e.Raw)
			err = errors.Join(err, bad)
			s, bad := r.Subject(event.Subject)
			v.subjects[event.Subject] = s
			err = errors.Join(err, bad)
		}
		quarantined, bad := r.QuarantinedOf(store.QuarantineFilter{})
		for _, q := range quarantined {
			v.quarantined[string(q.Raw)]++
		}
		return errors.Join(err, bad)
	})
	return v
}

// settle heals everything and lets everybody exchange until nothing moves.
func (w *world) settle() {
	w.note("== quiet")
	w.net.forecast, w.server.file.plan = nil, nil
	w.net.late()
	w.net.held = nil
	for before, rounds := "", 0; rounds < mostRounds; rounds++ {
		for _, t := range w.tablets {
			t.crashAt = 0
			if err := t.exchange(); mustSignIn(err) && t.signIn() == nil {
				_ = t.exchange()
			}
		}
		now := fmt.Sprint(w.server.head(), w.tablets)
		if now == before {
			return
		}
		before = now
	}
	w.doubt("after %d rounds in fair weather things still move", mostRounds)
}

// mostRounds is how often everybody exchanges before it counts as never coming
// to rest.
const mostRounds = 8

// judge says which invariants do not hold.
func (w *world) judge() error {
	w.settle()
	v := w.serverState()
	var bad []error
	for _, doubt := range w.doubts {
		bad = append(bad, errors.New(doubt))
	}
	for _, i := range invariants() {
		if err := i.check(w, v); err != nil {
			bad = append(bad, fmt.Errorf("%s: %w", i.name, err))
		}
	}
	return errors.Join(bad...)
}

func auditHolds(w *world, _ *serverState) error {
	_, err := audit.Verify(w.t.Context(), w.server.file.Store)
	return err
}

func cameToRest(w *world, v *serverState) error {
	var bad []error
	for _, t := range w.tablets {
		if !w.reads(t) && (t.problem != "" || t.waiting() == 0) {
			continue // in no team any more; if something waits the person is told
		}
		if t.impostor && t.problem != "" && t.waiting() > 0 {
			continue // is refused, and keeps what it has
		}
		if t.problem != "" || t.waiting() != 0 || t.disk.log != v.log {
			bad = append(bad, fmt.Errorf("%v", t))
		}
	}
	return errors.Join(bad...)
}

// nothingGone: an entry is in the log, in quarantine, or still on a tablet that
// waits to send it.
func nothingGone(w *world, v *serverState) error {
	var bad []error
	for _, e := range w.said {
		kept := false
		for line := range e.lines {
			kept = kept || v.lines[line] > 0 || v.quarantined[line] > 0 || w.waits(v, line)
		}
		if !kept {
			bad = append(bad, fmt.Errorf("entry %d of %s: %v", e.id, e.author, slices.Collect(maps.Keys(e.lines))))
		}
	}
	return errors.Join(bad...)
}

// waits says whether a line is on some tablet, yet to be sent: because it was
// not, or because it was sent to a log that is no more.
func (w *world) waits(v *serverState, line string) bool {
	for _, t := range w.tablets {
		for _, r := range t.disk.events {
			if (r.own > t.disk.ack || r.own > 0 && t.problem != "" && t.disk.log != v.log) && string(r.raw) == line {
				return true
			}
		}
	}
	return false
}

func nothingTwice(w *world, v *serverState) error {
	var bad []error
	for line, times := range v.lines {
		if times > 1 {
			bad = append(bad, fmt.Errorf("%d times in the log: %s", times, line))
		}
	}
	for _, e := range w.said {
		var times int
		for line := range e.lines {
			times += v.lines[line]
		}
		if times > 1 {
			bad = append(bad, fmt.Errorf("entry %d of %s counts %d times under several names", e.id, e.author, times))
		}
	}
	return errors.Join(bad...)
}

// acknowledgedKept: what a tablet counts as sent, the server has.
func acknowledgedKept(w *world, v *serverState) error {
	var bad []error
	for _, t := range w.tablets {
		for _, r := range t.disk.events {
			if r.own == 0 || r.own > t.disk.ack || t.disk.log != v.log {
				continue
			}
			if v.lines[string(r.raw)] == 0 && v.quarantined[string(r.raw)] == 0 {
				bad = append(bad, fmt.Errorf("%s counts %s as sent", t.label, r.key))
			}
			if e, there := v.placed[r.key]; there && string(e.Raw) == string(r.raw) && (r.pos != e.Pos || r.quarantined) {
				bad = append(bad, fmt.Errorf("%s has %s at %d, quarantined %v; the server at %d", t.label, r.key, r.pos, r.quarantined, e.Pos))
			}
		}
	}
	return errors.Join(bad...)
}

// checkAlways is what must hold at every moment.
func (w *world) checkAlways() {
	if len(w.doubts) > 0 {
		return
	}
	if err := cursorsHonest(w, w.serverState()); err != nil {
		w.doubt("a cursor is ahead: %v", err)
	}
}

func cursorsHonest(w *world, v *serverState) error {
	var bad []error
	for _, t := range w.tablets {
		if t.disk.log != v.log {
			continue
		}
		for ref, e := range v.placed {
			event, err := record.Decode(e.Raw)
			w.must(err)
			s := v.subjects[event.Subject]
			if t.forgotten(event.Subject) {
				continue
			}
			if s.Team == t.team && e.Pos <= t.disk.cursors[t.team].after && t.disk.events[ref].pos != e.Pos && t.disk.events[ref+forked].pos != e.Pos {
				bad = append(bad, fmt.Errorf("%s has read up to %d and lacks %s at %d", t.label, t.disk.cursors[t.team].after, ref, e.Pos))
			}
		}
	}
	return errors.Join(bad...)
}

// sameFold compares what everybody sees of everything.
func sameFold(w *world, v *serverState) error {
	var bad []error
	for _, t := range w.tablets {
		if !w.reads(t) || t.impostor && t.waiting() > 0 {
			continue
		}
		for _, id := range slices.Sorted(maps.Keys(v.subjects)) {
			if v.subjects[id].Team != t.team {
				continue
			}
			if t.forgotten(id) && len(t.entries(id)) == 0 {
				continue
			}
			want, here := w.fold(v.subjects[id], w.stored(id), v.logs), w.fold(v.subjects[id], t.entries(id), t.logs())
			if want != here {
				bad = append(bad, fmt.Errorf("%s sees %s as\n%s and the server as\n%s", t.label, id, here, want))
			}
		}
	}
	return errors.Join(bad...)
}

// reads says whether a tablet's person may read the team still.
func (w *world) reads(t *tablet) (may bool) {
	w.server.view(func(r store.Reader) error {
		list, err := r.MembershipsOfPerson(t.person)
		for _, m := range list {
			may = may || m.Team == t.team
		}
		return err
	})
	return may
}

func (w *world) stored(id string) (entries []model.Entry) {
	w.server.view(func(r store.Reader) error {
		list, err := r.EntriesOfSubject(id)
		for _, e := range list {
			e.Raw = slices.Clone(e.Raw)
			entries = append(entries, e)
		}
		return err
	})
	return entries
}

func (w *world) fold(s store.Subject, entries []model.Entry, logs model.Logs) string {
	if s.Kind == model.SubjectVisit {
		visit, err := record.FoldVisit(entries, logs)
		w.must(err)
		return canonical(visit)
	}
	client, err := record.FoldClient(entries)
	w.must(err)
	return canonical(client)
}

// sameResult: a tablet that scores the visit gets the server's bytes.
func sameResult(w *world, v *serverState) error {
	scorer := engine.New(authoring.Standard())
	var bad []error
	for _, id := range slices.Sorted(maps.Keys(v.subjects)) {
		if v.subjects[id].Kind != model.SubjectVisit {
			continue
		}
		visit, err := record.FoldVisit(w.stored(id), v.logs)
		w.must(err)
		here, err := scorer.Score(&visit)
		w.must(err)
		body := here.AppendJSON(nil)
		sum := sha256.Sum256(body)
		w.server.view(func(r store.Reader) error {
			result, err := r.Result(id)
			if err == nil && (!bytes.Equal(result.Body, body) || result.SHA256 != hex.EncodeToString(sum[:])) {
				bad = append(bad, fmt.Errorf("visit %s has a result of another state", id))
			}
			return err
		})
	}
	return errors.Join(bad...)
}

// quarantineShown: what the server quarantined of a tablet's own, its person sees.
func quarantineShown(w *world, v *serverState) error {
	var bad []error
	for _, t := range w.tablets {
		shown := map[string]bool{}
		for _, r := range t.disk.refused {
			shown[r.ref] = true
		}
		for _, r := range t.disk.events {
			if r.own != 0 && r.own <= t.disk.ack && v.quarantined[string(r.raw)] > 0 && v.lines[string(r.raw)] == 0 && !shown[r.key] {
				bad = append(bad, fmt.Errorf("%s does not show that %s was set aside", t.label, r.key))
			}
		}
	}
	return errors.Join(bad...)
}
