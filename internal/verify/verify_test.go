package verify_test

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"testing"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
)

func TestWhatFollowsFromTheLogIsClean(t *testing.T) {
	report := compare(t, write(t, smallService(t)))
	if !report.Clean() {
		t.Errorf("differs: %+v", report.Faults)
	}
	if report.Entries != 24 || report.Quarantined != 2 || report.Clients != 2 || report.Visits != 2 || report.Tablets != 3 ||
		report.People != 2 || report.Trail == 0 || len(report.TrailHead) != 64 || report.OtherEngine != 0 || report.Unpinned != 0 {
		t.Errorf("compared %+v", report)
	}
}

// TestWhatDoesNotFollowFromTheLogIsFound changes one record beside the log at
// a time, as a fault in the program would.
func TestWhatDoesNotFollowFromTheLogIsFound(t *testing.T) {
	data := smallService(t)
	visit, client := strings.Repeat("d", 30)+"a", strings.Repeat("c", 30)+"a"
	for _, tt := range []struct {
		name   string
		change func(store.Writer) error
		where  string
		what   string
	}{
		{"a result", func(w store.Writer) error {
			r, err := w.Result(visit)
			r.Body = append(r.Body, ' ')
			sum := sha256.Sum256(r.Body)
			r.SHA256 = hex.EncodeToString(sum[:])
			return firstOf(err, func() error { return w.SetResult(r) })
		}, "visit " + visit, "not the one that follows from the log"},
		{"a result under its hash", func(w store.Writer) error {
			r, err := w.Result(visit)
			r.Body = append(r.Body, ' ')
			return firstOf(err, func() error { return w.SetResult(r) })
		}, "visit " + visit, "Its result does not have the hash"},
		{"a result of an earlier engine under its hash", func(w store.Writer) error {
			r, err := w.Result(visit)
			r.Engine, r.SHA256 = "1.0.0", strings.Repeat("1", 64)
			return firstOf(err, func() error { return w.SetResult(r) })
		}, "visit " + visit, "Its result does not have the hash"},
		{"a result by another checklist", func(w store.Writer) error {
			r, err := w.Result(visit)
			r.Rules = strings.Repeat("1", 64)
			return firstOf(err, func() error { return w.SetResult(r) })
		}, "visit " + visit, "is by checklist 111111111111 and should be by"},
		{"what is kept of an earlier version", func(w store.Writer) error {
			r, err := w.Result(visit)
			r.Evidence = &store.Evidence{Format: "doorsill-result/1", Body: []byte("level\topen\n"), SHA256: strings.Repeat("1", 64)}
			return firstOf(err, func() error { return w.SetResult(r) })
		}, "visit " + visit, "does not have the hash"},
		{"a result of long ago", func(w store.Writer) error {
			r, err := w.Result(visit)
			r.Pos--
			return firstOf(err, func() error { return w.SetResult(r) })
		}, "visit " + visit, "is of position"},
		{"what the caseload shows of a visit", func(w store.Writer) error {
			r, err := w.Result(visit)
			r.Brief.Stops++
			return firstOf(err, func() error { return w.SetResult(r) })
		}, "visit " + visit, "differs from the log in: stops"},
		{"what a visit of an earlier engine gives a forecast of its set-up", func(w store.Writer) error {
			r, err := w.Result(visit)
			r.Engine = "1.0.0"
			r.Brief.Measures.Site = "knee-left"
			return firstOf(err, func() error { return w.SetResult(r) })
		}, "visit " + visit, "differs from the log in: sight"},
		{"a line of the caseload", func(w store.Writer) error {
			s, err := w.Summary(client)
			s.Status, s.Name = "closed", "Somebody Else"
			return firstOf(err, func() error { return w.SetSummary(s) })
		}, "client " + client, "differs from the log in: name, status"},
		{"a receipt that is too high", func(w store.Writer) error {
			list, err := w.Tablets()
			list[0].Ack++
			return firstOf(err, func() error { return w.SetTablet(list[0]) })
		}, "tablet ", "Its receipt says 13; 12 of its numbers have a place"},
		{"an audit line", func(w store.Writer) error {
			last, err := w.LastAudit()
			last.Seq++
			last.Prev = last.Hash
			return firstOf(err, func() error { return w.AppendAudit(last) })
		}, "audit trail", "was changed"},
		{"a receipt of nobody's", func(w store.Writer) error {
			return w.SetTablet(store.Tablet{ID: "tab-x", Person: "marit", Ack: 3})
		}, "tablet tab-x", "Its receipt says 3; 0"},
		{"a line for no client", func(w store.Writer) error {
			return w.SetSummary(store.Summary{Client: "nobody", Team: "t"})
		}, "client nobody", "should not have"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			path := write(t, data)
			db, err := bolt.Open(path, bolt.Options{NoSync: true})
			if err != nil {
				t.Fatal(err)
			}
			if err := db.Update(t.Context(), tt.change); err != nil {
				t.Fatal(err)
			}
			if err := db.Close(); err != nil {
				t.Fatal(err)
			}
			report := compare(t, path)
			if len(report.Faults) == 0 {
				t.Fatal("nothing was found")
			}
			if f := report.Faults[0]; !strings.HasPrefix(f.Where, tt.where) || !strings.Contains(f.What, tt.what) {
				t.Errorf("found %+v, want %q: %q", report.Faults, tt.where, tt.what)
			}
			for _, f := range report.Faults {
				if strings.Contains(f.What, "Marrowby") || strings.Contains(f.What, "Somebody") {
					t.Errorf("a client's name in %q", f.What)
				}
			}
		})
	}
}

func firstOf(err error, then func() error) error {
	if err != nil {
		return err
	}
	return then()
}

// TestAnEarlierEngineMayHaveSeenOtherForces: what only the engine can say of a visit
// stands as the engine of then said it, and is no fault.
func TestAnEarlierEngineMayHaveSeenOtherForces(t *testing.T) {
	visit, path := strings.Repeat("d", 30)+"a", write(t, smallService(t))
	db, err := bolt.Open(path, bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(t.Context(), func(w store.Writer) error {
		r, err := w.Result(visit)
		force := 71.5
		r.Engine = "1.0.0"
		r.Brief.Measures.Forces = []store.VisitForce{{Site: "hand-right", Direction: "left", Usable: &force}}
		r.Brief.Measures.RecheckWeeks = 3
		return firstOf(err, func() error { return w.SetResult(r) })
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if report := compare(t, path); len(report.Faults) > 0 || report.OtherEngine != 1 {
		t.Errorf("%d of another engine, faults %v", report.OtherEngine, report.Faults)
	}
}
