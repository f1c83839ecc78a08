package simulation

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"slices"

	"doorsill/internal/account"
	"doorsill/internal/history"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/seal"
	"doorsill/internal/signing"
	"doorsill/internal/store"
	"doorsill/internal/tablettest"
	"doorsill/internal/validation"
)

// signer is what the tablet signs with, nil where its app does not.
func (t *tablet) signer() *tablettest.Signer {
	if t.unsigned {
		return nil
	}
	return t.disk.key
}

// registerKey tells the server the public half, unless it has it; see
// tablet-key.ts. What it refuses is left to the push that follows.
func (t *tablet) registerKey() error {
	key, log := t.signer(), t.disk.log
	if key == nil || t.disk.registered != nil && *t.disk.registered == log {
		return nil
	}
	body, err := json.Marshal(map[string]string{"algorithm": key.Algorithm, "public": key.Public,
		"proof": key.Sign(signing.KeyStatement(t.disk.tablet, key.Key))})
	t.w.must(err)
	status, _, err := t.ask("PUT", "/api/v1/tablets/"+t.disk.tablet+"/key", "application/json", body)
	var p *problem
	switch {
	case errors.As(err, &p) && p.code == "refused":
		return nil
	case status == http.StatusNoContent:
		t.disk.registered = &log
	}
	return err
}

// signatureOf signs a push by its first line; empty where the app does not.
func (t *tablet) signatureOf(push []byte) string {
	if t.signer() == nil {
		return ""
	}
	first, _, _ := bytes.Cut(push, []byte("\n"))
	return t.signer().Sign(signing.PushStatement(first))
}

// forgery is an entry in a person's name that none of their tablets wrote.
type forgery struct {
	// log is the one whose server said last that it keeps the entry.
	log string
	// confirmed says that the author may have said that it is theirs, and counted
	// is the log that gave it a place then.
	confirmed bool
	counted   string
}

// forgeFile has somebody inside, who knows the ids, write entries in another
// person's name and hand them in: unsigned, or signed with a key of their own.
func forgeFile(w *world, t *tablet) {
	_, visits := t.subjects()
	if len(w.files) > 0 && w.one(4) {
		w.bring(pick(w, w.files))
		return
	}
	if len(visits) == 0 {
		return
	}
	from, count := w.ackOf(t.disk.tablet)+1, 1+w.rng.IntN(3)
	if w.one(4) {
		from = max(1, from-1)
	}
	var lines []byte
	for i := range count {
		lines = append(append(lines, w.forgedLine(t, pick(w, visits), from+int64(i), t.answer())...), '\n')
	}
	e := w.sealed(t, from, lines)
	switch {
	case w.mut == keyStolen:
		e.Signature = t.disk.key.Sign(e.Statement())
	case w.one(2):
		e.Signature = tablettest.NewSigner("somebody inside").Sign(e.Statement())
	}
	w.note("somebody forges %d entries of %s from %d on, signed %v", count, t.disk.tablet, from, e.Signature != "")
	w.bring(e)
}

// forgedLine is an entry in a tablet's name that it did not write.
func (w *world) forgedLine(t *tablet, visit string, n int64, answer model.AnswerGiven) []byte {
	content, err := json.Marshal(answer)
	w.must(err)
	line := lineOf(w, model.Event{Tablet: t.disk.tablet, N: n, Kind: model.KindAnswerGiven, Subject: visit, Author: t.person,
		At: t.now(), Zone: t.zone, Schema: model.SchemaNow, Body: content})
	w.forged[string(line)] = &forgery{}
	return line
}

// forgedFile is a file with one such entry.
func (w *world) forgedFile(t *tablet, visit string, n int64, level string) (file seal.Envelope, line string) {
	forged := w.forgedLine(t, visit, n, pelvis(level))
	return w.sealed(t, n, append(slices.Clone(forged), '\n')), string(forged)
}

// comeInFile has a tablet put what waits into a file, which is handed in.
func comeInFile(w *world, t *tablet) {
	b := t.nextBatch(10, false)
	if len(b.lines) == 0 || t.impostor {
		return
	}
	e := w.sealed(t, b.from, append(bytes.Join(b.lines, []byte("\n")), '\n'))
	if key := t.signer(); key != nil {
		e.Signature = key.Sign(e.Statement())
	}
	w.note("%s: what waits from %d on comes in a file", t.label, b.from)
	w.bring(e)
}

func (w *world) sealed(t *tablet, from int64, lines []byte) seal.Envelope {
	key, err := seal.ReadKey(w.server.dir)
	w.must(err)
	h := seal.Header{Tablet: t.disk.tablet, Person: t.person, From: from, To: from + int64(bytes.Count(lines, []byte("\n"))) - 1}
	e, err := seal.Seal(key.Public(), h, lines)
	w.must(err)
	return e
}

// bring hands a file in, as the command does.
func (w *world) bring(e seal.Envelope) {
	w.files = append(w.files, e)
	who, err := w.server.app.Accounts.OnBehalf(w.t.Context(), account.Console(), e.Person)
	w.must(err)
	answer, err := w.server.app.Envelopes.Import(w.t.Context(), who, e)
	if refused := (*intake.PushError)(nil); errors.As(err, &refused) {
		w.note("the file is refused: %s", refused.Code)
		return
	}
	w.must(err)
	key, err := seal.ReadKey(w.server.dir)
	w.must(err)
	lines, err := key.Open(e)
	w.must(err)
	for i, line := range bytes.Split(bytes.TrimSuffix(lines, []byte("\n")), []byte("\n")) {
		if f := w.forged[string(line)]; f != nil && i < len(answer.Verdicts) {
			f.log = answer.Log
		}
	}
}

