package server

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"doorsill/internal/account"
	"doorsill/internal/model"
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
	tries := 150
	if n, err := strconv.Atoi(os.Getenv("FLIPS")); err == nil {
		tries = n
	}
	seed := rand.Uint64()
	random := rand.New(rand.NewPCG(seed, 2))
	count := map[string]int{}
	for range tries {
		at := int64(f.pages[random.IntN(len(f.pages))]*os.Getpagesize() + random.IntN(os.Getpagesize()))
		f.try(at, byte(1)<<random.IntN(8), count)
	}
	t.Logf("seed %d, %d flips: %d answers as before, %d refused, %d results said to be unscored, %d files refused afterwards",
		seed, tries, count["same"], count["refused"], count["unscored"], count["closed"])
	if count["refused"] == 0 || count["same"] == 0 {
		t.Error("nothing was damaged, or all was")
	}
}

// flipped is the file of a service, what is asked of it, and the right answers.
type flipped struct {
	*testing.T
	site  *site
	data  []byte
	pages []int
	dir   string
	// next is the number of the tablet's next event.
	next      int64
	questions []question
	push      question
	// before and after are the right answers to each while the last entry was not
	// pushed, and once it was.
	before, after []string
	// log is the whole log once all was asked.
	log string
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
	north := "/api/v1/teams/" + s.north
	f.questions = []question{
		{clinician, "GET", "/api/v1/session", ""},
		{assistant, "GET", north + "/events?after=0", ""},
		{assistant, "GET", north + "/events?after=17&limit=9", ""},
		{otherLead, "GET", "/api/v1/teams/" + s.south + "/events?after=0", ""},
		{lead, "GET", north + "/caseload?sort=name", ""},
		{lead, "GET", "/api/v1/clients/" + client, ""},
		{clinician, "GET", "/api/v1/visits/" + visit, ""},
		{lead, "GET", north + "/quarantine", ""},
		{lead, "GET", north + "/tablets", ""},
		{clinician, "GET", "/api/v1/people/" + s.ids[clinician] + "/tablets", ""},
		{admin, "GET", "/api/v1/people", ""},
		{admin, "GET", "/api/v1/teams", ""},
		{lead, "GET", "/api/v1/sessions", ""},
		f.push,
		{assistant, "GET", north + "/events?after=40", ""},
		{clinician, "GET", "/api/v1/visits/" + visit, ""},
		f.push,
		{lead, "GET", "/api/v1/visits/" + s.visit, ""},
	}
	f.dir = f.TempDir()
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
	f.log = f.afterwards()
	f.pages = usedPages(f.T, f.path())
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

func (f *flipped) reopen() (*App, error) {
	return Open(f.dir, Options{Now: f.site.clock.Now, NoSync: true, Files: bundle(), PasswordCost: account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}})
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
			for i := range page.OverflowCount + 1 {
				if page.Type != "free" {
					pages = append(pages, id+i)
				}
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
	pushed := false
	for i, q := range f.questions {
		got := f.send(app, q)
		right := f.before[i]
		if pushed {
			right = f.after[i]
		}
		pushed = pushed || q.method == "POST" && got.Code == http.StatusOK
		switch {
		case got.Code != http.StatusOK:
			count["refused"]++
		case got.Body.String() == right:
			count["same"]++
		case strings.Contains(got.Body.String(), `"unscored":true`) && strings.Contains(q.path, "/visits/"):
			count["unscored"]++
		default:
			f.Errorf("%s: %s %s answers\n%s\nand should answer\n%s", where, q.method, q.path, got.Body, right)
		}
	}
	closed := app.Close()
	switch after := f.afterwards(); {
	case after == "":
		count["closed"]++
	case pushed && after != f.log:
		f.Errorf("%s: what was acknowledged is not there (closed with %v)", where, closed)
	}
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
