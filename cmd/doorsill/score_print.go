package main

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"doorsill/internal/checklist"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// wordPrinter prints until the first error.
type wordPrinter struct {
	out io.Writer
	err error
}

func (p *wordPrinter) line(text string) {
	if p.err == nil {
		_, p.err = fmt.Fprintln(p.out, text)
	}
}

// list prints lines under a title, and nothing where there are none.
func (p *wordPrinter) list(title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	p.line("\n" + title)
	for _, line := range lines {
		p.line("  " + line)
	}
}

// resultPrinter prints a result in words.
type resultPrinter struct {
	wordPrinter
	words *phrase.Writer
}

// result prints a result for a person, the gravest first.
func (p *resultPrinter) result(r *model.Result) error {
	say := p.words.Text
	p.line(say(&r.Message))
	if r.Override != nil {
		p.line("Decision: " + say(&r.Override.Message))
	}
	p.list("Effects", linesOf(r.Effects, func(f *model.RaisedEffect) string { return say(&f.Message) }))
	p.list("What can be used", p.usable(r))
	p.list("Shortest way up", linesOf(r.Up, func(s *model.Step) string { return say(&s.Message) }))
	p.list("Scores", linesOf(r.Domains, func(d *model.Domain) string { return say(&d.Message) }))
	p.control(r)
	p.day(r)
	p.list("Passages", linesOf(r.Passages, func(one *model.Passage) string {
		return one.Name + ", " + passageWords(one) + ": " + say(&one.Message)
	}))
	p.list("Due again", linesOf(r.Due, func(d *model.Due) string { return say(&d.Message) }))
	p.list("How far before the hand lets go", linesOf(r.Ways, func(w *model.SpeedWay) string { return say(&w.Message) }))
	p.list("Missing", linesOf(r.Missing, func(m *model.Missing) string { return m.Group + ": " + say(&m.Message) }))
	p.list("Cautions", linesOf(r.Notes, say))
	return p.err
}

// usable says in three lines a control which one comes first and which stands in
// for it, what decides about it, and what comes next.
func (p *resultPrinter) usable(r *model.Result) (lines []string) {
	for i := range r.Choices {
		c := &r.Choices[i]
		if c.Role == "" {
			continue
		}
		lines = append(lines, p.words.Text(&c.Subject)+" ("+c.Role+"): indoors "+p.verdict(c.Indoors)+", outdoors "+p.verdict(c.Outdoors)+".")
		if len(c.Reasons) == 0 {
			continue
		}
		decides := &c.Reasons[0] // the worst is first
		if decides.Verdict == "feasible" {
			decides = &c.Reasons[max(0, slices.IndexFunc(c.Reasons, func(one model.Reason) bool { return one.Rule == "force" }))]
		}
		lines = append(lines, "  "+p.rule(decides.Rule)+": "+p.words.Text(&decides.Message))
		if next := p.words.Text(&decides.Change); next != "" {
			lines = append(lines, "  next: "+next)
		}
	}
	return lines
}

// control prints what is said of controls.
func (p *resultPrinter) control(r *model.Result) {
	say := p.words.Text
	p.list("Control", []string{say(&r.Control.Message)})
	p.list("Rules", linesOf(r.Reasons, func(one *model.Reason) string {
		return p.rule(one.Rule) + ", " + p.verdict(one.Verdict) + ": " + p.reason(one)
	}))
	p.list("Usual controls at this site", linesOf(r.Classes, func(c *model.ClassVerdict) string { return say(&c.Message) }))
	p.list("Every control at every measured site", linesOf(r.Choices, func(c *model.Choice) string {
		return say(&c.Subject) + ": " + strings.Join(linesOf(c.Messages, say), " ")
	}))
	if r.Left != nil {
		p.list("When no stick fits", []string{p.reason(r.Left)})
	}
	p.list("Rested and tired", linesOf(r.Windows, func(w *model.Window) string { return say(&w.Message) + " " + say(&w.LevelMessage) }))
}

// reason is what a rule says, and what would change it.
func (p *resultPrinter) reason(r *model.Reason) string {
	return strings.TrimSpace(p.words.Text(&r.Message) + " " + p.words.Text(&r.Change))
}

// day prints what a day asks of the body.
func (p *resultPrinter) day(r *model.Result) {
	say := p.words.Text
	p.list("What driving asks of the body", linesOf(r.Loads, func(l *model.Load) string {
		return say(&l.Subject) + ": " + say(&l.Message)
	}))
	p.list("Limits of a usual day", linesOf(limits(r), func(q *model.Quantity) string { return say(&q.Message) }))
	if r.Exposure != nil {
		p.list("Exposure", []string{say(&r.Exposure.Message)})
	}
	if r.Recheck != nil {
		p.list("Look again", []string{"in " + strconv.Itoa(r.Recheck.Weeks) + " weeks: " + say(&r.Recheck.Message)})
	}
}

// overTime prints what visits say together.
func (p *resultPrinter) overTime(t *model.Trend) error {
	say := p.words.Text
	p.list("Over time", []string{say(&t.Message)})
	p.list("Usable force in the weakest needed direction", linesOf(t.Usable, func(u *model.UsableForce) string {
		return dayWords(u.Day) + ": " + u.Force.Text() + " gf"
	}))
	p.list("What to do", linesOf(t.Advice, say))
	if t.Recheck != nil {
		p.list("Look again over all visits", []string{"by " + dayWords(t.Recheck.Day) + ": " + say(&t.Recheck.Message)})
	}
	p.list("Cautions over time", linesOf(t.Notes, say))
	return p.err
}

// dayWords is the date of a day counted from 1 January 1970.
func dayWords(day int) string { return time.Unix(int64(day)*24*60*60, 0).UTC().Format(time.DateOnly) }

// limits are the quantities of endurance that say something.
func limits(r *model.Result) (list []model.Quantity) {
	add := func(all []model.Quantity) {
		for i := range all {
			if q := &all[i]; !q.Message.Empty() && q.Name != "hold-time-high" {
				list = append(list, *q)
			}
		}
	}
	for i := range r.Loads {
		add(r.Loads[i].Holding)
	}
	add(r.Limits)
	return list
}

func linesOf[T any](list []T, line func(*T) string) []string {
	lines := make([]string, len(list))
	for i := range list {
		lines[i] = line(&list[i])
	}
	return lines
}

// rule is what a rule is called.
func (p *resultPrinter) rule(id string) string {
	named := message.New("rule." + id)
	return p.words.Text(&named)
}

func passageWords(p *model.Passage) string {
	switch {
	case p.Barred:
		return "barred"
	case p.Verdict == model.PassageUnknown:
		return "not known yet"
	}
	return strings.ReplaceAll(p.Verdict, "-", " ")
}

// verdict is what a verdict is called in the sentences.
func (p *resultPrinter) verdict(id string) string {
	named := message.New("verdict." + id)
	return p.words.Text(&named)
}

// earlierChecklist says that a visit is scored by an earlier version of the standard
// checklist than the present one, whose limits may differ.
func (p *resultPrinter) earlierChecklist(by, present *checklist.Definition) error {
	if by.Version != present.Version {
		p.list("Checklist", []string{fmt.Sprintf("Scored by %s %s, as the visit names it. The present one is %s: its limits differ, and the level by it may be lower.", by.ID, by.Version, present.Version)})
	}
	return p.err
}
