package server

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/account"
	"doorsill/internal/caseload"
	"doorsill/internal/model"
	"doorsill/internal/seal"
	"doorsill/internal/store"
)

// TestFlippedBitsWhileServing flips one bit in the pages of a file that a server
// has open, and asks it what people and tablets ask. Each answer must be the one
// that it gave before, or say that it can not be given, or say of a result that
// there is none to be relied on. What was acknowledged must be there for whoever
// opens the file afterwards, or the file must be refused.
//
// FLIPS sets how many are tried.
func TestFlippedBitsWhileServing(t *testing.T) {
	f := newFlipped(t)
	pages := usedPages(t, f.path())
	tries := 150
	if n, err := strconv.Atoi(os.Getenv("FLIPS")); err == nil {
		tries = n
	}
	seed := rand.Uint64()
	random := rand.New(rand.NewPCG(seed, 2))
	count := map[string]int{}
	for range tries {
		at := int64(pages[random.IntN(len(pages))]*os.Getpagesize() + random.IntN(os.Getpagesize()))
		f.try(at, byte(1)<<random.IntN(8), count)
	}
	t.Logf("seed %d, %d flips: %d answers as before, %d refused, %d results said to be unscored, %d pushes set aside, %d files refused afterwards",
		seed, tries, count["same"], count["refused"], count["unscored"], count["aside"], count["closed"])
	if count["refused"] == 0 || count["same"] == 0 {
		t.Error("nothing was damaged, or all was")
	}
}

// flipped is the file of a service, what is asked of it, and the right answers.
type flipped struct {
	*testing.T
	site *site
	data []byte
	dir  string
	// next is the number of the tablet's next event.
	next      int64
	questions []question
	push      question
	// visitRead asks for the visit that the push is about.
	visitRead question
	// before and after are the right answers to each while the last entry was not
	// pushed, and once it was.
	before, after []string
	// log is the whole log before anything was pushed, and once all was asked.
	log [2]string
	// results are the places of the file from which visits' results are read.
	results resultPlaces
}

type question struct{ who, method, path, body string }

func newFlipped(t *testing.T) *flipped {
	t.Helper()
	f := &flipped{T: t, site: openSite(t, Options{})}
	f.site.fill(t)
	f.fillMore()
	for _, who := range []string{assistant, clinician, lead, otherLead, admin} {
		f.site.cookieOf(t, who)
	}
	var data bytes.Buffer
	err := f.site.Store.(store.Copier).Copy(func(c store.Copy) error { _, err := c.WriteTo(&data); return err })
	if err != nil {
		t.Fatal(err)
	}
	f.data = data.Bytes()
	f.results = findResults(t, f.data)
	f.ask()
	return f
}

// fillMore adds clients, visits and what is set aside, so that the lists of the
// file are trees of pages.
func (f *flipped) fillMore() {
	s, n := f.site, int64(4)
	for i := range 12 {
		client, visit := fmt.Sprintf("%032x", 0xc000+i), fmt.Sprintf("%032x", 0xd000+i)
		started := s.visitStarted()
		started.Client = client
		lines := [][]byte{
			s.event(f.T, n, model.KindClientOpened, client, model.ClientOpened{
				Team: s.north, Ref: fmt.Sprintf("R-%d", i), Name: secretName, Referred: "2026-01-05", Priority: "soon", Course: "stable"}),
			s.event(f.T, n+1, model.KindVisitStarted, visit, started),
			s.event(f.T, n+2, model.KindAnswerGiven, visit, model.AnswerGiven{Item: "pos-pelvis", State: model.StateNotTested, Note: "next time"}),
			s.event(f.T, n+3, model.KindAnswerGiven, visit, model.AnswerGiven{Item: "no-such-item", State: model.StateAnswered, Level: "3"}),
		}
		s.push(f.T, clinician, n, lines...)
		n += int64(len(lines))
	}
	f.next = n
}

