package server

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net/http"
	"net/netip"
	"os"
	"path/filepath"
	"time"

	"github.com/gorilla/mux"

	"doorsill/embed"
	"doorsill/internal/account"
	"doorsill/internal/agreement"
	"doorsill/internal/audit"
	"doorsill/internal/backup"
	"doorsill/internal/caseload"
	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/seal"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/verify"
	"doorsill/server/provider"
)

// reserved is how many bytes are kept for sessions and the audit trail of a
// server whose disk is full; a line of the trail takes about 400.
const reserved = 16 << 20

// trailChecked is how many lines of the audit trail are checked at the start.
const trailChecked = 1000

// RecordsFile is the name of the store within the data folder.
const RecordsFile = "records.db"

// Options say how a service runs. The zero value serves plain HTTP for
// loopback with the binary's own front end and logs nothing.
type Options struct {
	// Log takes one line a request; nil throws them away.
	Log *slog.Logger
	// Now is the clock; nil takes the machine's.
	Now func() time.Time
	// Secure, Proxies, MetricsToken, Provider, Demo, Times and PushesPerSecond
	// are as in Deps.
	Secure             bool
	Provider           *provider.Provider
	Times              Times
	Proxies            []netip.Prefix
	MetricsToken, Demo string
	PushesPerSecond    float64
	// Names are as in account.Options.
	Names []string
	// Checklists are versions besides those of the standard one. The first of them, if
	// any, is the current one.
	Checklists []*checklist.Definition
	// PasswordCost is for tests and demos; zero takes account.ServerCost.
	PasswordCost account.Cost
	// NoSync does not wait for the disk: a crash then loses records. For
	// tests and demos only.
	NoSync bool
	// Backups says where backups go and who can open them; the zero plan makes
	// none.
	Backups backup.Plan
	// Files replaces the front end in the binary; for tests.
	Files fs.FS
	// UnsignedUntil is when tablets that have no key can no longer send; zero is
	// never.
	UnsignedUntil time.Time
	// Wrap puts a store of its own between the service and its file; for tests
	// of what a failing disk does.
	Wrap func(store.Store) store.Store
}

// App is a running service without a listener. Close it.
type App struct {
	Handler   http.Handler
	Store     store.Store
	Accounts  *account.Service
	Trail     *audit.Trail
	Intake    *intake.Intake
	Records   *caseload.Reader
	Index     *caseload.Index
	Envelopes *intake.Envelopes
	Backups   *backup.Keeper
	// Watch verifies the records while they are served, when it is run.
	Watch *verify.Watch

	checklists   []*checklist.Definition
	organisation *seal.Key
	router       *mux.Router
}

// Open wires a service over the records in a folder, which is made when it is
// missing.
func Open(dataDir string, o Options) (*App, error) {
	o = o.filled()
	db, err := openStore(dataDir, o.NoSync)
	if err != nil {
		return nil, err
	}
	if o.Wrap != nil {
		db = o.Wrap(db)
	}
	app := &App{Store: db}
	if err := app.wire(dataDir, o); err != nil {
		return nil, errors.Join(err, app.Close())
	}
	return app, nil
}

func (o Options) filled() Options {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	o.Checklists = append(o.Checklists[:len(o.Checklists):len(o.Checklists)], authoring.StandardVersions()...)
	return o
}

func openStore(dataDir string, noSync bool) (store.Store, error) {
	if err := os.MkdirAll(dataDir, 0o700); err != nil {
		return nil, fmt.Errorf("make data folder: %w", err)
	}
	options := bolt.Options{NoSync: noSync}
	if !noSync {
		options.Reserve = reserved
	}
	db, err := bolt.Open(filepath.Join(dataDir, RecordsFile), options)
	if err != nil {
		return nil, fmt.Errorf("open records in %s: %w", dataDir, err)
	}
	return db, nil
}

