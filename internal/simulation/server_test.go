package simulation

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/server"
)

const password = "seven loose cobblestones"

// errPower is what a store says after the power went.
var errPower = errors.New("the power is gone")

// ground is what all runs begin with: records with people, but no clients.
type ground struct{ template []byte }

func newGround(t testing.TB) *ground {
	t.Helper()
	path := filepath.Join(t.TempDir(), server.RecordsFile)
	db, err := bolt.Open(path, bolt.Options{NoSync: true, Random: strings.NewReader("the first log id")})
	if err != nil {
		t.Fatal(err)
	}
	hasher, err := account.NewHasher(cheap(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	hash, err := hasher.Hash(t.Context(), password)
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(t.Context(), func(w store.Writer) error {
		err := errors.Join(w.SetTeam(store.Team{ID: north, Name: "North"}), w.SetTeam(store.Team{ID: south, Name: "South"}))
		for _, p := range people() {
			err = errors.Join(err,
				w.SetPerson(store.Person{ID: p.id, Name: "Invented " + p.id, Login: p.id, Hash: hash, Active: true, Created: "2026-01-05T08:00:00.000Z"}),
				w.SetMembership(store.Membership{Person: p.id, Team: p.team, Role: p.role}))
		}
		return err
	})
	var template bytes.Buffer // shorter than the file, which has room to grow
	_, copying := db.WriteTo(&template)
	if err = errors.Join(err, copying, db.Close()); err != nil {
		t.Fatal(err)
	}
	return &ground{template: template.Bytes()}
}

func cheap() account.Cost { return account.Cost{MemoryKiB: 8, Passes: 1, Lanes: 1} }

// service is the server under test: the real handler over the real store. What
// a crash takes is everything in memory; what was committed is in the file.
type service struct {
	w    *world
	dir  string
	app  *server.App
	file *unsure
	// backups are copies of the file, oldest first.
	backups [][]byte
	// taken is when each of them was.
	taken map[int]time.Time
	logs  int
}

func (g *ground) serve(w *world) *service {
	s := &service{w: w, dir: quickDir(w.t), taken: map[int]time.Time{}}
	w.must(os.WriteFile(s.path(), g.template, 0o600))
	s.start()
	return s
}

// quickDir is a folder in memory where the machine has one: the store waits for
// the disk whenever its file grows.
func quickDir(t testing.TB) string {
	if dir, err := os.MkdirTemp("/dev/shm", "doorsill-"); err == nil {
		return dir
	}
	dir, err := os.MkdirTemp("", "doorsill-")
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

func (s *service) path() string { return filepath.Join(s.dir, server.RecordsFile) }

func (s *service) start() {
	app, err := server.Open(s.dir, server.Options{
		Now: s.w.serverNow, NoSync: true, PasswordCost: cheap(), PushesPerSecond: 1e6,
		Files: fstest.MapFS{"index.html": {Data: []byte("<!doctype html>")}},
		Wrap: func(below store.Store) store.Store {
			s.file = &unsure{Store: below, w: s.w}
			return s.file
		},
	})
	s.w.must(err)
	s.app = app
}

func (s *service) stop() { s.w.must(s.app.Close()) }

// end ends the service for good.
func (s *service) end() {
	s.stop()
	s.w.must(os.RemoveAll(s.dir))
}

// restart ends the process and begins another one on the same file.
func (s *service) restart() {
	s.stop()
	s.start()
}

// backup keeps a copy of the file as it is.
func (s *service) backup() {
	var copied bytes.Buffer
	_, err := s.file.Store.(*bolt.DB).WriteTo(&copied)
	s.w.must(err)
	s.taken[len(s.backups)] = s.w.clock
	s.backups = append(s.backups, copied.Bytes())
	s.w.note("server: backup %d at position %d", len(s.backups), s.head())
}

// restore puts an older copy in place, under a new log id. As the command does, it
// leaves nothing of the folder that was there: an older file is refused beside what
// was noted of a newer one.
func (s *service) restore(backup []byte) {
	lost := s.head()
	s.stop()
	s.w.must(os.Remove(s.path() + ".commit"))
	s.w.must(os.WriteFile(s.path(), backup, 0o600))
	s.start()
	s.logs++
	if s.w.mut != restoreKeepsLog {
		s.set(func(w store.Writer) error { return w.SetLogID(fmt.Sprintf("log-%d", s.logs)) })
	}
	s.w.note("server: RESTORED, from position %d back to %d", lost, s.head())
}

// set changes something as an administrator would, without faults.
func (s *service) set(fn func(store.Writer) error) {
	s.w.must(s.file.Store.Update(context.Background(), fn))
}

func (s *service) view(fn func(store.Reader) error) {
	s.w.must(s.file.Store.View(context.Background(), fn))
}

func (s *service) head() (head int64) {
	s.view(func(r store.Reader) (err error) { head, err = r.Head(); return err })
	return head
}

// serve answers one request; false when the server died over it, so that
// nothing is answered.
func (s *service) serve(r *http.Request) (*httptest.ResponseRecorder, bool) {
	answer := httptest.NewRecorder()
	s.app.Handler.ServeHTTP(answer, r)
	if s.file.dead {
		s.w.note("server: CRASHED, and starts again at position %d", s.head())
		s.restart()
		return nil, false
	}
	return answer, true
}

// unsure is a store that can fail at a commit.
type unsure struct {
	store.Store
	w    *world
	plan []commitFault
	dead bool
}

// commitFault is what happens to one commit.
type commitFault int

const (
	commitWell  commitFault = iota
	diskFull                // nothing is written, the server goes on
	crashBefore             // the power goes before the commit
	crashAfter              // the power goes after it, before anybody hears of it
)

func (u *unsure) View(ctx context.Context, fn func(store.Reader) error) error {
	if u.dead {
		return errPower
	}
	if u.w.mut == anyKeyCounts {
		below := fn
		fn = func(r store.Reader) error { return below(keylessReader{r}) }
	}
	return u.Store.View(ctx, fn)
}

func (u *unsure) Update(ctx context.Context, fn func(store.Writer) error) error {
	fault := commitWell
	if len(u.plan) > 0 {
		fault, u.plan = u.plan[0], u.plan[1:]
	}
	if u.dead {
		return errPower
	}
	switch fault {
	case diskFull, crashBefore:
		u.dead = fault == crashBefore
		return u.swallowed(ctx, func(w store.Writer) error { return errors.Join(fn(w), io.ErrShortWrite) })
	case crashAfter:
		err := u.Store.Update(ctx, fn)
		u.dead = true
		return errors.Join(err, errPower)
	}
	return u.Store.Update(ctx, u.lied(fn))
}
