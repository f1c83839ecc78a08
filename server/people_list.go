package server

import (
	"cmp"
	"context"
	"net/http"
	"slices"

	"doorsill/internal/account"
)

// peopleList lists everybody for an admin and colleagues for others.
func peopleList(s *server, r *http.Request, c account.Caller) (answer, error) {
	people, err := s.deps.Accounts.People(r.Context(), c)
	if err != nil {
		return answer{}, err
	}
	names, err := s.teamNames(r.Context(), c)
	if err != nil {
		return answer{}, err
	}
	a := PeopleList{People: make([]PersonRow, 0, len(people))}
	for _, p := range people {
		a.People = append(a.People, personRow(p, names))
	}
	return ok(a), nil
}

func (s *server) teamNames(ctx context.Context, c account.Caller) (map[string]string, error) {
	teams, err := s.deps.Accounts.Teams(ctx, c)
	names := make(map[string]string, len(teams))
	for _, t := range teams {
		names[t.ID] = t.Name
	}
	return names, err
}

func personRow(p account.PersonView, names map[string]string) PersonRow {
	row := PersonRow{
		ID: p.ID, Login: p.Login, Name: p.Name, Credential: p.Credential,
		Email: p.Email, Subject: p.Subject,
		Admin: p.Admin, Closed: p.Closed, Teams: make([]Membership, 0, len(p.Roles)),
	}
	for id, role := range p.Roles {
		row.Teams = append(row.Teams, Membership{ID: id, Name: names[id], Role: role})
	}
	slices.SortFunc(row.Teams, func(a, b Membership) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID)) })
	return row
}
