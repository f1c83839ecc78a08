package enginetest

import (
	"cmp"
	"strconv"

	"doorsill/internal/decimal"
	"doorsill/internal/engine"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// Result writes a result; titles names the items and sections of its checklist.
func Result(r *model.Result, titles phrase.Titles) []byte {
	return resultText(r, phrase.NewWriter(phrase.English(), titles))
}

func resultText(r *model.Result, words *phrase.Writer) []byte {
	w := resultWriter{words: words, out: make([]byte, 0, 32<<10)}
	w.line("doorsill-result", "1", engineWord(r.Engine), r.Rules)
	w.line("level", r.Level, flag(r.Interim), w.say(&r.Message))
	for i := range r.Gates {
		g := &r.Gates[i]
		w.line("gate", g.Level, flag(g.Met), g.Code, w.say(&g.Message))
	}
	for i := range r.Effects {
		f := &r.Effects[i]
		w.line("effect", f.Effect, cmp.Or(f.Item, "place:"+f.Place), w.say(&f.Message))
	}
	w.domains(r)
	w.items(r)
	for i := range r.Quantities {
		w.quantity(&r.Quantities[i])
	}
	w.control(r)
	w.choices(r)
	w.day(r)
	w.rest(r)
	return w.out
}

// engineWord is what the recordings call this engine. Were it the version itself,
// none of them could be compared any more after it rises.
func engineWord(version string) string {
	if version == engine.Version {
		return "1.2.1"
	}
	return version
}

type resultWriter struct {
	words *phrase.Writer
	text  []byte // room for a sentence
	out   []byte
}

func (w *resultWriter) line(first string, more ...string) { w.out = appendLine(w.out, first, more) }

func (w *resultWriter) say(m *message.Message) string {
	w.text = w.words.Append(w.text[:0], m)
	return string(w.text)
}

func (w *resultWriter) sentences(list []message.Message) string {
	b := w.text[:0]
	for i := range list {
		if i > 0 {
			b = append(b, ' ')
		}
		b = w.words.Append(b, &list[i])
	}
	w.text = b
	return string(b)
}

func number(m *decimal.Micro) string {
	if m == nil {
		return "-"
	}
	return m.Text()
}

func (w *resultWriter) domains(r *model.Result) {
	for i := range r.Domains {
		d := &r.Domains[i]
		score := "-"
		if d.Score != nil {
			score = strconv.Itoa(*d.Score)
		}
		w.line("domain", d.Code, score, strconv.Itoa(d.Low), strconv.Itoa(d.High), strconv.Itoa(d.Coverage),
			strconv.Itoa(d.Answered), strconv.Itoa(d.Applicable), w.say(&d.Message))
	}
	for i := range r.Costs {
		c := &r.Costs[i]
		w.line("cost", c.Domain, c.Item, c.Points.Short(1), w.say(&c.Message))
	}
}

func (w *resultWriter) items(r *model.Result) {
	for i := range r.Items {
		it := &r.Items[i]
		shown, level, points := "-", "-", "-"
		if it.Points != nil {
			level, points = it.Level, decimal.Micro(*it.Points*int(decimal.One)/100).Short(2)
		}
		if !it.Shown.Empty() {
			shown, level = w.say(&it.Shown), strconv.Itoa(it.Band)
		}
		w.line("item", it.ID, it.State, shown, level, points, flag(it.Computed), flag(it.Choice))
	}
}

func (w *resultWriter) quantity(q *model.Quantity) {
	unit := "-"
	if q.Unit != "" {
		words := message.New("engine.unit", message.Word("unit", q.Unit))
		unit = w.say(&words)
	}
	w.line("figure", q.Name, orDash(q.Site), orDash(q.Direction), number(q.Value), unit, q.Origin, w.say(&q.Message))
}

func (w *resultWriter) control(r *model.Result) {
	w.line("control", r.Control.Indoors, r.Control.Outdoors, w.say(&r.Control.Message))
	for i := range r.Reasons {
		one := &r.Reasons[i]
		w.line("reason", one.Rule, one.Verdict, w.say(&one.Message), w.say(&one.Change))
	}
	for i := range r.Classes {
		c := &r.Classes[i]
		w.line("class", c.ID, c.Verdict, number(c.Reserve), w.say(&c.Message))
	}
}

func (w *resultWriter) choices(r *model.Result) {
	for i := range r.Choices {
		c := &r.Choices[i]
		rank := "-"
		if c.Rank > 0 {
			rank = strconv.Itoa(c.Rank)
		}
		w.line("verdict", c.Control, c.Site, c.Indoors, c.Outdoors, rank, orDash(c.Role), w.sentences(c.Messages))
		for j := range c.Reasons {
			w.why(c.Control, c.Site, &c.Reasons[j])
		}
	}
	if r.Left != nil {
		w.why("-", "-", r.Left)
	}
	for i := range r.Windows {
		one := &r.Windows[i]
		w.line("window", one.State, one.Verdict, w.say(&one.Message), one.Level, w.say(&one.LevelMessage))
	}
}

func (w *resultWriter) why(control, site string, r *model.Reason) {
	where := "both"
	if r.OutdoorsOnly {
		where = "outdoors"
	}
	w.line("why", control, site, r.Rule, where, r.Verdict, w.say(&r.Message), orDash(w.say(&r.Change)))
}

func (w *resultWriter) day(r *model.Result) {
	for i := range r.Loads {
		l := &r.Loads[i]
		w.line("load", l.Control, l.Site, l.Direction, number(l.Share), w.say(&l.Message))
		for j := range l.Holding {
			w.quantity(&l.Holding[j])
		}
	}
	for i := range r.Limits {
		w.quantity(&r.Limits[i])
	}
	if r.Exposure != nil {
		w.line("exposure", r.Exposure.Site, w.say(&r.Exposure.Message))
	}
	if r.Recheck != nil {
		w.line("recheck-by", strconv.Itoa(r.Recheck.Weeks), w.say(&r.Recheck.Message))
	}
}

func (w *resultWriter) rest(r *model.Result) {
	for i := range r.Passages {
		p := &r.Passages[i]
		verdict := p.Verdict
		if verdict == model.PassageDoesNotFit {
			verdict = "does not fit"
		}
		w.line("passage", p.Place, verdict, number(p.LeftMM), w.say(&p.Message), orDash(w.say(&p.Assumes)), orDash(w.say(&p.Reference)))
	}
	for i := range r.Due {
		w.line("due", r.Due[i].Item, w.say(&r.Due[i].Message))
	}
	for i := range r.Provenance {
		p := &r.Provenance[i]
		status := statusOf(p)
		w.line("basis", p.Quantity, w.say(&p.Formula), w.say(&p.Source), w.say(&status))
	}
	for i := range r.Up {
		w.line("up", r.Up[i].Level, orDash(r.Up[i].Item), w.say(&r.Up[i].Message))
	}
	for i := range r.Missing {
		m := &r.Missing[i]
		what := m.Item
		if m.Reading != nil {
			what = "reading:" + m.Reading.What
			if m.Reading.Site != "" {
				what += ":" + m.Reading.Site + ":" + m.Reading.Direction
			}
		}
		w.line("missing", m.Group, what, w.say(&m.Message))
	}
	if o := r.Override; o != nil {
		word := "refused"
		if o.Accepted {
			word = "accepted"
		}
		w.line("override", word, o.Level, w.say(&o.Message))
	}
	for i := range r.Notes {
		w.line("note", w.say(&r.Notes[i]))
	}
}

func statusOf(p *model.Provenance) message.Message {
	return provenance.Status(p.Status).Message(p.Borrowed)
}