// wire builds everything above the store, from the bottom up.
func (app *App) wire(dataDir string, o Options) (err error) {
	organisation, err := seal.KeyOf(dataDir)
	if err != nil {
		return err
	}
	app.Trail = audit.New(app.Store, o.Now)
	secrets, err := organisation.Secrets("doorsill tablet names/1")
	if err != nil {
		return err
	}
	tabletNames := account.NewTabletNames(secrets...)
	tellLostKey(app.Store, tabletNames, o.Log)
	app.Accounts, err = account.New(account.Options{
		Store: app.Store, Trail: app.Trail, Now: o.Now, Cost: o.PasswordCost, Names: o.Names, TabletNames: tabletNames,
	})
	if err != nil {
		return err
	}
	app.Index, app.Records = caseload.NewIndex(), caseload.NewReader(app.Store)
	damaged, err := app.load(o.Log)
	if err != nil {
		return err
	}
	app.Intake = intake.New(app.Store, o.Checklists, o.Now)
	app.Intake.UnsignedUntil(o.UnsignedUntil)
	app.Intake.KnowNames(tabletNames)
	app.Intake.OnCommit(func(changed []store.Summary) { app.Index.Put(changed...) })
	app.organisation, app.Envelopes = organisation, intake.NewEnvelopes(organisation, app.Intake)
	app.Backups = backup.NewKeeper(o.Backups, app.Store, func() ([]byte, error) { return backup.KeyIn(dataDir) }, o.Now)
	app.Watch = verify.NewWatch(app.Store, o.Checklists, o.Now, pace())
	files, bundled := o.Files, o.Files != nil
	if !bundled {
		files, bundled = embed.FS(), embed.Bundled()
	}
	app.checklists = o.Checklists
	app.router, app.Handler, err = build(Deps{
		Store: app.Store, Backups: app.Backups, Watch: app.Watch, Accounts: app.Accounts, Trail: app.Trail, Intake: app.Intake, Envelopes: app.Envelopes, Organisation: organisation,
		Records: app.Records, Index: app.Index, Agreement: agreement.New(app.Store, o.Checklists), Checklists: o.Checklists,
		Files: files, Bundled: bundled, Missing: embed.Missing,
		Now: o.Now, Log: o.Log, Secure: o.Secure, Proxies: o.Proxies, Times: o.Times, Provider: o.Provider,
		MetricsToken: o.MetricsToken, Demo: o.Demo, PushesPerSecond: o.PushesPerSecond,
	})
	if err != nil {
		return err
	}
	renewResults(app.Intake, o.Log)
	if err := app.Intake.Remake(context.Background(), append(damaged, app.Index.UnscoredClients()...)); err != nil {
		o.Log.Error("lines of the caseload or results are damaged and could not be made anew; verify says which", "why", err.Error())
	}
	judgeAgain(app.Intake, o.Log)
	return nil
}

// load fills the caseload, and says of the records what is found damaged at the
// start. The clients are those whose line must be made anew.
func (app *App) load(log *slog.Logger) (damaged []string, err error) {
	if checked, is := app.Store.(store.Checked); is {
		if err := checked.Sound(); err != nil {
			log.Error("the records are damaged and nothing can be taken in: restore a backup", "why", err.Error())
		}
		if err := checked.Noted(); err != nil {
			log.Warn("it is not known how far the records must go; from now on it is noted again", "why", err.Error())
		}
	}
	err = app.Store.View(context.Background(), func(r store.Reader) error {
		if err := audit.FollowEnd(r, trailChecked); err != nil {
			log.Error("the audit trail is damaged; verify says where", "why", err.Error())
		}
		damaged, err = app.Index.Load(r)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("load caseload: %w", err)
	}
	if len(damaged) > 0 {
		log.Error("lines of the caseload are damaged", "clients", len(damaged))
	}
	return damaged, nil
}

// renewResults brings what an earlier version computed up to date, before anybody
// is served. What stands in the way is no reason not to serve: all that was not
// renewed is still there, and the next start tries again.
func renewResults(in *intake.Intake, log *slog.Logger) {
	if err := in.Renew(context.Background()); err != nil {
		log.Warn("some results are still those of an earlier version", "why", err.Error())
	}
}

// judgeAgain takes in what an earlier version could not read, before anybody is
// served. What cannot be judged is still set aside, and the next start tries again.
func judgeAgain(in *intake.Intake, log *slog.Logger) {
	if err := in.Judge(context.Background()); err != nil {
		log.Warn("some entries that were set aside could not be looked at again", "why", err.Error())
	}
}

// Close ends the service from the top down. Requests must have ended before.
func (app *App) Close() error {
	if app.Intake != nil {
		app.Intake.Close()
	}
	var counted error
	if app.Accounts != nil {
		counted = app.Accounts.Close()
	}
	if app.Trail != nil {
		app.Trail.Close()
	}
	return errors.Join(counted, app.Store.Close())
}

// OpenAccounts opens only what managing people needs, for the command line.
func OpenAccounts(dataDir string, now func() time.Time) (accounts *account.Service, closeAll func() error, err error) {
	db, err := openStore(dataDir, false)
	if err != nil {
		return nil, nil, err
	}
	trail := audit.New(db, now)
	closeAll = func() error {
		trail.Close()
		return db.Close()
	}
	accounts, err = account.New(account.Options{Store: db, Trail: trail, Now: now})
	if err != nil {
		return nil, nil, errors.Join(err, closeAll())
	}
	return accounts, closeAll, nil
}
