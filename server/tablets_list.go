package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// tabletsList lists the tablets of a team's people, for its lead.
func tabletsList(s *server, r *http.Request, c account.Caller) (answer, error) {
	team := mux.Vars(r)["team"]
	list, err := s.deps.Accounts.TabletsOfTeam(r.Context(), c, team)
	if err != nil {
		return answer{}, err
	}
	a := TabletList{Tablets: make([]TabletRow, 0, len(list))}
	for _, t := range list {
		a.Tablets = append(a.Tablets, TabletRow{
			ID: t.ID, Person: t.Person, Name: t.Owner, Label: t.Label, LastPush: t.LastPush,
			LastN: t.Ack, Waiting: int(t.Waiting), OldestWaiting: t.OldestWaiting,
		})
	}
	return ok(a).about("", team), nil
}
