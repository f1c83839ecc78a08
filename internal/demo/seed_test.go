package demo

import (
	"context"
	"path/filepath"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/audit"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
)

// seeded is a store with the whole invented service.
func seeded(t *testing.T) store.Store {
	t.Helper()
	db, err := bolt.Open(filepath.Join(t.TempDir(), "records.db"), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	now := func() time.Time { return day }
	accounts, err := account.New(account.Options{
		Store: db, Trail: audit.New(db, now), Now: now, Cost: account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}})
	if err != nil {
		t.Fatal(err)
	}
	in := intake.New(db, authoring.StandardVersions(), now)
	t.Cleanup(func() {
		in.Close()
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	var log string
	view(t, db, func(r store.Reader) (err error) { log, err = r.LogID(); return err })
	if err := Seed(context.Background(), Service{Accounts: accounts, Intake: in, Log: log}, day); err != nil {
		t.Fatal(err)
	}
	return db
}

func view(t *testing.T, db store.Store, fn func(store.Reader) error) {
	t.Helper()
	if err := db.View(context.Background(), fn); err != nil {
		t.Fatal(err)
	}
}

// visitsOf folds a client's visits, in the order in which they came.
func visitsOf(t *testing.T, db store.Store, name string) (visits []model.Visit) {
	t.Helper()
	view(t, db, func(r store.Reader) error {
		ids, err := r.VisitsOfClient(idFor("client " + name))
		if err != nil {
			return err
		}
		for _, id := range ids {
			entries, err := r.EntriesOfSubject(id)
			if err != nil {
				return err
			}
			visit, err := record.FoldVisit(entries, model.Logs{})
			if err != nil {
				return err
			}
			visits = append(visits, visit)
			result, err := r.Result(id)
			if err != nil {
				return err
			}
			if visit.Signed != nil && result.SHA256 != visit.Signed.Result {
				t.Errorf("%s: the result is not the one that was signed", name)
			}
		}
		return nil
	})
	return visits
}

// mostForce is the strongest tired push forward of a visit.
func mostForce(v model.Visit) float64 {
	most := 0.0
	for _, r := range v.Readings {
		if r.What == model.ReadForce && r.State == "tired" && r.Direction == "forward" {
			most = max(most, r.Value)
		}
	}
	return most
}

func TestTheInventedServiceIsWhole(t *testing.T) {
	db := seeded(t)
	for _, name := range []string{"Alder Finchley", "Ivy Renshaw"} {
		visits := visitsOf(t, db, name)
		if len(visits) < 4 {
			t.Fatalf("%s has %d visits, want at least 4", name, len(visits))
		}
		for i := 1; i < len(visits); i++ {
			if visits[i].Started.At <= visits[i-1].Started.At || mostForce(visits[i]) >= mostForce(visits[i-1]) {
				t.Errorf("%s: visit %d at %s has %v gf after %v gf", name, i, visits[i].Started.At, mostForce(visits[i]), mostForce(visits[i-1]))
			}
		}
		first, _ := time.Parse(time.RFC3339, visits[0].Started.At)
		last, _ := time.Parse(time.RFC3339, visits[len(visits)-1].Started.At)
		if weeks := last.Sub(first).Hours() / 24 / 7; weeks < 14 {
			t.Errorf("%s: the visits span %.1f weeks", name, weeks)
		}
		latest := visits[len(visits)-1]
		if len(latest.Kit) != 4 || latest.Needs == nil || latest.Chair == nil || len(latest.Places) != 3 || len(latest.Settings) != 2 || latest.Mount == nil {
			t.Errorf("%s: the last visit lacks kit, needs, chair, places, settings or mount: %+v", name, latest)
		}
		if due := record.DueAgain(&latest); due != nil {
			t.Errorf("%s: due again: %v", name, due)
		}
	}
	pair := visitsOf(t, db, "Juniper Vale")
	if len(pair) != 2 || pair[1].SecondOf != pair[0].ID || pair[0].Signed == nil || pair[1].Signed == nil || pair[0].Started.By == pair[1].Started.By {
		t.Errorf("no signed pair of two raters: %+v", pair)
	}
}

func TestEachTeamHasAKitOfFour(t *testing.T) {
	db := seeded(t)
	for team, kit := range kits() {
		if len(kit) != 4 {
			t.Errorf("%s has %d controls, want 4", team, len(kit))
		}
		for _, c := range kit {
			view(t, db, func(r store.Reader) error {
				entries, err := r.EntriesOfSubject(idFor("control " + c.name))
				if err != nil {
					return err
				}
				listed, err := record.FoldControl(entries)
				if err == nil && listed.Name != c.name {
					t.Errorf("%s: got %+v", c.name, listed)
				}
				return err
			})
		}
	}
}

// TestTheCaseloadHasSomethingToShow: somebody is due for a recheck, somebody's
// force may run out before the control comes, and somebody must try stopping
// again because a setting was changed.
func TestTheCaseloadHasSomethingToShow(t *testing.T) {
	db := seeded(t)
	today := day.Format(time.DateOnly)
	due, short := 0, 0
	view(t, db, func(r store.Reader) error {
		for s, err := range r.Summaries("") {
			if err != nil {
				return err
			}
			if s.Recheck != "" && s.Recheck <= today {
				due++
			}
			if s.ReserveOn > today && s.ReserveOn < s.ExpectedOn {
				short++
			}
			if s.Unscored > 0 {
				t.Errorf("%s could not be scored", s.Name)
			}
		}
		return nil
	})
	if due == 0 || short == 0 {
		t.Errorf("%d due for a recheck, %d with fewer weeks left than to wait; want some of each", due, short)
	}
	visits := visitsOf(t, db, "Lovage Penn")
	if got := record.DueAgain(&visits[len(visits)-1]); len(got) != 2 {
		t.Errorf("due again: %v, want release and stop call", got)
	}
}
