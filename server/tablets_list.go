package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// tabletsList lists the tablets of a team's people, for its lead
// and for admins.
func tabletsList(s *server, r *http.Request, c account.Caller) (answer, error) {
	team := mux.Vars(r)["team"]
	list, err := s.deps.Accounts.TabletsOfTeam(r.Context(), c, team)
	if err != nil {
		return answer{}, err
	}
	return ok(tabletList(list)).about("", team), nil
}

// tabletsOfPerson lists somebody's tablets, for themselves and for admins.
func tabletsOfPerson(s *server, r *http.Request, c account.Caller) (answer, error) {
	id := mux.Vars(r)["id"]
	list, err := s.deps.Accounts.TabletsOfPerson(r.Context(), c, id)
	if err != nil {
		return answer{}, err
	}
	return ok(tabletList(list)).about(id, ""), nil
}

func tabletList(list []account.TabletView) TabletList {
	a := TabletList{Tablets: make([]TabletRow, 0, len(list))}
	for _, t := range list {
		a.Tablets = append(a.Tablets, tabletRow(t))
	}
	return a
}

func tabletRow(t account.TabletView) TabletRow {
	return TabletRow{
		ID: t.ID, Person: t.Person, Name: t.Owner, Label: t.Label, LastPush: t.LastPush, Seen: t.Seen,
		LastN: t.Ack, Waiting: int(t.Waiting), OldestWaiting: t.OldestWaiting,
		Revoked: t.RevokedAt, RevokedBy: t.Withdrawer, Cleared: t.Cleared, Signs: t.Key != nil,
	}
}
