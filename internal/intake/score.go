package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"runtime"
	"strconv"
	"strings"

	"golang.org/x/sync/errgroup"

	"doorsill/internal/engine"
	"doorsill/internal/engine/visittext"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
)

// scoreAll computes the results of the visits that changed, several at a time,
// and keeps them.
func (c *commit) scoreAll() error {
	results := make([]store.Result, len(c.visits))
	var workers errgroup.Group
	workers.SetLimit(runtime.GOMAXPROCS(0))
	for i, visit := range c.visits {
		workers.Go(func() error {
			result, err := compute(visit, c.now)
			if err != nil {
				c.in.unscored(visit.ID, err)
			}
			results[i] = result
			return nil
		})
	}
	if err := workers.Wait(); err != nil {
		return err
	}
	for i := range results {
		if err := c.keep(&results[i], c.visits[i].fold.Amended()); err != nil {
			return fmt.Errorf("score visit %s: %w", results[i].Visit, err)
		}
	}
	return nil
}

// compute scores a visit. One that the engine can not read has no level and says
// so; its events are kept. The error says why it was not scored; the result
// stands all the same.
func compute(s *subject, now string) (store.Result, error) {
	visit := s.fold.Visit()
	result := store.Result{Visit: s.ID, Engine: engine.Version, Rules: s.Checklist, Pos: s.last, At: now}
	err := errNoRules
	var text []byte
	if s.pinned != nil {
		text, err = scored(s.pinned.scorer, &visit)
	}
	if err == nil {
		sum := sha256.Sum256(text)
		result.Text, result.SHA256 = text, hex.EncodeToString(sum[:])
	}
	result.Brief = brief(&visit, s.begun, result)
	return result, err
}

// errNoRules is returned for a visit whose checklist this server does not have.
var errNoRules = errors.New("no checklist")

// unscored tells whoever listens that a visit could not be scored, in words that
// hold nothing of what was entered.
func (in *Intake) unscored(visit string, err error) {
	why := "fault in the engine"
	var refused *engine.TextError
	switch {
	case errors.Is(err, errNoRules):
		why = "the checklist is not known"
	case errors.As(err, &refused):
		why = "refused: line " + strconv.Itoa(refused.Line) + ", " + refused.Field
	}
	in.hooks.Lock()
	defer in.hooks.Unlock()
	for _, fn := range in.onUnscored {
		fn(visit, why)
	}
}

// scored asks the engine. A fault in it costs this visit its result and nothing
// else: were it to fail the push, the tablet's entries would wait for ever
// behind the visit that it stumbles over.
func scored(scorer scorer, visit *model.Visit) (text []byte, err error) {
	defer func() {
		if recovered := recover(); recovered != nil {
			text, err = nil, fatal(recovered)
		}
	}()
	return scorer.Score(visittext.Encode(*visit))
}

// keep stores a result. After an amendment it can not be what was shown when
// signing; whether it was then is remembered.
func (c *commit) keep(result *store.Result, amended bool) error {
	if amended {
		before, err := c.w.Result(result.Visit)
		if err != nil && !errors.Is(err, store.ErrNotFound) {
			return err
		}
		if err == nil && before.Brief.Signed {
			result.Brief.Mismatch = before.Brief.Mismatch
		}
	}
	return c.w.SetResult(*result)
}

func brief(visit *model.Visit, begun string, result store.Result) store.Brief {
	b := store.Brief{
		Client: visit.Client, Begun: begun, Author: visit.Started.By,
		Signed: visit.Signed != nil, Second: visit.SecondOf != "", Unknown: visit.Unknown,
	}
	if claimed := visit.Started.At; claimed != "" && claimed < begun {
		b.Begun = claimed
	}
	if visit.Plan != nil {
		b.Recheck = visit.Plan.Recheck
	}
	if visit.Signed != nil {
		b.Mismatch = visit.Signed.Result != result.SHA256
	}
	for i := range visit.Answers {
		if len(visit.Answers[i].Heads) > 1 {
			b.Choices++
		}
	}
	readResult(&b, string(result.Text))
	b.Unscored = len(result.Text) == 0
	if !b.Second {
		b.Measures = visitMeasures(visit, string(result.Text))
	}
	return b
}

// readResult takes from a result text what the caseload shows.
func readResult(b *store.Brief, text string) {
	for text != "" {
		var line string
		line, text, _ = strings.Cut(text, "\n")
		kind, rest, _ := strings.Cut(line, "\t")
		first, rest, _ := strings.Cut(rest, "\t")
		second, _, _ := strings.Cut(rest, "\t")
		switch kind {
		case "level":
			b.Level, b.Effective, b.Interim = first, first, second == "1"
		case "effect":
			if strings.HasPrefix(first, "limit") {
				b.Limits++
			} else {
				b.Stops++
			}
		case "override":
			if first == "accepted" {
				b.Effective, b.Override = second, true
			}
		}
	}
}

// summarise makes a client's line anew.
func summarise(r store.Reader, s store.Subject) (store.Summary, error) {
	var line store.Summary
	entries, err := r.EntriesOfSubject(s.ID)
	if err != nil {
		return line, fmt.Errorf("summarise client %s: %w", s.ID, err)
	}
	client, err := record.FoldClient(entries)
	if err != nil {
		return line, fmt.Errorf("summarise client %s: %w", s.ID, err)
	}
	line = store.Summary{
		Client: s.ID, Team: s.Team, Name: client.Name, Ref: client.Ref, Priority: client.Priority, Course: client.Course,
		Assignee: client.Assignee, Status: client.Status, Referred: client.Referred, Version: client.Version,
	}
	if err := countVisits(r, &line); err != nil {
		return line, err
	}
	quarantine, err := r.QuarantinedOf(store.QuarantineFilter{Client: s.ID, Open: true})
	if err != nil {
		return line, fmt.Errorf("summarise client %s: %w", s.ID, err)
	}
	line.Quarantined = len(quarantine)
	return line, nil
}

// countVisits fills in what a line says about visits. The visit that counts is
// the one begun last; a visit that was sent late does not hide a newer one, and
// a second rating no visit at all.
func countVisits(r store.Reader, line *store.Summary) error {
	visits, err := r.VisitsOfClient(line.Client)
	if err != nil {
		return fmt.Errorf("summarise client %s: %w", line.Client, err)
	}
	over := overVisits{course: line.Course}
	for _, id := range visits {
		result, err := r.Result(id)
		if err != nil {
			return fmt.Errorf("summarise client %s: visit %s: %w", line.Client, id, err)
		}
		b := result.Brief
		line.Visits++
		line.Choices += b.Choices
		line.Unknown += b.Unknown
		if b.Unscored {
			line.Unscored++
		}
		if b.Measures != nil {
			over.visits = append(over.visits, b.Measures)
		}
		if !b.Signed {
			line.Unsigned++
		}
		if b.Second || b.Begun < line.LastVisit {
			continue
		}
		line.Visit, line.LastVisit, line.Author = id, b.Begun, b.Author
		line.Level, line.Effective, line.Interim, line.Override = b.Level, b.Effective, b.Interim, b.Override
		line.Stops, line.Limits, line.Signed, line.Mismatch, line.Recheck = b.Stops, b.Limits, b.Signed, b.Mismatch, b.Recheck
	}
	over.forecast(line)
	return nil
}