// ask makes the questions, and asks them of a file that is in order.
func (f *flipped) ask() {
	s := f.site
	visit, client := fmt.Sprintf("%032x", 0xd005), fmt.Sprintf("%032x", 0xc005)
	push := pushBody(s.tablet, f.next, s.event(f.T, f.next, model.KindAnswerGiven, visit, model.AnswerGiven{
		Item: "pos-pelvis", State: model.StateNotTested, Note: "at last"}))
	f.push = question{clinician, "POST", pushPath, push}
	f.visitRead = question{clinician, "GET", "/api/v1/visits/" + visit, ""}
	north := "/api/v1/teams/" + s.north
	f.questions = []question{
		{clinician, "GET", "/api/v1/session", ""},
		{assistant, "GET", north + "/events?after=0", ""},
		{assistant, "GET", north + "/events?after=17&limit=9", ""},
		{otherLead, "GET", "/api/v1/teams/" + s.south + "/events?after=0", ""},
		{lead, "GET", north + "/caseload?sort=name", ""},
		{lead, "GET", "/api/v1/clients/" + client, ""},
		f.visitRead,
		{lead, "GET", north + "/quarantine", ""},
		{lead, "GET", north + "/tablets", ""},
		{clinician, "GET", "/api/v1/people/" + s.ids[clinician] + "/tablets", ""},
		{admin, "GET", "/api/v1/people", ""},
		{admin, "GET", "/api/v1/teams", ""},
		{lead, "GET", "/api/v1/sessions", ""},
		f.push,
		{assistant, "GET", north + "/events?after=38", ""},
		f.visitRead,
		f.push,
		{lead, "GET", "/api/v1/visits/" + s.visit, ""},
	}
	f.dir = f.TempDir()
	key, err := s.organisation.PEM()
	if err := errors.Join(err, os.WriteFile(filepath.Join(f.dir, seal.KeyFile), key, 0o600), f.open().Close()); err != nil {
		f.Fatal(err)
	}
	f.log[0] = f.afterwards()
	app := f.open()
	read := func(q question) string {
		got := f.send(app, q)
		if got.Code != http.StatusOK {
			f.Fatalf("%s %s: %d %s", q.method, q.path, got.Code, got.Body)
		}
		return got.Body.String()
	}
	for _, q := range f.questions {
		if q.method == "GET" {
			f.before = append(f.before, read(q))
		} else {
			f.before = append(f.before, "")
		}
	}
	first := read(f.push)
	for i, q := range f.questions {
		f.after = append(f.after, read(q))
		if q.method == "POST" {
			f.before[i] = first
		}
	}
	if err := app.Close(); err != nil {
		f.Fatal(err)
	}
	f.log[1] = f.afterwards()
}

func (f *flipped) path() string { return filepath.Join(f.dir, RecordsFile) }

// open opens a new copy of the file. A server that gave up may still have the last.
func (f *flipped) open() *App {
	f.Helper()
	_ = os.Remove(f.path() + ".commit") // there is none at first
	_ = os.Remove(f.path())
	if err := os.WriteFile(f.path(), f.data, 0o600); err != nil {
		f.Fatal(err)
	}
	app, err := f.reopen()
	if err != nil {
		f.Fatal(err)
	}
	return app
}

func (f *flipped) reopen() (*App, error) { return Open(f.dir, f.options()) }

func (f *flipped) options() Options {
	return Options{Now: f.site.clock.Now, NoSync: true, Files: bundle(), PasswordCost: account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}}
}

func (f *flipped) send(app *App, q question) reply {
	return (&site{App: app}).send(f.site.request(q.method, q.path, q.body, f.site.session[q.who]))
}

// afterwards is the whole log as a team pulls it once the file is opened again,
// empty when it is refused.
func (f *flipped) afterwards() string {
	app, err := f.reopen()
	if err != nil {
		return ""
	}
	defer app.Close()
	got := f.send(app, question{assistant, "GET", "/api/v1/teams/" + f.site.north + "/events?after=0", ""})
	if got.Code != http.StatusOK {
		return ""
	}
	return got.Body.String()
}

