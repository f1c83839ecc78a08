package enginetest

import (
	"strconv"
	"strings"

	"doorsill/internal/engine"
	"doorsill/internal/engine/trend"
	"doorsill/internal/model"
)

// Trend is TrendOf as text, as lines; an answer that begins with
// "error" and a TAB says in a sentence what was wrong.
func Trend(text string) string {
	var q model.TrendQuestion
	for line := 1; text != ""; line++ {
		var row string
		row, text, _ = strings.Cut(text, "\n")
		f := reader{rest: row, line: line}
		if readTrend(&f, &q); f.err != nil {
			return failed(f.err)
		}
	}
	t, err := engine.TrendOf(&q)
	if err != nil {
		return failed(err)
	}
	return string(trendText(&t))
}

func readTrend(f *reader, q *model.TrendQuestion) {
	switch kind := f.next("kind"); kind {
	case "course":
		q.Course = f.next("course")
	case "wait":
		weeks := f.whole("weeks", 0, most)
		q.WaitWeeks = &weeks
	case "judged":
		loss := f.number("loss a week", 0, most)
		q.JudgedLoss = &loss
	case "needed":
		q.NeededGF = f.number("force", 0, most)
	case "recheck":
		q.RecheckDay, q.RecheckWeeks = f.whole("day", 0, most), f.whole("weeks", 1, most)
	case "point":
		readPoint(f, q)
	default:
		f.fail("kind", "course, wait, judged, needed, recheck or point", kind)
	}
	f.end()
}

func readPoint(f *reader, q *model.TrendQuestion) {
	p := model.TrendPoint{Day: f.whole("day", 0, most), Quantity: f.next("figure")}
	if strings.HasPrefix(p.Quantity, "domain-") {
		score, coverage, _ := strings.Cut(f.next("value"), "/")
		p.Value = readPart(f, score, func(f *reader) float64 { return f.number("score", 0, 100) })
		p.Coverage = readPart(f, coverage, func(f *reader) int { return f.whole("coverage", 0, 100) })
	} else {
		p.Value = f.number("value", 0, most)
	}
	f.next("unit")
	p.Conditions = conditionsOf(f.next("conditions"))
	if n := len(q.Points); f.err == nil && n > 0 && p.Day < q.Points[n-1].Day {
		f.fail("day", "a day not before the one above", strconv.Itoa(p.Day))
	}
	q.Points = append(q.Points, p)
}

// readPart reads one of two numbers in a field.
func readPart[T any](f *reader, text string, read func(*reader) T) T {
	inner := reader{rest: text, line: f.line}
	value := read(&inner)
	if f.err == nil {
		f.err = inner.err
	}
	return value
}

// conditionsOf reads the seven words; what is missing is not known.
func conditionsOf(text string) model.TrendConditions {
	words := append(strings.Split(text, "|"), make([]string, 7)...)
	return model.TrendConditions{Support: words[0], Site: words[1], Control: words[2], Settings: words[3],
		TimeOfDay: words[4], Rater: words[5], Checklist: words[6]}
}

// lines are the lines of an answer.
type lines []byte

func (l *lines) add(first string, more ...string) { *l = appendLine(*l, first, more) }

func trendText(t *model.Trend) lines {
	l := compared(t)
	for _, u := range t.Usable {
		l.add("usable", strconv.Itoa(u.Day), u.Force.Text())
	}
	if t.Line != nil {
		source := t.Line.Source
		if source == trend.OwnData {
			source = "own data"
		}
		l.add("line", source, number(t.Line.Slope), number(t.Line.Low), number(t.Line.High), number(t.Line.At))
	}
	for i := range t.Reaches {
		r := &t.Reaches[i]
		l.add("weeks", r.Reserve.Text(), flag(r.Already), number(r.Weeks), number(r.Early), number(r.Late), sentence(r.Message))
	}
	l.add("say", sentence(t.Message))
	for _, m := range t.Advice {
		l.add("advice", sentence(m))
	}
	for _, m := range t.Notes {
		l.add("note", sentence(m))
	}
	for i := range t.Provenance {
		p := &t.Provenance[i]
		l.add("basis", sentence(p.Formula), sentence(p.Source), sentence(statusOf(p)))
	}
	if r := t.Recheck; r != nil {
		l.add("recheck-by", strconv.Itoa(r.Day), strconv.Itoa(r.Weeks), r.By, sentence(r.Message))
	}
	return l
}

// compared writes the changes between two visits, under what was not the same at
// them.
func compared(t *model.Trend) (l lines) {
	changes := t.Changes
	for i := range t.Conditions {
		d := &t.Conditions[i]
		for len(changes) > 0 && comesBefore(&changes[0], d) {
			l.change(&changes[0])
			changes = changes[1:]
		}
		l.add("conditions", strconv.Itoa(d.From), strconv.Itoa(d.To), sentence(d.Message))
	}
	for i := range changes {
		l.change(&changes[i])
	}
	return l
}

// comesBefore reports whether a change is between visits that were compared
// before those of d: each with the one before it, and then the last with the first.
func comesBefore(c *model.Change, d *model.DifferentConditions) bool {
	return c.To < d.To || c.To == d.To && c.From > d.From
}

func (l *lines) change(c *model.Change) {
	l.add("change", c.Quantity, strconv.Itoa(c.From), strconv.Itoa(c.To), c.Direction, sentence(c.Message))
}
