package intake

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"doorsill/internal/account"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// Assign sets who is responsible for a client and where the client stands,
// when version is still the client's. Clinicians and leads of the client's
// team may do so. It returns the client as it stands then. The error is
// *Changed when somebody else was quicker, *validation.Error,
// account.ErrSignedOut or account.ErrNotAllowed, or a fault.
func (in *Intake) Assign(ctx context.Context, who account.Caller, client string, version int64, assignee, status string) (model.Client, error) {
	if !who.SignedIn() {
		return model.Client{}, account.ErrSignedOut
	}
	var after model.Client
	err := in.submit(ctx, func(c *commit) (err error) {
		after, err = c.assign(who, client, model.ClientAssigned{
			Assignee: assignee, Status: status, Version: version + 1, By: who.Person,
		})
		return err
	})
	if err != nil {
		return model.Client{}, err
	}
	return after, nil
}

func (c *commit) assign(who account.Caller, id string, body model.ClientAssigned) (model.Client, error) {
	s, err := c.find(id)
	if err != nil {
		return model.Client{}, err
	}
	if s == nil || s.Kind != model.SubjectClient || !model.MayAssign(who.Role(s.Team)) {
		return model.Client{}, account.ErrNotAllowed
	}
	if err := c.assignable(s.Team, body); err != nil {
		return model.Client{}, err
	}
	before, err := c.client(id)
	if err != nil {
		return model.Client{}, err
	}
	if before.Version != body.Version-1 {
		return model.Client{}, &Changed{Client: before}
	}
	if err := c.say(s, model.KindClientAssigned, body); err != nil {
		return model.Client{}, err
	}
	return c.client(id)
}

func (c *commit) assignable(team string, body model.ClientAssigned) error {
	if !slices.Contains(model.Statuses(), body.Status) {
		return validation.Invalid("status", strings.Join(model.Statuses(), ", "))
	}
	if body.Assignee == "" {
		return nil
	}
	members, err := c.w.MembershipsOfTeam(team)
	if err != nil {
		return fmt.Errorf("assign client: %w", err)
	}
	for _, member := range members {
		if member.Person == body.Assignee {
			return nil
		}
	}
	return validation.Invalid("assignee", "somebody who works in the client's team")
}

func (c *commit) client(id string) (model.Client, error) {
	entries, err := c.w.EntriesOfSubject(id)
	if err != nil {
		return model.Client{}, fmt.Errorf("read client %s: %w", id, err)
	}
	return record.FoldClient(entries)
}

// say writes an event of the server's own.
func (c *commit) say(s *subject, kind string, body any) error {
	stream, err := c.w.Tablet(model.ServerTablet)
	if errors.Is(err, store.ErrNotFound) {
		stream, err = store.Tablet{ID: model.ServerTablet, Person: model.ServerTablet, Label: "the server itself", Registered: c.now}, nil
	}
	if err != nil {
		return fmt.Errorf("find the server's stream: %w", err)
	}
	content, err := json.Marshal(body)
	if err != nil {
		return fmt.Errorf("write %s: %w", kind, err)
	}
	stream.Ack++
	stream.LastPush = c.now
	raw, err := json.Marshal(model.Event{
		Tablet: model.ServerTablet, N: stream.Ack, Kind: kind, Subject: s.ID, Author: model.ServerTablet,
		At: c.now, Zone: "UTC", Schema: model.SchemaNow, Seen: c.head, Log: c.log, Body: content,
	})
	if err != nil {
		return fmt.Errorf("write %s: %w", kind, err)
	}
	pos, err := c.w.Append(store.Batch{
		Tablet: model.ServerTablet, FirstN: stream.Ack, Team: s.Team, Subject: s.ID, Received: c.now, Events: [][]byte{raw},
	})
	if err != nil {
		return fmt.Errorf("write %s: %w", kind, err)
	}
	c.head, s.last = pos, pos
	return errors.Join(c.w.SetTablet(stream), c.touch(s))
}
