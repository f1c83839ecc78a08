package history

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
)

// What an anomaly is called.
const (
	Lost      = "lost"      // acknowledged, and not there afterwards
	Twice     = "twice"     // one event at two positions, or given twice by one pull
	Reordered = "reordered" // not in the order of positions, or of what ended before what
	Forked    = "forked"    // one position holds two events
	Changed   = "changed"   // the bytes are not those that were sent
	Skipped   = "skipped"   // a cursor went past an event without giving it
	Back      = "back"      // a cursor, a head, a receipt or a log went back
	Unsaid    = "unsaid"    // the log became another one without a 409
	Receipt   = "receipt"   // a receipt that does not fit what was sent
)

// Anomaly is something that no server can have answered that keeps its promises.
type Anomaly struct {
	Code, Text string
}

func (a Anomaly) String() string { return a.Code + ": " + a.Text }

// Settled names who had time to come to rest at the end: they exchanged without
// disturbance until nothing moved any more.
type Settled struct {
	// Tablets have sent everything that they hold.
	Tablets []string
	// Clients have pulled the teams that they pull to their ends.
	Clients []string
	// FromFiles are the lines of events that came in a file and lie on no tablet as
	// its own: to a restored server the file brings them again, and nobody else.
	FromFiles map[string]bool
}

// Summary says how much a check had to go by.
type Summary struct {
	Pushes, Pulls, Cursors int
	// Acknowledged counts the events that a receipt calls stored, known or set
	// aside, once for each log.
	Acknowledged int
	Logs         int
	// Teamless counts stored events of which nothing tells the team, in logs that
	// somebody pulled of: whether a pull lacks them can not be said.
	Teamless int
}

// Check finds what is wrong in a history.
func Check(list []Exchange, settled Settled) (Summary, []Anomaly) {
	c := &checker{logs: map[string]*log{}, cursors: map[cursorOf]*track{}}
	for i := range list {
		c.take(&list[i])
	}
	c.sweep()
	for _, p := range c.pulls {
		c.complete(p)
	}
	c.rest(settled)
	c.sum.Logs = len(c.logs)
	return c.sum, c.found
}

// checker first gathers what lies where in each log (take), then goes through the
// exchanges in their order (sweep), and last finds what is missing (complete, rest).
type checker struct {
	sum   Summary
	found []Anomaly
	logs  map[string]*log
	// order is the logs in the order in which clients first heard of them.
	order  []string
	points []point
	pulls  []*pull
	// cursors is what each client was given of each team of each log.
	cursors map[cursorOf]*track
}

// log is what clients saw of one log.
type log struct {
	id string
	// at is what lies at a position, places where an event lies.
	at     map[int64]event
	places map[string]int64
	// aside holds the bytes of what was set aside, by ref.
	aside map[string]map[string]bool
	// teams are the teams of subjects, sorted the positions of a team's events.
	teams  map[string]string
	sorted map[string][]int64

	// What was seen by those whose exchanges have ended, while sweeping.
	head int64
	high map[string]int64 // of teams
	acks map[string]int64 // of tablets
}

// cursorOf is a client's cursor in a team of a log.
type cursorOf struct{ client, log, team string }

// track is how a cursor went: the values that pulls gave, and the one that the client
// stored last.
type track struct {
	given  map[int64]bool
	stored int64
	// end is the last cursor of a pull that was told there is no more.
	end int64
}

// point is the begin or the end of an exchange. It has one of the last four.
type point struct {
	at     int64
	ends   bool
	client string
	push   *push
	pull   *pull
	cursor *Cursor
	copyOf string
}

func (c *checker) bad(code, format string, args ...any) {
	c.found = append(c.found, Anomaly{code, fmt.Sprintf(format, args...)})
}

func (c *checker) log(id string) *log {
	l := c.logs[id]
	if l == nil {
		l = &log{id: id, at: map[int64]event{}, places: map[string]int64{}, aside: map[string]map[string]bool{}, teams: map[string]string{},
			sorted: map[string][]int64{}, high: map[string]int64{}, acks: map[string]int64{}}
		c.logs[id] = l
	}
	return l
}

func (c *checker) track(client, log, team string) *track {
	key := cursorOf{client, log, team}
	if c.cursors[key] == nil {
		c.cursors[key] = &track{given: map[int64]bool{0: true}}
	}
	return c.cursors[key]
}

// take reads an exchange and notes what lies where.
func (c *checker) take(e *Exchange) {
	p := point{client: e.Client, cursor: e.Cursor, copyOf: e.CopyOf}
	if e.Cursor != nil {
		c.sum.Cursors++
	} else if e.believed() {
		p.push, p.pull = e.push(), e.pull()
	}
	if p.push == nil && p.pull == nil && p.cursor == nil && p.copyOf == "" {
		return
	}
	begin, end := p, p
	begin.at, end.at, end.ends = e.Begin, e.End, true
	c.points = append(c.points, begin, end)
	switch {
	case p.push != nil && e.Status == 200:
		c.sum.Pushes++
		c.taken(p.push)
	case p.pull != nil && e.Status == 200:
		c.sum.Pulls++
		c.pulls = append(c.pulls, p.pull)
		c.given(p.pull)
	}
}

