package history

import (
	"maps"
	"slices"
)

// hears notes that a client was told of a log, which must not be one of before.
func (c *checker) hears(id string) {
	if id != "" && !slices.Contains(c.order, id) {
		c.order = append(c.order, id)
	}
}

// current finds an exchange that was answered from a log after a client had heard of
// the next one, before the exchange began.
func (c *checker) current(id, who string) {
	if at := slices.Index(c.order, id); id != "" && at >= 0 && at+1 < len(c.order) {
		c.bad(Back, "%s was answered from log %s after log %s had begun", who, id, c.order[len(c.order)-1])
	}
}

// pushBegan holds the answer of a push to what had been seen before it.
func (c *checker) pushBegan(p *push) {
	c.current(p.answer.Log, "a push of "+p.tablet)
	switch {
	case p.answer.Error == "gap" && p.log != "":
		if l := c.log(p.log); p.answer.Ack < l.acks[p.tablet] {
			c.bad(Lost, "log %s asks %s for %d, of which it had acknowledged %d", l.id, p.tablet, p.answer.Ack+1, l.acks[p.tablet])
		}
	case p.answer.Error == "":
		l := c.log(p.answer.Log)
		if p.answer.Ack < l.acks[p.tablet] {
			c.bad(Lost, "log %s acknowledges %d of %s and had acknowledged %d", l.id, p.answer.Ack, p.tablet, l.acks[p.tablet])
		}
		for _, v := range p.answer.Verdicts {
			if v.Verdict == verdictStored && v.Pos <= l.head {
				c.bad(Reordered, "%s:%d was stored at %d of log %s, which had come to %d before it was sent", p.tablet, v.N, v.Pos, l.id, l.head)
			}
		}
	}
}

// pullBegan holds the answer of a pull to what had been seen before it.
func (c *checker) pullBegan(client string, p *pull) {
	c.current(p.answer.Log, "a pull of "+client)
	if p.answer.Error != "" {
		return
	}
	l := c.log(p.answer.Log)
	if p.answer.Head < l.head {
		c.bad(Lost, "the head of log %s is %d for %s and was %d before", l.id, p.answer.Head, client, l.head)
	}
	if !p.answer.More && p.answer.Next < l.high[p.team] {
		c.bad(Lost, "%s was told that team %s of log %s ends at %d, and position %d had been acknowledged", client, p.team, l.id, p.answer.Next, l.high[p.team])
	}
}

// ended takes in what a client was told.
func (c *checker) ended(p point) {
	switch {
	case p.copyOf != "":
		c.copied(p.client, p.copyOf)
	case p.cursor != nil:
		c.storedCursor(p.client, p.cursor)
	case p.push != nil:
		c.hears(p.push.answer.Log)
		c.pushEnded(p.push)
	case p.pull != nil:
		c.hears(p.pull.answer.Log)
		c.pullEnded(p.client, p.pull)
	}
}

func (c *checker) pushEnded(p *push) {
	if p.answer.Error != "" {
		return
	}
	l := c.log(p.answer.Log)
	l.acks[p.tablet] = max(l.acks[p.tablet], p.answer.Ack)
	for _, v := range p.answer.Verdicts {
		if v.Verdict == verdictQuarantined {
			continue
		}
		l.head = max(l.head, v.Pos)
		if team := l.teamOf(v.Pos); team != "" {
			l.high[team] = max(l.high[team], v.Pos)
		}
	}
}

func (c *checker) pullEnded(client string, p *pull) {
	if p.answer.Error != "" {
		return
	}
	l := c.log(p.answer.Log)
	l.head = max(l.head, p.answer.Head)
	for _, one := range p.answer.Events {
		l.high[p.team] = max(l.high[p.team], one.Pos)
	}
	t := c.track(client, l.id, p.team)
	// Not when it began: what a proxy had kept began before the client could ask.
	if !t.given[p.after] {
		c.bad(Skipped, "%s pulls team %s of log %s after %d, which it was never given as a cursor", client, p.team, l.id, p.after)
	}
	t.given[p.answer.Next] = true
	if !p.answer.More {
		t.end = max(t.end, p.answer.Next)
	}
}

// storedCursor holds what a client stored to what it was given.
func (c *checker) storedCursor(client string, at *Cursor) {
	t := c.track(client, at.Log, at.Team)
	if !t.given[at.After] {
		c.bad(Skipped, "%s stored the cursor %d of team %s of log %s, which it was never given", client, at.After, at.Team, at.Log)
	}
	if at.After < t.stored {
		c.bad(Back, "%s put its cursor of team %s of log %s from %d back to %d", client, at.Team, at.Log, t.stored, at.After)
	}
	t.stored = at.After
}

// copied gives a client the cursors of another one, or its own of before.
func (c *checker) copied(client, from string) {
	for key, t := range maps.Clone(c.cursors) {
		if key.client == from {
			c.cursors[cursorOf{client, key.log, key.team}] = &track{given: maps.Clone(t.given), end: t.end}
		}
	}
}

// rest finds what those who came to rest lack in the last log.
func (c *checker) rest(settled Settled) {
	if len(c.order) == 0 {
		return
	}
	last := c.log(c.order[len(c.order)-1])
	filed := map[string]bool{}
	for line, is := range settled.FromFiles {
		filed[readEvent([]byte(line)).raw] = is
	}
	for _, l := range c.logs {
		for _, pos := range slices.Sorted(maps.Keys(l.at)) {
			e := l.at[pos]
			if slices.Contains(settled.Tablets, e.Tablet) && !last.has(e) && !filed[e.raw] {
				c.bad(Lost, "%s was acknowledged in log %s at %d and log %s does not have it", e.ref(), l.id, pos, last.id)
			}
		}
	}
	for key, t := range c.cursors {
		if !slices.Contains(settled.Clients, key.client) || key.log != last.id {
			continue
		}
		if list := last.sorted[key.team]; len(list) > 0 && t.end < list[len(list)-1] {
			c.bad(Lost, "%s never got team %s of log %s beyond %d, which goes to %d", key.client, key.team, last.id, t.end, list[len(list)-1])
		}
	}
}

// has says whether an event is in the log or was set aside there.
func (l *log) has(e event) bool {
	pos, placed := l.places[e.ref()]
	return placed && l.at[pos].raw == e.raw || l.aside[e.ref()][e.raw]
}
