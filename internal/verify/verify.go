// Package verify replays the log and compares what follows from it with what
// is stored besides it: lists, receipts, results, the caseload's lines, and the
// chain of the audit trail. It writes nothing and names no clinical content.
package verify

import (
	"context"
	"fmt"

	"doorsill/internal/checklist"
	"doorsill/internal/intake"
	"doorsill/internal/store"
)

// Fault is one thing that does not fit.
type Fault struct {
	// Where names the record, such as "visit 3f…" or "log position 17".
	Where string
	// What says in a sentence what is wrong with it.
	What string
}

// Report is what was compared and what differs.
type Report struct {
	// Log names the log that was read.
	Log string
	// Entries, Quarantined, Tablets, Clients, Visits, People and Trail count what
	// was compared.
	Entries, Quarantined, Tablets, Clients, Visits, People, Trail int64
	// TrailHead is the hash of the last line of the audit trail.
	TrailHead string
	// OtherEngine counts results of another version of the engine, and
	// Unpinned visits whose checklist is not known here. Neither can be
	// scored anew, so their results were not compared.
	OtherEngine, Unpinned int64
	// OtherFormat counts results of an earlier version's format that the server
	// has not computed anew yet.
	OtherFormat int64
	// Signatures counts the signed visits by what their signature was found to be.
	Signatures Signatures
	// Faults are the first MostFaults things that differ, More how many came
	// after them.
	Faults []Fault
	More   int64
}

// Signatures counts signed visits.
type Signatures struct {
	// Result is how many name the result that follows from the log, Evidence how
	// many one that is kept of an earlier version.
	Result, Evidence int64
	// Other is how many name another result; the caseload marks them. Unknown is
	// how many are of an earlier version and were amended since.
	Other, Unknown int64
}

// MostFaults bounds the list of a report.
const MostFaults = 100

// Clean says whether all that was compared fits.
func (r *Report) Clean() bool { return len(r.Faults) == 0 }

// Store compares everything in a store. Visits are scored anew by the
// checklists given. The error says that the store could not be read; what
// differs is no error.
func Store(ctx context.Context, s store.Store, checklists []*checklist.Definition) (Report, error) {
	var report Report
	err := s.View(ctx, func(r store.Reader) error {
		c := &checker{r: r, replay: intake.NewReplay(checklists), report: &report,
			tablets: map[string]*stream{}, teams: map[string][]int64{}, subjects: map[string][]int64{}}
		var err error
		if report.Log, err = r.LogID(); err != nil {
			return err
		}
		for _, part := range []func() error{c.log, c.quarantined, c.lists, c.receipts, c.scores, c.lines, c.people, c.trail} {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := part(); err != nil {
				return err
			}
		}
		return nil
	})
	return report, err
}

// checker is one comparison under way.
type checker struct {
	r      store.Reader
	replay *intake.Replay
	report *Report
	// tablets counts each tablet's numbers.
	tablets map[string]*stream
	// teams and subjects hold the positions that their lists must name.
	teams, subjects map[string][]int64
	// clients and visits are in the order of the log.
	clients, visits []store.Subject
	// opened are the visits again, with where they were opened.
	opened []openedVisit
}

// stream counts the numbers of one tablet that have a place.
type stream struct{ count, highest int64 }

func (c *checker) fault(where, format string, args ...any) {
	if len(c.report.Faults) == MostFaults {
		c.report.More++
		return
	}
	c.report.Faults = append(c.report.Faults, Fault{Where: where, What: fmt.Sprintf(format, args...)})
}

// placed counts a number of a tablet.
func (c *checker) placed(tablet string, n int64) {
	s := c.tablets[tablet]
	if s == nil {
		s = &stream{}
		c.tablets[tablet] = s
	}
	s.count++
	s.highest = max(s.highest, n)
}