// usedPages are the numbers of the pages of a file that hold something.
func usedPages(t *testing.T, path string) (pages []int) {
	t.Helper()
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{ReadOnly: true, PreLoadFreelist: true})
	if err != nil {
		t.Fatal(err)
	}
	err = db.View(func(tx *bbolt.Tx) error {
		for id := 0; ; id++ {
			page, err := tx.Page(id)
			if page == nil || err != nil {
				return err
			}
			if page.Type == "free" {
				continue // what it says is of another time
			}
			for i := range page.OverflowCount + 1 {
				pages = append(pages, id+i)
			}
			id += page.OverflowCount
		}
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	return pages
}

// try flips one bit of a file that is being served, and counts what is answered.
func (f *flipped) try(at int64, bit byte, count map[string]int) {
	app := f.open()
	where := fmt.Sprintf("byte %d bit %08b", at, bit)
	f.flip(f.path(), at, bit)
	stored := pushedNot
	for i, q := range f.questions {
		got := f.send(app, q)
		body := got.Body.String()
		was := stored
		if q.method == "POST" {
			stored = stored.then(got.Code)
			where += fmt.Sprintf(", a push is answered with %d", got.Code)
		} else if got.Code == http.StatusOK {
			stored = stored.seen(f.before[i], f.after[i], body)
			was = stored
		}
		if got.Code != http.StatusOK {
			count["refused"]++
			continue
		}
		visit, isVisit := strings.CutPrefix(q.path, "/api/v1/visits/")
		right := was.right(f.before[i], f.after[i])
		switch unscored := func(right string) bool { return sameButUnscored(body, right) }; {
		case slices.Contains(right, body):
			count["same"]++
		case q.method == "POST" && strings.Contains(body, `"code":"unreadable"`) && f.send(app, f.visitRead).Code != http.StatusOK:
			count["aside"]++
			stored = was // kept, but not in the log
		case isVisit && slices.ContainsFunc(right, unscored) && f.results.of(at, visit):
			count["unscored"]++
		default:
			f.Errorf("%s: %s %s answers\n%s\nand should answer\n%s", where, q.method, q.path, body, strings.Join(right, "\nor "))
		}
	}
	closed := app.Close()
	switch after := f.afterwards(); {
	case after == "":
		count["closed"]++
	case after != f.log[1] && (stored == pushedAll || after != f.log[0]):
		f.Errorf("%s: what was acknowledged is not there (closed with %v)", where, closed)
	}
}

// pushed is what is known of the entry that was pushed. A push that is refused,
// because no line of the audit trail could be written for the answer, may have
// been stored: nothing was acknowledged, and the tablet sends it again. Once the
// entry was seen, or acknowledged, it stays.
type pushed int

const (
	pushedNot pushed = iota
	pushedPerhaps
	pushedAll
)

func (p pushed) then(status int) pushed {
	if status == http.StatusOK {
		return pushedAll
	}
	return max(p, pushedPerhaps)
}

// seen takes in an answer, which may be one that tells whether the entry is there.
func (p pushed) seen(before, after, body string) pushed {
	switch {
	case p != pushedPerhaps || before == after:
		return p
	case body == after:
		return pushedAll
	case body == before:
		return pushedNot
	}
	return p
}

// right are the answers that are right, of those before the push and after it.
func (p pushed) right(before, after string) []string {
	switch p {
	case pushedNot:
		return []string{before}
	case pushedAll:
		return []string{after}
	}
	return []string{before, after}
}

// sameButUnscored says whether an answer about a visit says all of another but
// the result, and of that one that there is none to be relied on.
func sameButUnscored(body, right string) bool {
	var one, other VisitAnswer
	if json.Unmarshal([]byte(body), &one) != nil || json.Unmarshal([]byte(right), &other) != nil || !one.Unscored || one.Scored != nil {
		return false
	}
	other.Unscored, other.Scored = true, nil
	return reflect.DeepEqual(one, other)
}

func (f *flipped) flip(path string, at int64, bit byte) {
	f.Helper()
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		f.Fatal(err)
	}
	var one [1]byte
	_, err = file.ReadAt(one[:], at)
	one[0] ^= bit
	_, err2 := file.WriteAt(one[:], at)
	if err := errors.Join(err, err2, file.Close()); err != nil {
		f.Fatal(err)
	}
}

// health is what /healthz says, and with which status.
func (s *site) health() string {
	got := s.send(s.request("GET", "/healthz", "", nil))
	return strconv.Itoa(got.Code) + " " + strings.TrimSpace(got.Body.String())
}

// editRecords changes a file that nobody has open without the store.
func editRecords(t *testing.T, path string, fn func(tx *bbolt.Tx) error) {
	t.Helper()
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(db.Update(fn), db.Close()); err != nil {
		t.Fatal(err)
	}
}

