package server

import (
	"net/http"
	"strconv"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
	"doorsill/internal/caseload"
	"doorsill/internal/store"
)

// quarantineList lists what was quarantined in a team.
func quarantineList(s *server, r *http.Request, c account.Caller) (answer, error) {
	team := mux.Vars(r)["team"]
	query, err := quarantineQuery(r)
	if err != nil {
		return answer{}, err
	}
	page, err := s.deps.Records.Quarantine(r.Context(), c, team, query)
	if err != nil {
		return answer{}, err
	}
	a, err := s.quarantineAnswer(r, c, page)
	return ok(a).about("", team), err
}

// quarantineOwn lists what was quarantined of the caller's own, in any team.
func quarantineOwn(s *server, r *http.Request, c account.Caller) (answer, error) {
	query, err := quarantineQuery(r)
	if err != nil {
		return answer{}, err
	}
	page, err := s.deps.Records.OwnQuarantine(r.Context(), c, query)
	if err != nil {
		return answer{}, err
	}
	a, err := s.quarantineAnswer(r, c, page)
	return ok(a), err
}

func quarantineQuery(r *http.Request) (q caseload.QuarantineQuery, err error) {
	if q.After, err = number(r, "after"); err != nil {
		return q, err
	}
	q.State = r.URL.Query().Get("state")
	q.Limit, err = number(r, "limit")
	return q, err
}

func (s *server) quarantineAnswer(r *http.Request, c account.Caller, page caseload.QuarantinePage) (QuarantineList, error) {
	confirmable, err := s.deps.Intake.Confirmable(r.Context(), c, page.Entries)
	if err != nil {
		return QuarantineList{}, err
	}
	a := QuarantineList{Entries: make([]QuarantineRow, 0, len(page.Entries)), Next: strconv.FormatInt(page.Next, 10), More: page.More}
	for _, q := range page.Entries {
		row := quarantineRow(q)
		row.Confirm = confirmable[q.ID]
		a.Entries = append(a.Entries, row)
	}
	return a, nil
}

func quarantineRow(q store.Quarantined) QuarantineRow {
	row := QuarantineRow{
		ID: strconv.FormatInt(q.ID, 10), Tablet: q.Tablet, N: q.N, Author: q.Person,
		Subject: q.Subject, Client: q.Client, Kind: q.Kind, Received: q.Received,
		Code: q.Code, Hint: q.Hint, Field: q.Field, Want: q.Want, Raw: string(q.Raw),
		Pos: q.Pos, Placed: q.PlacedAt,
	}
	if q.Settled != nil {
		row.Settled, row.SettledBy, row.Note = q.Settled.At, q.Settled.By, q.Settled.Note
		row.Confirmed = q.Settled.Confirmed
	}
	return row
}
