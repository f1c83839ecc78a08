package intake

import (
	"errors"
	"fmt"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
)

// commit is one update under way.
type commit struct {
	in *Intake
	w  store.Writer
	// now is the time of arrival of everything in this commit.
	now string
	// log is the name of the log.
	log string
	// head is the last position given so far.
	head     int64
	subjects map[string]*subject
	// visits and clients are the ids that changed, in the order of change.
	visits, clients []*subject
}

// subject is a client, visit or control that the commit has looked at.
type subject struct {
	store.Subject
	// fold is the visit so far, with what this commit added; nil until unfold.
	fold     *record.VisitFold
	pinned   *pinnedChecklist
	evidence evidence
	// begun is when the server first heard of the visit.
	begun string
	// last is the position of the last event.
	last    int64
	changed bool
}

func newCommit(in *Intake, w store.Writer) (*commit, error) {
	head, err := w.Head()
	if err != nil {
		return nil, err
	}
	log, err := w.LogID()
	if err != nil {
		return nil, err
	}
	return &commit{in: in, w: w, now: stampOf(in.now()), log: log, head: head, subjects: in.recent.take(head)}, nil
}

// find returns a subject, nil when there is none. A visit may not be folded yet.
func (c *commit) find(id string) (*subject, error) {
	if s, there := c.subjects[id]; there {
		return s, nil
	}
	known, err := c.w.Subject(id)
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("find subject %s: %w", id, err)
	}
	s := &subject{Subject: known}
	c.subjects[id] = s
	return s, nil
}

// unfold folds a visit, unless that was done before. It takes long, so it is left
// until somebody may say something of the visit.
func (c *commit) unfold(s *subject) error {
	if s.Kind != model.SubjectVisit || s.fold != nil {
		return nil
	}
	return load(c.w, c.in.checklists, s)
}

// open adds a new subject.
func (c *commit) open(s store.Subject, pinned *pinnedChecklist) (*subject, error) {
	if err := c.w.AddSubject(s); err != nil {
		return nil, err
	}
	made := &subject{Subject: s, pinned: pinned, begun: c.now}
	if s.Kind == model.SubjectVisit {
		logs, err := c.w.Logs()
		if err != nil {
			return nil, fmt.Errorf("open visit %s: %w", s.ID, err)
		}
		made.fold = record.NewVisitFold(logs)
	}
	c.subjects[s.ID] = made
	return made, nil
}

// touch notes that a subject changed.
func (c *commit) touch(s *subject) error {
	if s.changed {
		return nil
	}
	s.changed = true
	switch s.Kind {
	case model.SubjectClient:
		c.clients = append(c.clients, s)
	case model.SubjectVisit:
		c.visits = append(c.visits, s)
		return c.touchClient(s.Client)
	}
	return nil
}

// touchClient notes that a client's line changed. What is about no client has
// none.
func (c *commit) touchClient(id string) error {
	client, err := c.find(id)
	if err != nil || client == nil {
		return err
	}
	return c.touch(client)
}

// finish scores the visits that changed and writes the caseload's lines.
func (c *commit) finish() ([]store.Summary, error) {
	if err := c.scoreAll(); err != nil {
		return nil, err
	}
	var changed []store.Summary
	for _, client := range c.clients {
		line, err := c.summarised(client.Subject)
		if err != nil {
			return nil, err
		}
		changed = append(changed, line)
	}
	return changed, nil
}

// summarised makes a client's line anew and writes it. Damage to what is already
// there must not keep out what arrives: the line says that it is damaged, and
// stays as it was otherwise.
func (c *commit) summarised(client store.Subject) (store.Summary, error) {
	line, err := summarise(c.w, client)
	if errors.Is(err, store.ErrDamaged) {
		if line, err = c.w.Summary(client.ID); err != nil {
			line = store.Summary{Client: client.ID, Team: client.Team, Name: client.ID}
		}
		line.Damaged, err = true, nil
	}
	if err != nil {
		return line, err
	}
	err = c.w.SetSummary(line)
	if errors.Is(err, store.ErrDamaged) {
		line.Damaged, err = true, nil
	}
	return line, err
}
