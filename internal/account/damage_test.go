package account_test

import (
	"context"
	"errors"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/audit"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// spoilt is a store of which one list, or one tablet, is damaged. What comes
// before the damage is returned with the error.
type spoilt struct {
	store.Store
	what string
}

func (s *spoilt) View(ctx context.Context, fn func(store.Reader) error) error {
	return s.Store.View(ctx, func(r store.Reader) error { return fn(spoiltReader{r, s}) })
}

func (s *spoilt) Update(ctx context.Context, fn func(store.Writer) error) error {
	return s.Store.Update(ctx, func(w store.Writer) error { return fn(spoiltWriter{w, s}) })
}

type spoiltReader struct {
	store.Reader
	*spoilt
}

func (r spoiltReader) MembershipsOfTeam(team string) ([]store.Membership, error) {
	list, err := r.Reader.MembershipsOfTeam(team)
	if r.what == "members" {
		return list[:1], store.ErrDamaged
	}
	return list, err
}

type spoiltWriter struct {
	store.Writer
	*spoilt
}

func (w spoiltWriter) Tablet(id string) (store.Tablet, error) {
	if w.what == "tablet" && id != "" {
		return store.Tablet{}, store.ErrDamaged
	}
	return w.Writer.Tablet(id)
}

// TestWhatCanNotBeReadIsNotLeftOut: a list that ends early is no list of a
// team's tablets, and a tablet that can not be read may be a withdrawn one.
func TestWhatCanNotBeReadIsNotLeftOut(t *testing.T) {
	s := newService(t)
	north := s.team(t, "North")
	s.person(t, "marit", map[string]string{north: model.RoleClinician})
	s.person(t, "lena", map[string]string{north: model.RoleLead})
	_, marit := s.signIn(t, "marit")
	tablet, err := s.AddTablet(t.Context(), marit, account.NewTablet{Label: "blue"})
	if err != nil {
		t.Fatal(err)
	}
	_, lena := s.signIn(t, "lena")

	db := &spoilt{Store: s.store}
	trail := audit.New(db, s.clock.Now)
	defer trail.Close()
	again, err := account.New(account.Options{Store: db, Trail: trail, Now: s.clock.Now, Cost: account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}})
	if err != nil {
		t.Fatal(err)
	}
	list := func() error {
		found, err := again.TabletsOfTeam(t.Context(), lena, north)
		if err == nil && len(found) != 1 {
			t.Errorf("%d tablets are listed", len(found))
		}
		return err
	}
	signIn := func() error {
		_, _, err := again.SignIn(t.Context(), account.SignIn{Login: "marit", Password: password, Source: "192.0.2.1", Tablet: tablet.ID})
		return err
	}
	for _, tt := range []struct {
		what string
		call func() error
		want error
	}{
		{"", list, nil}, {"members", list, store.ErrDamaged},
		{"", signIn, nil}, {"tablet", signIn, store.ErrDamaged},
	} {
		db.what = tt.what
		if err := tt.call(); !errors.Is(err, tt.want) {
			t.Errorf("%q damaged: %v, want %v", tt.what, err, tt.want)
		}
	}
}
