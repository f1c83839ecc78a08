package intake_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/store/storetest"
)

// service is a store with two teams, north and south, and an intake.
type service struct {
	testing.TB
	store  store.Store
	intake *intake.Intake
	older  *checklist.Definition
	// minutes is how far the clock has gone.
	minutes atomic.Int64
}

// opened is when the service's clock starts.
func opened() time.Time { return time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC) }

func (h *service) now() time.Time {
	return opened().Add(time.Duration(h.minutes.Load()) * time.Minute)
}

func newService(t testing.TB) *service { return newServiceAt(t, bolt.Options{NoSync: true}) }

func newServiceAt(t testing.TB, options bolt.Options) *service {
	t.Helper()
	db, err := bolt.Open(filepath.Join(t.TempDir(), "records.db"), options)
	if err != nil {
		t.Fatal(err)
	}
	h := &service{TB: t, store: db, older: olderChecklist(t)}
	h.intake = intake.New(db, append(authoring.StandardVersions(), h.older), h.now)
	storetest.Watch(t, db)
	t.Cleanup(h.intake.Close)
	h.update(func(w store.Writer) error {
		err := errors.Join(w.SetTeam(store.Team{ID: "north", Name: "North"}), w.SetTeam(store.Team{ID: "south", Name: "South"}))
		for _, m := range []store.Membership{
			{Person: "marit", Team: "north", Role: model.RoleClinician},
			{Person: "davit", Team: "north", Role: model.RoleClinician},
			{Person: "lena", Team: "north", Role: model.RoleLead},
			{Person: "ansel", Team: "north", Role: model.RoleAssistant},
			{Person: "sora", Team: "south", Role: model.RoleClinician},
		} {
			err = errors.Join(err, w.SetMembership(m))
		}
		return err
	})
	return h
}

