package storetest

import (
	"context"
	"errors"
	"testing"

	"doorsill/internal/store"
)

// Opener makes an empty store for a test.
type Opener func(t testing.TB) store.Store

// Run holds an implementation to what package store promises.
func Run(t *testing.T, open Opener) {
	tests := []struct {
		name string
		run  func(t *testing.T, s store.Store)
	}{
		{"a new store is empty and has a name", testEmpty},
		{"a log that is named anew is the same as before up to there", testLogs},
		{"an update is all or nothing", testAllOrNothing},
		{"a view sees one moment", testOneMoment},
		{"a context that is over starts nothing", testContext},
		{"a closed store says so", testClosed},
		{"events come back as they came", testEvents},
		{"a page starts and stops inside a batch", testPages},
		{"a number is placed once", testNumbers},
		{"two stores have two names", nil},
		{"a team sees its own entries only", testTeams},
		{"an id is given once", testSubjects},
		{"what is set aside stays", testQuarantine},
		{"a forked number keeps its place", testForked},
		{"a tablet comes back as it was", testTablets},
		{"a result comes back as a copy", testResults},
		{"summaries are listed by team", testSummaries},
		{"a login is one person's", testLogins},
		{"people are in teams", testMemberships},
		{"sessions end", testSessions},
		{"the audit trail counts", testAudit},
		{"writers take turns", testWriters},
		{"a filter lets through what it says", testFilters},
		{"a gap is filled up to its end", testGaps},
		{"what is renamed goes by its new name", testNewNames},
		{"a run over a list can be stopped", testStopping},
		{"open entries are counted", testOpenEntries},
		{"what is set aside is placed once", testPlacing},
		{"what is set aside is read in pages", testPagesOfTheQuarantine},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := Watch(t, open(t))
			if tt.run == nil {
				testTwoNames(t, s, Watch(t, open(t)))
				return
			}
			tt.run(t, s)
		})
	}
}

func view(t testing.TB, s store.Store, fn func(r store.Reader) error) {
	t.Helper()
	if err := s.View(context.Background(), fn); err != nil {
		t.Fatal(err)
	}
}

func change(t testing.TB, s store.Store, fn func(w store.Writer) error) {
	t.Helper()
	if err := s.Update(context.Background(), fn); err != nil {
		t.Fatal(err)
	}
}

func wantError(t testing.TB, what string, got, want error) {
	t.Helper()
	if !errors.Is(got, want) {
		t.Errorf("%s: got error %v, want %v", what, got, want)
	}
}

func equal[T comparable](t testing.TB, what string, got, want T) {
	t.Helper()
	if got != want {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func nameOf(t testing.TB, s store.Store) (name string) {
	t.Helper()
	view(t, s, func(r store.Reader) (err error) { name, err = r.LogID(); return err })
	return name
}

func testTwoNames(t *testing.T, a, b store.Store) {
	if nameOf(t, a) == nameOf(t, b) {
		t.Error("two stores have the same log id")
	}
}
