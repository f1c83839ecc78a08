package verify

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"reflect"
	"strings"

	"doorsill/internal/intake"
	"doorsill/internal/store"
)

// scores folds and scores every visit anew.
func (c *checker) scores() error {
	for _, visit := range c.visits {
		c.report.Visits++
		where := "visit " + visit.ID
		replayed, err := c.replay.Visit(c.r, visit)
		if err != nil {
			c.fault(where, "It can not be folded: %v.", err)
			continue
		}
		stored, err := c.r.Result(visit.ID)
		if err != nil {
			c.fault(where, "It has no result%s.", reason(err))
			continue
		}
		c.score(where, &replayed, &stored)
	}
	return nil
}

func (c *checker) score(where string, replayed *intake.Replayed, stored *store.Result) {
	want := &replayed.Result
	switch {
	case stored.Visit != want.Visit:
		c.fault(where, "Its result is of visit %s.", stored.Visit)
		return
	case stored.Rules != want.Rules:
		c.fault(where, "Its result is by checklist %s and should be by %s.", short(stored.Rules), short(want.Rules))
		return
	case stored.Pos != want.Pos:
		c.fault(where, "Its result is of position %d and should be of %d.", stored.Pos, want.Pos)
		return
	case len(stored.Body) > 0 && !hasHash(stored.Body, stored.SHA256):
		c.fault(where, "Its result does not have the hash that stands beside it.")
		return
	}
	brief := stored.Brief
	if !replayed.Recalled {
		brief.Mismatch = want.Brief.Mismatch
	}
	c.evidence(where, stored.Evidence)
	c.signature(replayed.Signature)
	switch {
	case stored.Format != want.Format:
		c.report.OtherFormat++
		onlyFold(&brief, want.Brief)
	case stored.Engine != want.Engine:
		c.report.OtherEngine++
		onlyFold(&brief, want.Brief)
	case !replayed.Pinned:
		c.report.Unpinned++
		onlyFold(&brief, want.Brief)
	case stored.SHA256 != want.SHA256 || !bytes.Equal(stored.Body, want.Body):
		c.fault(where, "Its result is not the one that follows from the log (stored %s, computed %s).", short(stored.SHA256), short(want.SHA256))
	}
	if fields := differing(brief, want.Brief); fields != "" {
		c.fault(where, "What the caseload shows of it differs from the log in: %s.", fields)
	}
}

// evidence checks that what is kept of an earlier version is what was hashed.
func (c *checker) evidence(where string, e *store.Evidence) {
	if e == nil {
		return
	}
	if !hasHash(e.Body, e.SHA256) {
		c.fault(where, "The result that is kept of an earlier version (%s) does not have the hash that stands beside it.", e.Format)
	}
}

func hasHash(body []byte, want string) bool {
	sum := sha256.Sum256(body)
	return hex.EncodeToString(sum[:]) == want
}

// signature counts what was signed.
func (c *checker) signature(found intake.SignatureCheck) {
	s := &c.report.Signatures
	switch found {
	case intake.MatchesResult:
		s.Result++
	case intake.MatchesEvidence:
		s.Evidence++
	case intake.MatchesNothing:
		s.Other++
	case intake.SignatureUnknown:
		s.Unknown++
	}
}

// onlyFold leaves out of a comparison what only the engine can say.
func onlyFold(brief *store.Brief, want store.Brief) {
	brief.Level, brief.Effective, brief.Interim, brief.Override = want.Level, want.Effective, want.Interim, want.Override
	brief.Stops, brief.Limits, brief.Mismatch, brief.Unscored = want.Stops, want.Limits, want.Mismatch, want.Unscored
	if brief.Measures == nil || want.Measures == nil {
		brief.Measures = want.Measures // a visit that could not be scored has none
		return
	}
	measures := *brief.Measures
	measures.Forces, measures.RecheckWeeks = want.Measures.Forces, want.Measures.RecheckWeeks
	brief.Measures = &measures
}

func short(hash string) string {
	if hash == "" {
		return "none"
	}
	return hash[:min(len(hash), 12)]
}

// lines makes every client's line of the caseload anew.
func (c *checker) lines() error {
	listed := map[string]int{}
	for line, err := range c.r.Summaries("") {
		if err != nil {
			c.fault("caseload", "A line can not be read: %v.", err)
		}
		if line.Client != "" {
			listed[line.Client]++
		}
	}
	for _, client := range c.clients {
		c.report.Clients++
		where := "client " + client.ID
		want, err := c.replay.Client(c.r, client)
		if err != nil {
			c.fault(where, "Its line can not be made: %v.", err)
			continue
		}
		stored, err := c.r.Summary(client.ID)
		if err != nil {
			c.fault(where, "It has no line in the caseload%s.", reason(err))
			continue
		}
		if fields := differing(stored, want); fields != "" {
			c.fault(where, "Its line in the caseload differs from the log in: %s.", fields)
		}
		listed[client.ID]--
	}
	for _, id := range sorted(listed) {
		if listed[id] != 0 {
			c.fault("client "+id, "The caseload has a line for it that it should not have, or lacks one.")
		}
	}
	c.linesOfTeams()
	return nil
}

// linesOfTeams checks that each team's list holds its clients and no others.
func (c *checker) linesOfTeams() {
	want := map[string]int{}
	for _, client := range c.clients {
		want[client.Team]++
	}
	for _, team := range sorted(want) {
		got := 0
		for line, err := range c.r.Summaries(team) {
			if err != nil || line.Team != team {
				c.fault("caseload of team "+team, "It has a line that does not belong there%s.", reason(err))
				break
			}
			got++
		}
		if got != want[team] {
			c.fault("caseload of team "+team, "It has %d clients, the log has %d.", got, want[team])
		}
	}
}

// differing names the fields in which two records differ, without their
// values, which may be about a client.
func differing[T comparable](stored, want T) string {
	if stored == want {
		return ""
	}
	a, errA := fieldsOf(stored)
	b, errB := fieldsOf(want)
	if errors.Join(errA, errB) != nil {
		return "unknown fields"
	}
	all := map[string]bool{}
	for _, m := range []map[string]any{a, b} {
		for name := range m {
			if !reflect.DeepEqual(a[name], b[name]) {
				all[name] = true
			}
		}
	}
	return strings.Join(sorted(all), ", ")
}

func fieldsOf(record any) (fields map[string]any, err error) {
	data, err := json.Marshal(record)
	if err != nil {
		return nil, err
	}
	return fields, json.Unmarshal(data, &fields)
}