// taken notes what a receipt says.
func (c *checker) taken(p *push) {
	l := c.log(p.answer.Log)
	if p.log != "" && p.log != p.answer.Log {
		c.bad(Unsaid, "a push to log %s of %s was taken into log %s", p.log, p.tablet, p.answer.Log)
	}
	if len(p.answer.Verdicts) != len(p.events) || p.answer.Ack < p.from+int64(len(p.events))-1 {
		c.bad(Receipt, "%d events of %s from %d on got %d verdicts and the receipt %d", len(p.events), p.tablet, p.from, len(p.answer.Verdicts), p.answer.Ack)
		return
	}
	last := map[string]int64{}
	for i, v := range p.answer.Verdicts {
		e := p.events[i]
		if v.N != p.from+int64(i) {
			c.bad(Receipt, "verdict %d of a push of %s from %d on is about %d", i, p.tablet, p.from, v.N)
			return
		}
		// An event may say another name than the one under which it was sent.
		e.Tablet, e.N = p.tablet, v.N
		switch v.Verdict {
		case verdictStored, verdictKnown:
			c.place(l, v.Pos, e, "the receipt of "+p.tablet)
			if v.Verdict == verdictStored && v.Pos <= last[e.Subject] {
				c.bad(Reordered, "%s of log %s has position %d, and what was said before it about %s has %d", e.ref(), l.id, v.Pos, e.Subject, last[e.Subject])
			}
			last[e.Subject] = v.Pos
		case verdictQuarantined:
			if l.aside[e.ref()] == nil {
				l.aside[e.ref()] = map[string]bool{}
			}
			l.aside[e.ref()][e.raw] = true
		default:
			c.bad(Receipt, "%s of log %s got the verdict %q", e.ref(), l.id, v.Verdict)
		}
	}
}

// given notes what a pull gave.
func (c *checker) given(p *pull) {
	l := c.log(p.answer.Log)
	if p.log != "" && p.log != p.answer.Log {
		c.bad(Unsaid, "a pull of team %s from log %s was answered from log %s", p.team, p.log, p.answer.Log)
	}
	last := p.after
	for i, one := range p.answer.Events {
		e := p.events[i]
		switch {
		case one.Pos == last && i > 0:
			c.bad(Twice, "a pull of team %s of log %s gave position %d twice", p.team, l.id, one.Pos)
		case one.Pos <= last || one.Pos > p.answer.Next:
			c.bad(Reordered, "a pull of team %s of log %s after %d gave position %d after %d, and %d as its cursor", p.team, l.id, p.after, one.Pos, last, p.answer.Next)
		}
		last = one.Pos
		c.place(l, one.Pos, e, "a pull of team "+p.team)
		if was := l.teams[e.Subject]; was != "" && was != p.team {
			c.bad(Forked, "%s of log %s came in a pull of team %s and belongs to team %s", e.ref(), l.id, p.team, was)
		}
		l.teams[e.Subject] = p.team
	}
	if p.answer.Next < p.after || p.answer.Next > p.answer.Head {
		c.bad(Back, "a pull of team %s of log %s after %d has %d as its cursor and %d as its head", p.team, l.id, p.after, p.answer.Next, p.answer.Head)
	}
}

// place notes that an event lies at a position.
func (c *checker) place(l *log, pos int64, e event, said string) {
	if pos < 1 {
		c.bad(Receipt, "%s of log %s has no position in %s", e.ref(), l.id, said)
		return
	}
	was, there := l.at[pos]
	switch at, placed := l.places[e.ref()]; {
	case there && was.ref() != e.ref():
		c.bad(Forked, "position %d of log %s is %s, and %s in %s", pos, l.id, was.ref(), e.ref(), said)
	case there && was.raw != e.raw:
		c.bad(Changed, "%s at position %d of log %s is %s\nand in %s %s", e.ref(), pos, l.id, was.raw, said, e.raw)
	case placed && at != pos:
		c.bad(Twice, "%s of log %s is at position %d and in %s at %d", e.ref(), l.id, at, said, pos)
	}
	if there {
		return
	}
	l.at[pos], l.places[e.ref()] = e, pos
	if team := e.team(); team != "" && l.teams[e.Subject] == "" {
		l.teams[e.Subject] = team
	}
}

// teamOf is the team of what lies at a position; empty when nothing tells it.
func (l *log) teamOf(pos int64) string { return l.teams[l.at[pos].Subject] }

// complete finds what a pull should have given.
func (c *checker) complete(p *pull) {
	l := c.log(p.answer.Log)
	gave := map[int64]bool{}
	for _, one := range p.answer.Events {
		gave[one.Pos] = true
	}
	list := l.sorted[p.team]
	from, _ := slices.BinarySearch(list, p.after+1)
	for _, pos := range list[from:] {
		if pos > p.answer.Next {
			break
		}
		if e := l.at[pos]; !gave[pos] {
			c.bad(Skipped, "a pull of team %s of log %s went from %d to %d without %s at %d", p.team, l.id, p.after, p.answer.Next, e.ref(), pos)
		}
	}
}

// arrange sorts the positions of each team.
func (c *checker) arrange() {
	asked := map[string]bool{}
	for _, p := range c.pulls {
		asked[p.answer.Log] = true
	}
	for _, l := range c.logs {
		c.sum.Acknowledged += len(l.aside)
		for _, pos := range slices.Sorted(maps.Keys(l.at)) {
			team := l.teamOf(pos)
			if team == "" {
				if asked[l.id] {
					c.sum.Teamless++
				}
				continue
			}
			l.sorted[team] = append(l.sorted[team], pos)
		}
		for _, e := range l.at {
			if e.Tablet != serverStream {
				c.sum.Acknowledged++
			}
		}
	}
}

// serverStream is the tablet of what the server writes itself.
const serverStream = "server"

// sweep goes through begins and ends in their order: what had ended when an
// exchange began binds its answer.
func (c *checker) sweep() {
	c.arrange()
	slices.SortStableFunc(c.points, func(a, b point) int { return cmp.Compare(a.at, b.at) })
	for _, p := range c.points {
		switch {
		case p.ends:
			c.ended(p)
		case p.push != nil:
			c.pushBegan(p.push)
		case p.pull != nil:
			c.pullBegan(p.client, p.pull)
		}
	}
}
