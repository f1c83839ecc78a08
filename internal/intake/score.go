package intake

import (
	"errors"
	"fmt"
	"runtime"
	"strings"

	"golang.org/x/sync/errgroup"

	"doorsill/internal/checklist"
	"doorsill/internal/engine"
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
	_ = workers.Wait() // a visit that cannot be scored says so in its brief
	for i := range results {
		err := c.keep(&results[i], c.visits[i])
		if errors.Is(err, store.ErrDamaged) {
			c.in.unscored(results[i].Visit, err) // the result before it can not be read either
			continue
		}
		if err != nil {
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
	result := store.Result{Visit: s.ID, Format: model.ResultFormat, Engine: engine.Version, Rules: s.Checklist, Pos: s.last, At: now}
	scored, err := score(s.pinned, &visit)
	if err == nil {
		result.Catalogue, result.Body = scored.Catalogue, scored.AppendJSON(make([]byte, 0, usualBody))
		result.SHA256 = sha256Of(result.Body)
	}
	result.Brief = briefOf(&visit, s.begun)
	takeResult(&result.Brief, &visit, &scored)
	if visit.Signed != nil {
		result.Brief.Mismatch = !namesResult(visit.Signed, &result) && s.evidence.named(visit.Signed) == nil
	}
	result.Evidence = s.evidence.kept(visit.Signed)
	return result, err
}

// namesResult says whether a signature is under this very result, and under its
// level: the level is what is read beside a name.
func namesResult(signed *model.Signature, result *store.Result) bool {
	return signed.ShownFormat() == result.Format && signed.Result == result.SHA256 && signed.Level == result.Brief.Level
}

// usualBody is how many bytes a result usually has, so that they are not copied
// while they become more.
const usualBody = 64 << 10

// errNoChecklist is returned for a visit whose checklist this server does not have.
var errNoChecklist = errors.New("no checklist")

// score asks the engine. A fault in it costs this visit its result and nothing
// else: were it to fail the push, the tablet's entries would wait for ever
// behind the visit that it stumbles over.
func score(pinned *pinnedChecklist, visit *model.Visit) (result model.Result, err error) {
	if pinned == nil {
		return result, errNoChecklist
	}
	defer func() {
		if recovered := recover(); recovered != nil {
			result, err = model.Result{}, fatal(recovered)
		}
	}()
	return pinned.scorer.Score(visit)
}

// keep stores a result. After an amendment, or without a score, it can not be
// what was shown when signing; whether it was then is remembered, and where that
// is damaged follows from the log. A result that the same entries had before is
// worth more than none.
func (c *commit) keep(result *store.Result, visit *subject) error {
	if !visit.fold.Amended() && !result.Brief.Unscored {
		return c.w.SetResult(*result)
	}
	before, err := c.w.Result(result.Visit)
	switch {
	case errors.Is(err, store.ErrDamaged):
		replay := Replay{checklists: c.in.checklists}
		replayed, err := replay.Visit(c.w, visit.Subject)
		if err != nil {
			return err
		}
		result.Brief.Mismatch = replayed.Result.Brief.Mismatch
		if !replayed.Recalled && before.Visit == result.Visit { // nothing else tells, and it was made out
			result.Brief.Mismatch = before.Brief.Mismatch
		}
	case errors.Is(err, store.ErrNotFound):
	case err != nil:
		return err
	case result.Brief.Unscored && !before.Brief.Unscored && before.Pos == result.Pos:
		return nil
	case before.Brief.Signed:
		result.Brief.Mismatch = before.Brief.Mismatch
	}
	return c.w.SetResult(*result)
}

// briefOf takes from a visit what the caseload shows.
func briefOf(visit *model.Visit, begun string) store.Brief {
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
	for i := range visit.Answers {
		if len(visit.Answers[i].Heads) > 1 {
			b.Choices++
		}
	}
	return b
}

// takeResult takes from a visit's result what the caseload shows. A result
// without a level is none.
func takeResult(b *store.Brief, visit *model.Visit, r *model.Result) {
	b.Level, b.Effective, b.Interim = r.Level, r.Level, r.Interim
	b.Unscored = r.Level == ""
	for i := range r.Effects {
		if strings.HasPrefix(r.Effects[i].Effect, checklist.Stop) {
			b.Stops++
		} else {
			b.Limits++
		}
	}
	if o := r.Override; o != nil && o.Accepted {
		b.Effective, b.Override = o.Level, true
	}
	if !b.Second && !b.Unscored {
		b.Measures = visitMeasures(visit, r)
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
	quarantined, err := r.QuarantineOpen(store.QuarantineByClient, s.ID)
	if err != nil {
		return line, fmt.Errorf("summarise client %s: %w", s.ID, err)
	}
	line.Quarantined = int(quarantined.Entries)
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
		result, err := storedResult(r, id)
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