// spoil changes a byte of the value under the last key of a list.
func spoil(list string) func(tx *bbolt.Tx) error {
	return func(tx *bbolt.Tx) error {
		key, value := tx.Bucket([]byte(list)).Cursor().Last()
		value = bytes.Clone(value)
		value[len(value)/2] ^= 1
		return tx.Bucket([]byte(list)).Put(bytes.Clone(key), value)
	}
}

// TestAServerWithDamagedRecordsStarts and says what is wrong: to whoever watches
// it, in its log, and beside the clients that are concerned. What can be made anew
// from the log is.
func TestAServerWithDamagedRecordsStarts(t *testing.T) {
	f := newFlipped(t)
	for _, tt := range []struct {
		name   string
		damage func(tx *bbolt.Tx) error
		health string
		logged string
		// total is how many clients the lead sees, of whom unscored are marked.
		total, unscored int
		push            int
	}{
		{"nothing", func(*bbolt.Tx) error { return nil }, `200 {"status":"ok"}`, "", 13, 0, http.StatusOK},
		{"the end of the log", spoil("log"), `503 {"status":"damaged"}`, "nothing can be taken in", 13, 0, http.StatusInternalServerError},
		{"the end of the trail", spoil("audit"), `503 {"status":"damaged"}`, "the audit trail is damaged", -1, 0, http.StatusInternalServerError},
		{"a line of the caseload", spoil("summaries"), `200 {"status":"ok"}`, "lines of the caseload are damaged", 13, 0, http.StatusOK},
		{"the key of a line", func(tx *bbolt.Tx) error {
			key, _ := tx.Bucket([]byte("summaries")).Cursor().Last()
			return tx.Bucket([]byte("summaries")).Delete(bytes.Clone(key))
		}, `200 {"status":"ok"}`, "lines of the caseload are damaged", 13, 1, http.StatusOK},
		{"a session of somebody else", spoilSession(f.site, otherLead), `200 {"status":"ok"}`, "", 13, 0, http.StatusOK},
	} {
		if err := f.open().Close(); err != nil {
			t.Fatal(err)
		}
		editRecords(t, f.path(), tt.damage)
		var log bytes.Buffer
		o := f.options()
		o.Log = slog.New(slog.NewTextHandler(&log, nil))
		app, err := Open(f.dir, o)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if logged := log.String(); !strings.Contains(logged, tt.logged) || tt.logged == "" && logged != "" {
			t.Errorf("%s: logged %q", tt.name, logged)
		}
		if got := (&site{App: app, clock: f.site.clock}).health(); got != tt.health {
			t.Errorf("%s: healthz says %s", tt.name, got)
		}
		got := f.send(app, question{lead, "GET", "/api/v1/teams/" + f.site.north + "/caseload?status=any", ""})
		var page caseload.Page
		if tt.total >= 0 {
			got.into(t, &page)
		} else if got.Code == http.StatusOK {
			t.Errorf("%s: %s is answered without a trace", tt.name, got.Body)
		}
		unscored := 0
		for _, row := range page.Rows {
			unscored += row.Unscored
		}
		if page.Total != max(0, tt.total) || unscored != tt.unscored {
			t.Errorf("%s: %d clients, %d marked", tt.name, page.Total, unscored)
		}
		if got := f.send(app, f.push); got.Code != tt.push {
			t.Errorf("%s: a push is answered with %d %s", tt.name, got.Code, got.Body)
		}
		if err := app.Close(); err != nil {
			t.Error(err)
		}
	}
}

// spoilSession changes a byte of somebody's session.
func spoilSession(s *site, who string) func(tx *bbolt.Tx) error {
	return func(tx *bbolt.Tx) error {
		sessions := tx.Bucket([]byte("sessions"))
		var of []byte
		_ = sessions.ForEach(func(key, value []byte) error {
			if bytes.Contains(value, []byte(s.ids[who])) {
				of = bytes.Clone(key)
			}
			return nil
		})
		value := bytes.Clone(sessions.Get(of))
		value[5] ^= 1
		return sessions.Put(of, value)
	}
}

// spoilResult changes a byte in the middle of a visit's result.
func spoilResult(visit string) func(tx *bbolt.Tx) error {
	return func(tx *bbolt.Tx) error {
		results := tx.Bucket([]byte("results"))
		value := bytes.Clone(results.Get([]byte(visit)))
		value[len(value)/2] ^= 1
		return results.Put([]byte(visit), value)
	}
}