// olderChecklist is the standard one before a question was renamed.
func olderChecklist(t testing.TB) *checklist.Definition {
	t.Helper()
	data := string(authoring.Standard().Raw())
	data = strings.Replace(data, `"version": "`+authoring.Standard().Version+`"`, `"version": "2025.9"`, 1)
	data = strings.ReplaceAll(data, `"pos-pelvis"`, `"pos-hips"`)
	list, err := authoring.Parse("older.json", []byte(data))
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func (h *service) update(fn func(store.Writer) error) {
	h.Helper()
	if err := h.store.Update(context.Background(), fn); err != nil {
		h.Fatal(err)
	}
}

func (h *service) view(fn func(store.Reader) error) {
	h.Helper()
	if err := h.store.View(context.Background(), fn); err != nil {
		h.Fatal(err)
	}
}

// caller is a person with their roles.
func caller(person string) account.Caller {
	teams := map[string]map[string]string{
		"marit": {"north": model.RoleClinician},
		"davit": {"north": model.RoleClinician},
		"lena":  {"north": model.RoleLead},
		"ansel": {"north": model.RoleAssistant},
		"sora":  {"south": model.RoleClinician},
	}
	return account.Caller{Person: person, Name: person, Teams: teams[person]}
}

// tablet is a tablet as a test drives it: it keeps what it wrote.
type tablet struct {
	*service
	id, person string
	log        string
	lines      [][]byte
	sent       int64
	seen       int64
}

func (h *service) tablet(id, person string) *tablet {
	h.Helper()
	h.update(func(w store.Writer) error { return w.SetTablet(store.Tablet{ID: id, Person: person, Label: "case"}) })
	return &tablet{service: h, id: id, person: person}
}

// event makes the next event of the tablet.
func (t *tablet) event(kind, subject string, body any) model.Event {
	t.Helper()
	content, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	return model.Event{
		Tablet: t.id, N: int64(len(t.lines)) + 1, Kind: kind, Subject: subject, Author: t.person,
		At: t.now().UTC().Format(store.TimeLayout), Zone: "Europe/Dublin", Schema: 1, Seen: t.seen, Body: content,
	}
}

// write keeps an event on the tablet.
func (t *tablet) write(kind, subject string, body any) model.Ref {
	t.Helper()
	event := t.event(kind, subject, body)
	line, err := json.Marshal(event)
	if err != nil {
		t.Fatal(err)
	}
	t.lines = append(t.lines, line)
	return event.Ref()
}

// body makes the bytes of a push of lines.
func pushOf(log, tablet string, from int64, lines [][]byte, change ...func(*intake.Header)) *bytes.Buffer {
	var rest bytes.Buffer
	for _, line := range lines {
		rest.Write(line)
		rest.WriteByte('\n')
	}
	sum := sha256.Sum256(rest.Bytes())
	head := intake.Header{Log: log, Tablet: tablet, From: from, Count: len(lines), SHA256: hex.EncodeToString(sum[:])}
	for _, fn := range change {
		fn(&head)
	}
	line, err := json.Marshal(head)
	if err != nil {
		panic(err)
	}
	return bytes.NewBuffer(append(append(line, '\n'), rest.Bytes()...))
}

// send pushes what waits and moves on by the receipt.
func (t *tablet) send() intake.PushAnswer {
	t.Helper()
	answer, err := t.intake.Push(context.Background(), caller(t.person), pushOf(t.log, t.id, t.sent+1, t.lines[t.sent:]))
	if err != nil {
		t.Fatalf("push from %s: %v", t.id, err)
	}
	t.log, t.sent = answer.Log, answer.Ack
	return answer
}

// sendAll pushes and fails the test when something was not stored.
func (t *tablet) sendAll() {
	t.Helper()
	for _, v := range t.send().Verdicts {
		if v.Verdict != intake.Stored {
			t.Fatalf("event %d of %s: %s: %s", v.N, t.id, v.Verdict, v.Hint)
		}
	}
}

func (t *tablet) openClient(id, team string) {
	t.Helper()
	t.write(model.KindClientOpened, id, model.ClientOpened{
		Team: team, Ref: "N-" + id, Name: "Robin " + id, Referred: "2026-02-20", Priority: "soon", Course: "slow",
	})
}

func (t *tablet) startVisit(id, client, team string) {
	t.Helper()
	t.write(model.KindVisitStarted, id, started(authoring.Standard(), client, team))
}

func started(list *checklist.Definition, client, team string) model.VisitStarted {
	return model.VisitStarted{Client: client, Team: team, Unit: "gf",
		Checklist: model.ChecklistRef{ID: list.ID, Version: list.Version, Hash: list.Hash()}}
}

func level(item, level string) model.AnswerGiven {
	return model.AnswerGiven{Item: item, State: model.StateAnswered, Level: level}
}

func force(site, direction string, value float64, unit string) model.ReadingTaken {
	return model.ReadingTaken{What: model.ReadForce, Site: site, Direction: direction, State: "rested", Supported: true, Value: value, Unit: unit}
}

func signature() model.VisitSigned {
	return model.VisitSigned{Level: "practise", Result: strings.Repeat("ab", 32), Name: "Marit Oakes, therapist"}
}

// visit is the visit as the server has it.
func (h *service) visit(id string) (v model.Visit) {
	h.Helper()
	h.view(func(r store.Reader) error {
		entries, err := r.EntriesOfSubject(id)
		logs, bad := r.Logs()
		if err = errors.Join(err, bad); err != nil {
			return err
		}
		v, err = record.FoldVisit(entries, logs)
		return err
	})
	return v
}

func (h *service) summary(client string) (s store.Summary) {
	h.Helper()
	h.view(func(r store.Reader) (err error) { s, err = r.Summary(client); return err })
	return s
}

func (h *service) quarantine(f store.QuarantineFilter) (list []store.Quarantined) {
	h.Helper()
	h.view(func(r store.Reader) (err error) { list, err = r.QuarantinedOf(f); return err })
	return list
}

// visited is a tablet of Marit's that has sent client c1 and visit v1.
func (h *service) visited() *tablet {
	h.Helper()
	marit := h.tablet("tab-m", "marit")
	marit.openClient("c1", "north")
	marit.startVisit("v1", "c1", "north")
	marit.sendAll()
	return marit
}

func verdicts(answer intake.PushAnswer) string {
	var words []string
	for _, v := range answer.Verdicts {
		word := fmt.Sprintf("%d %s", v.N, v.Verdict)
		if v.Code != "" {
			word += " " + v.Code
		}
		words = append(words, word)
	}
	return strings.Join(words, ", ")
}
