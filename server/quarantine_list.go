package server

import (
	"net/http"
	"strconv"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
	"doorsill/internal/store"
)

// quarantineList lists what was quarantined in a team.
func quarantineList(s *server, r *http.Request, c account.Caller) (answer, error) {
	team := mux.Vars(r)["team"]
	list, err := s.deps.Records.Quarantine(r.Context(), c, team)
	if err != nil {
		return answer{}, err
	}
	confirmable, err := s.deps.Intake.Confirmable(r.Context(), c, list)
	if err != nil {
		return answer{}, err
	}
	a := QuarantineList{Entries: make([]QuarantineRow, 0, len(list))}
	for _, q := range list {
		row := quarantineRow(q)
		row.Confirm = confirmable[q.ID]
		a.Entries = append(a.Entries, row)
	}
	return ok(a).about("", team), nil
}

func quarantineRow(q store.Quarantined) QuarantineRow {
	row := QuarantineRow{
		ID: strconv.FormatInt(q.ID, 10), Tablet: q.Tablet, N: q.N, Author: q.Person,
		Subject: q.Subject, Client: q.Client, Kind: q.Kind, Received: q.Received,
		Code: q.Code, Hint: q.Hint, Field: q.Field, Want: q.Want, Raw: string(q.Raw),
	}
	if q.Settled != nil {
		row.Settled, row.SettledBy, row.Note = q.Settled.At, q.Settled.By, q.Settled.Note
		row.Confirmed = q.Settled.Confirmed
	}
	return row
}
