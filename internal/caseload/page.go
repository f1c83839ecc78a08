package caseload

// page answers a checked query.
func (t *team) page(q Query, today int32) Page {
	matches, total, counts := t.scan(t.filter(q), today)
	p := Page{Total: total, Offset: q.Offset, Rows: make([]Row, 0, min(q.Limit, total)), Counts: counts}
	skip := q.Offset
	t.walk(q, func(slot int32) bool {
		if matches[slot>>6]&(1<<(slot&63)) == 0 {
			return true
		}
		if skip > 0 {
			skip--
			return true
		}
		p.Rows = append(p.Rows, t.row(slot, today))
		return len(p.Rows) < q.Limit
	})
	return p
}

// walk runs over the slots in the query's order until yield says stop.
func (t *team) walk(q Query, yield func(slot int32) bool) {
	var list []int32
	for i, name := range sorts {
		if name == q.Sort {
			list = t.orders[i]
		}
	}
	for i := range list {
		at := i
		if q.Desc {
			at = len(list) - 1 - i
		}
		if !yield(list[at]) {
			return
		}
	}
}

// scan passes every client once: which match, how many, and the queues.
func (t *team) scan(f filter, today int32) (matches []uint64, total int, counts Counts) {
	matches = make([]uint64, len(t.facts)/64+1)
	byStatus, byLevel := make([]int, len(statuses)), make([]int, len(levels))
	nobody := t.assigneeNumber("")
	for i := range t.facts {
		c := &t.facts[i]
		byStatus[c.status]++
		if c.status != closed {
			byLevel[c.level]++
			counts.add(c, nobody, today)
		}
		if f.passes(c, t.texts[i], today) {
			matches[i>>6] |= 1 << (i & 63)
			total++
		}
	}
	counts.Status, counts.Levels = make(map[string]int), make(map[string]int)
	for i, n := range byStatus {
		counts.Status[statuses[i]] = n
	}
	for i, n := range byLevel {
		counts.Levels[levels[i]] = n
	}
	return matches, total, counts
}

func (n *Counts) add(c *facts, nobody, today int32) {
	n.Open++
	n.Unassigned += one(c.assignee == nobody)
	n.Stops += one(c.flags&bitStop != 0)
	n.Choices += one(c.flags&bitChoice != 0)
	n.Quarantined += one(c.flags&bitQuarantined != 0)
	n.OnTablet += one(c.flags&bitTablet != 0)
	n.Rechecks += one(c.overdue(today))
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (t *team) row(slot int32, today int32) Row {
	s, c := &t.lines[slot], &t.facts[slot]
	r := Row{
		Client: s.Client, Ref: s.Ref, Name: s.Name, Team: s.Team,
		Priority: s.Priority, Course: s.Course, Assignee: s.Assignee,
		Status: s.Status, Version: s.Version, Referred: s.Referred,
		Level: s.Level, Effective: s.Effective, Interim: s.Interim,
		OpenStops: s.Stops, Limits: s.Limits, LastVisit: s.LastVisit,
		Signed: s.Signed, Visits: s.Visits, Recheck: s.Recheck,
		RecheckForecast: s.RecheckForecast, Unscored: s.Unscored + one(s.Damaged),
		WeeksLeft: weeksTo(s.ReserveOn, today), WeeksToCome: weeksTo(s.ExpectedOn, today),
		NeedsChoice: s.Choices, Quarantined: s.Quarantined, OnTablet: c.holders > 0,
	}
	if c.status != closed && c.referred != never {
		r.WaitingDays = int(max(0, today-c.referred))
	}
	if c.overdue(today) {
		r.RecheckOverdueDays = int(today - c.recheck)
	}
	return r
}

// weeksTo is the whole weeks from today to a date, 0 when it is past and nil
// when there is none.
func weeksTo(date string, today int32) *int {
	day := dayNumber(date)
	if day == never {
		return nil
	}
	weeks := int(max(0, day-today)) / 7
	return &weeks
}
