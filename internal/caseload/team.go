package caseload

import (
	"slices"
	"sort"

	"doorsill/internal/store"
)

// team is one team's clients in columns: a slot number names the same client
// in all of them. Filters run over the narrow columns; orders are kept sorted,
// so that a page never sorts.
type team struct {
	id        string
	slots     map[string]int32
	facts     []facts
	texts     []string // folded name and reference, for search
	names     []string // folded name, for order
	lines     []store.Summary
	assignees map[string]int32
	orders    [len(sorts)][]int32
}

// facts are what filters, counts and most orders look at.
type facts struct {
	assignee int32
	referred int32 // day number; never when unknown
	recheck  int32 // day number; never when there is none
	stops    int32
	holders  int16 // tablets that reported unsent entries
	level    int8
	status   int8
	priority int8
	flags    uint8
}

// never sorts after every day.
const never = int32(1<<31 - 1)

func (c *facts) overdue(today int32) bool { return c.recheck < today && c.status != closed }

func newTeam(id string) *team {
	return &team{id: id, slots: make(map[string]int32), assignees: make(map[string]int32)}
}

func (t *team) has(client string) bool {
	_, ok := t.slots[client]
	return ok
}

// add appends a client without keeping the orders; sortAll must follow.
func (t *team) add(s store.Summary) {
	slot := int32(len(t.lines))
	t.slots[s.Client] = slot
	t.facts = append(t.facts, facts{})
	t.texts = append(t.texts, "")
	t.names = append(t.names, "")
	t.lines = append(t.lines, store.Summary{})
	t.set(slot, s)
	for i := range t.orders {
		t.orders[i] = append(t.orders[i], slot)
	}
}

func (t *team) sortAll() {
	for i := range t.orders {
		slices.SortFunc(t.orders[i], t.comparison(i))
	}
}

// put adds or replaces a client and keeps every order.
func (t *team) put(s store.Summary) {
	slot, known := t.slots[s.Client]
	if known {
		for i := range t.orders {
			at := t.find(i, slot)
			t.orders[i] = slices.Delete(t.orders[i], at, at+1)
		}
		t.set(slot, s)
	} else {
		slot = int32(len(t.lines))
		t.add(s)
		for i := range t.orders {
			t.orders[i] = t.orders[i][:len(t.orders[i])-1]
		}
	}
	for i := range t.orders {
		t.orders[i] = slices.Insert(t.orders[i], t.find(i, slot), slot)
	}
}

// find returns where the slot is, or belongs, in an order.
func (t *team) find(order int, slot int32) int {
	compare, list := t.comparison(order), t.orders[order]
	return sort.Search(len(list), func(i int) bool { return compare(list[i], slot) >= 0 })
}

func (t *team) set(slot int32, s store.Summary) {
	number, ok := t.assignees[s.Assignee]
	if !ok {
		number = int32(len(t.assignees))
		t.assignees[s.Assignee] = number
	}
	c := facts{
		assignee: number, referred: dayNumber(s.Referred), recheck: dayNumber(s.Recheck),
		stops: int32(s.Stops), holders: t.facts[slot].holders,
		level: rank(levels, s.Effective, noLevel), status: rank(statuses, s.Status, 0),
		priority: rank(priorities, s.Priority, noPriority),
	}
	c.mark(bitStop, s.Stops > 0)
	c.mark(bitChoice, s.Choices > 0)
	c.mark(bitQuarantined, s.Quarantined > 0)
	c.mark(bitTablet, c.holders > 0)
	t.facts[slot] = c
	t.names[slot] = fold(s.Name)
	t.texts[slot] = t.names[slot] + " " + fold(s.Ref)
	t.lines[slot] = s
}

func (c *facts) mark(bit uint8, on bool) {
	c.flags &^= bit
	if on {
		c.flags |= bit
	}
}

// hold adds to the number of tablets that hold something of a client.
func (t *team) hold(client string, by int16) {
	slot, ok := t.slots[client]
	if !ok {
		return
	}
	c := &t.facts[slot]
	c.holders = max(0, c.holders+by)
	c.mark(bitTablet, c.holders > 0)
}

func rank(words []string, word string, unknown int8) int8 {
	if n := number(words, word); n >= 0 {
		return n
	}
	return unknown
}
