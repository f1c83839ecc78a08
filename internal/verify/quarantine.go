package verify

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// quarantineListed checks that the people who must see an entry find it, also
// among the open ones.
func (c *checker) quarantineListed(where string, q *store.Quarantined, lists quarantineLists) {
	for _, f := range []store.QuarantineFilter{
		{Team: q.Team}, {Tablet: q.Tablet}, {Client: q.Client}, {Person: q.Person},
	} {
		if f == (store.QuarantineFilter{}) {
			continue
		}
		for range 2 { // all, then those that are open
			if list := lists.of(c.r, f); list.err != nil || !list.ids[q.ID] {
				c.fault(where, "A list that should name it does not%s.", reason(list.err))
			}
			if f.Open = true; !q.Open() {
				break
			}
		}
	}
}

// quarantineLists reads each list once: they are long where a tablet sent much
// that could not be taken in.
type quarantineLists map[store.QuarantineFilter]quarantineList

type quarantineList struct {
	ids map[int64]bool
	err error
}

func (l quarantineLists) of(r store.Reader, f store.QuarantineFilter) quarantineList {
	list, read := l[f]
	if read {
		return list
	}
	found, err := r.QuarantinedOf(f)
	list = quarantineList{make(map[int64]bool, len(found)), err}
	for i := range found {
		list.ids[found[i].ID] = true
	}
	l[f] = list
	return list
}

// quarantineFound checks that each entry is found by the bytes that came, and a
// tablet's first entry about a subject by that. The first of several counts.
func (c *checker) quarantineFound(list []store.Quarantined) {
	type came struct {
		tablet string
		n      int64
		raw    string
	}
	first, teams := map[came]bool{}, map[[2]string]bool{}
	for i := range list {
		q := &list[i]
		where := fmt.Sprintf("quarantined entry %d", q.ID)
		if as := (came{q.Tablet, q.N, string(q.Raw)}); !first[as] {
			first[as] = true
			if found, err := c.r.QuarantinedAs(q.Tablet, q.N, q.Raw); err != nil || found.ID != q.ID {
				c.fault(where, "It is not found by what came under number %d of tablet %s%s.", q.N, q.Tablet, reason(err))
			}
		}
		about := [2]string{q.Tablet, q.Subject}
		if !validation.ValidID(q.Subject) || q.Team == "" || teams[about] {
			continue
		}
		teams[about] = true
		if team, err := c.r.QuarantineTeam(q.Tablet, q.Subject); err != nil || team != q.Team {
			c.fault(where, "Another team is noted for what tablet %s sends about the same%s.", q.Tablet, reason(err))
		}
	}
}

// quarantineCounted counts the open entries anew.
func (c *checker) quarantineCounted(list []store.Quarantined) {
	type name struct {
		by   store.QuarantineList
		name string
	}
	want := map[name]store.QuarantineCount{}
	for i := range list {
		q := &list[i]
		for _, of := range []name{
			{store.QuarantineByTeam, q.Team}, {store.QuarantineByTablet, q.Tablet}, {store.QuarantineByClient, q.Client}, {store.QuarantineByPerson, q.Person},
		} {
			n := want[of]
			if q.Open() {
				n.Entries++
				n.Bytes += int64(len(q.Raw))
			}
			want[of] = n
		}
	}
	names := slices.SortedFunc(maps.Keys(want), func(a, b name) int { return cmp.Or(cmp.Compare(a.by, b.by), cmp.Compare(a.name, b.name)) })
	for _, of := range names {
		if of.name == "" {
			continue
		}
		if kept, err := c.r.QuarantineOpen(of.by, of.name); err != nil || kept != want[of] {
			c.fault(fmt.Sprintf("%s %s", of.by, of.name), "It is said to have %d open quarantined entries of %d bytes and has %d of %d%s.",
				kept.Entries, kept.Bytes, want[of].Entries, want[of].Bytes, reason(err))
		}
	}
}