func (w *world) ackOf(tablet string) (ack int64) {
	w.server.view(func(r store.Reader) error {
		t, err := r.Tablet(tablet)
		ack = t.Ack
		if errors.Is(err, store.ErrNotFound) {
			return nil
		}
		return err
	})
	return ack
}

// unsignedOf is what came unsigned in the name of a tablet and waits for its
// author, by number.
func (w *world) unsignedOf(tablet string) (list []store.Quarantined) {
	w.server.view(func(r store.Reader) error {
		all, err := r.QuarantinedOf(store.QuarantineFilter{Tablet: tablet, Open: true})
		for _, q := range all {
			if q.Code == validation.CodeUnsigned {
				q.Raw = slices.Clone(q.Raw)
				list = append(list, q)
			}
		}
		return err
	})
	slices.SortStableFunc(list, func(a, b store.Quarantined) int { return int(a.N - b.N) })
	return list
}

// confirm has a person say that the first entries of what came unsigned are
// theirs. Now and then a colleague tries so before.
func confirm(w *world, t *tablet) {
	list := w.unsignedOf(t.disk.tablet)
	if len(list) == 0 {
		return
	}
	list = list[:1+w.rng.IntN(len(list))]
	if other := pick(w, w.tablets); other.person != t.person && other.confirmed(list) == nil {
		w.doubt("%s confirmed what was written in the name of %s", other.person, t.person)
	}
	for _, q := range list {
		if f := w.forged[string(q.Raw)]; f != nil {
			f.confirmed = true
		}
	}
	w.net.forecast = []weather{pick(w, []weather{fair, fair, sendTwice, loseAnswer})}
	err := t.confirmed(list)
	w.net.forecast = nil
	if mustSignIn(err) && t.signIn() == nil {
		err = t.confirmed(list)
	}
	w.note("%s: confirms %d entries of %s from %d on: %v", t.label, len(list), t.disk.tablet, list[0].N, err)
}

// confirmed asks for quarantined entries to be taken in.
func (t *tablet) confirmed(list []store.Quarantined) error {
	ids := make([]string, len(list))
	for i, q := range list {
		ids[i] = fmt.Sprint(q.ID)
	}
	body, err := json.Marshal(map[string]any{"entries": ids})
	t.w.must(err)
	status, answer, err := t.ask("POST", "/api/v1/quarantine/confirm", "application/json", body)
	if err != nil {
		return err
	}
	var got pushAnswer
	if json.Unmarshal(answer, &got) != nil || status != http.StatusOK || got.Log == nil {
		return &problem{code: "refused", status: status}
	}
	for i, v := range got.Verdicts {
		if f := t.w.forged[string(list[i].Raw)]; f != nil && v.Verdict != intake.Quarantined {
			f.counted = *got.Log
		}
	}
	return nil
}

// impersonate has another device take a tablet's name and go on from a copy of
// its rows, with a key of its own or without one.
func impersonate(w *world, t *tablet) {
	if w.has.restores || t.unsigned || t.impostor || len(w.tablets) > 6 || !w.registered(t) {
		return // of a tablet that the server does not know by a key, whoever comes first is it
	}
	w.takesNameOf(t, w.one(3))
}

func (w *world) takesNameOf(t *tablet, unsigned bool) *tablet {
	twin := *t
	twin.recorder, twin.impostor, twin.unsigned = nil, true, unsigned
	twin.disk, twin.label = t.disk.clone(), fmt.Sprintf("%s-impostor%d", t.label, len(w.tablets))
	twin.disk.key, twin.disk.registered = tablettest.NewSigner("key of "+twin.label), nil
	w.tablets = append(w.tablets, &twin)
	w.seen.Add(history.Exchange{Client: twin.label, CopyOf: t.label})
	w.note("%s: its name is taken by %s at number %d", t.label, twin.label, t.disk.n)
	return &twin
}

// registered says whether the server knows a tablet by its key.
func (w *world) registered(t *tablet) (is bool) {
	w.server.view(func(r store.Reader) error {
		known, err := r.Tablet(t.disk.tablet)
		is = err == nil && known.Key != nil && known.Key.Public == t.disk.key.Public
		return nil
	})
	return is
}

// onlyTheirs: what somebody else wrote counts once its author has confirmed it, not
// before and not again; what a device sent that took a name was not taken in.
func onlyTheirs(w *world, v *serverState) error {
	var bad []error
	for _, line := range slices.Sorted(maps.Keys(w.forged)) {
		f, placed := w.forged[line], v.lines[line]
		switch {
		case placed > 0 && !f.confirmed:
			bad = append(bad, fmt.Errorf("nobody confirmed %s, and it counts", line))
		case placed != 1 && f.counted == v.log:
			bad = append(bad, fmt.Errorf("confirmed, and %d times in the log: %s", placed, line))
		case placed == 0 && v.quarantined[line] == 0 && f.log == v.log:
			bad = append(bad, fmt.Errorf("was handed in, and is gone: %s", line))
		}
	}
	for _, e := range w.said {
		for line := range e.lines {
			if e.impostor && v.lines[line]+v.quarantined[line] > 0 {
				bad = append(bad, fmt.Errorf("was taken in, and another key signed it: %s", line))
			}
		}
	}
	return errors.Join(bad...)
}
