package verify

import (
	"reflect"
	"slices"

	"doorsill/internal/audit"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// people checks that accounts, teams and sessions are found from both sides.
func (c *checker) people() error {
	people, err := c.r.People()
	if err != nil {
		c.fault("people", "They can not be read: %v.", err)
		return nil
	}
	known := map[string]bool{}
	members := map[store.Membership]bool{}
	for _, p := range people {
		c.report.People++
		known[p.ID] = true
		c.person(p, members)
	}
	teams, err := c.r.Teams()
	if err != nil {
		c.fault("teams", "They can not be read: %v.", err)
		return nil
	}
	for _, team := range teams {
		c.team(team, members)
	}
	for m := range members {
		c.fault("person "+m.Person, "The list of team %s does not have them in the same role.", m.Team)
	}
	c.sessions()
	return nil
}

// sessions checks that everybody finds all of their sessions, to end them.
func (c *checker) sessions() {
	all, err := c.r.Sessions()
	if err != nil {
		c.fault("sessions", "They can not be read: %v.", err)
		return
	}
	listed := map[string]map[store.Session]bool{}
	for _, s := range all {
		if listed[s.Person] == nil {
			own, err := c.r.SessionsOfPerson(s.Person)
			if err != nil {
				c.fault("person "+s.Person, "Their sessions can not be read: %v.", err)
			}
			listed[s.Person] = make(map[store.Session]bool, len(own))
			for _, one := range own {
				listed[s.Person][one] = true
			}
		}
		if !listed[s.Person][s] {
			c.fault("person "+s.Person, "A session of theirs is not listed as theirs.")
		}
	}
}

func (c *checker) person(p store.Person, members map[store.Membership]bool) {
	where := "person " + p.ID
	if found, err := c.r.Person(p.ID); err != nil || !reflect.DeepEqual(found, p) {
		c.fault(where, "They are not found under their id%s.", reason(err))
	}
	if found, err := c.r.PersonByLogin(p.Login); p.Login != "" && (err != nil || found.ID != p.ID) {
		c.fault(where, "Their login leads to nobody or to somebody else%s.", reason(err))
	}
	roles, err := c.r.MembershipsOfPerson(p.ID)
	if err != nil {
		c.fault(where, "Their teams can not be read: %v.", err)
	}
	for _, m := range roles {
		if !slices.Contains(model.Roles(), m.Role) {
			c.fault(where, "Their role in team %s is unknown.", m.Team)
		}
		members[m] = true
	}
	sessions, err := c.r.SessionsOfPerson(p.ID)
	if err != nil {
		c.fault(where, "Their sessions can not be read: %v.", err)
	}
	if slices.ContainsFunc(sessions, func(s store.Session) bool { return s.Person != p.ID }) {
		c.fault(where, "A session of somebody else is listed as theirs.")
	}
}

func (c *checker) team(team store.Team, members map[store.Membership]bool) {
	where := "team " + team.ID
	if found, err := c.r.Team(team.ID); err != nil || found != team {
		c.fault(where, "It is not found under its id%s.", reason(err))
	}
	list, err := c.r.MembershipsOfTeam(team.ID)
	if err != nil {
		c.fault(where, "Its people can not be read: %v.", err)
	}
	for _, m := range list {
		if !members[m] {
			c.fault(where, "It lists person %s, who is not in it in that role.", m.Person)
		}
		delete(members, m)
	}
}

// trail follows the chain of the audit trail.
func (c *checker) trail() error {
	last, err := audit.Follow(c.r)
	if err != nil {
		c.fault("audit trail", "%v.", err)
	}
	c.report.Trail, c.report.TrailHead = last.Seq, last.Hash
	return nil
}
