package engine

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
	"doorsill/internal/fields"
	"doorsill/internal/message"
	"doorsill/internal/phrase"
)

// encoder writes a result text.
type encoder struct {
	list     *readiness.Checklist
	words    *phrase.Writer
	setup    *strength.Setup
	analysis *strength.Analysis
	findings *trial.Findings
	verdict  *access.Result
	result   *readiness.Result
	input    *access.Input
	founded  []founded
	text     []byte // room for a sentence
	out      []byte
}

// resultRoom holds the result of a full visit, some 24 kB, so that it is not
// copied while it grows.
const resultRoom = 32 << 10

func (e *encoder) encode(v *visit) []byte {
	e.out = make([]byte, 0, resultRoom)
	e.line("doorsill-result", "1", Version, e.list.Hash())
	r := e.result
	e.line("level", r.Level.String(), fields.Flag(r.Interim), e.say(&r.Say))
	for i := range r.Gates {
		g := &r.Gates[i]
		e.line("gate", g.Level.String(), fields.Flag(g.Met), g.Code, e.say(&g.Say))
	}
	for i := range r.Effects {
		f := &r.Effects[i]
		e.line("effect", f.Effect, e.id(f.Item), e.say(&f.Say))
	}
	e.domains()
	e.items()
	e.quantities()
	e.control()
	e.choices()
	e.endure(v)
	e.passages(&v.home)
	e.due(v.due)
	e.provenances()
	e.advice()
	e.notes()
	return e.out
}

// line writes one line; an empty field in the middle would be read as nothing,
// so callers write "-" there.
func (e *encoder) line(first string, more ...string) { e.out = appendLine(e.out, first, more) }

// say words a message.
func (e *encoder) say(m *message.Message) string {
	e.text = e.words.Append(e.text[:0], m)
	return string(e.text)
}

// sentences words messages that are read one after the other.
func (e *encoder) sentences(list []message.Message) string {
	b := e.text[:0]
	for i := range list {
		if i > 0 {
			b = append(b, ' ')
		}
		b = e.words.Append(b, &list[i])
	}
	e.text = b
	return string(b)
}

func (e *encoder) id(item int) string {
	if item < 0 {
		return "-"
	}
	return e.list.At(item).ID
}

func (e *encoder) domains() {
	for i := range e.result.Domains {
		d := &e.result.Domains[i]
		score := "-"
		if d.HasScore {
			score = provenance.Whole(d.Score)
		}
		e.line("domain", d.Code, score, provenance.Whole(d.Low), provenance.Whole(d.High), provenance.Whole(d.Coverage),
			provenance.Whole(d.Answered), provenance.Whole(d.Applicable), e.say(&d.Say))
	}
	for i := range e.result.Costs {
		c := &e.result.Costs[i]
		e.line("cost", e.result.Domains[c.Domain].Code, e.id(c.Item), c.Points.Short(1), e.say(&c.Say))
	}
}

func (e *encoder) items() {
	for i := range e.result.Answers {
		a := &e.result.Answers[i]
		value, level, points := "-", "-", "-"
		if a.State == readiness.Answered {
			level, points = a.Level, decimal.Micro(a.Points*pointUnit).Short(2)
			if a.HasValue {
				shown := e.list.Shown(i, a.Value)
				value, level = e.say(&shown), decimal.Int(a.Band).Short(0)
			}
		}
		e.line("item", e.id(i), a.State.String(), value, level, points, fields.Flag(a.Computed), fields.Flag(a.Choice()))
	}
}

// pointUnit is one point of an answer's 100, in millionths of the whole.
const pointUnit = int(decimal.One) / 100

func (e *encoder) quantities() {
	e.analysis.Quantities(e.setup, e.quantity)
	e.findings.Quantities(e.quantity)
}

// quantityDecimals is how many decimals a quantity is written with.
const quantityDecimals = 3

func (e *encoder) quantity(f *quantity.Quantity) {
	value := "-"
	if f.Has() && !f.Thin {
		var room [32]byte
		value = string(f.Value.AppendShort(room[:0], quantityDecimals))
	}
	e.line("figure", f.Name, fields.OrDash(f.Site), fields.OrDash(f.Direction), value, fields.OrDash(f.Unit), f.Word(), e.say(&f.Say))
	if name, b, ok := strength.ProvenanceOf(f.Name); ok && value != "-" {
		e.provenance(name, b)
	}
}

func (e *encoder) control() {
	v := e.verdict
	e.line("control", v.Indoors.String(), v.Outdoors.String(), e.say(&v.Say))
	for i := range v.Reasons {
		r := &v.Reasons[i]
		e.line("reason", r.Rule, r.Verdict.String(), e.say(&r.Say), e.say(&r.Change))
	}
	for i := range v.Classes {
		c := &v.Classes[i]
		reserve := "-"
		if c.HasReserve {
			reserve = c.Reserve.Down(2).Short(2)
		}
		e.line("class", c.ID, c.Verdict.String(), reserve, e.say(&c.Say))
	}
}

func (e *encoder) advice() {
	for i := range e.result.Up {
		s := &e.result.Up[i]
		e.line("up", s.Level.String(), e.id(s.Item), e.say(&s.Say))
	}
	for i := range e.result.Missing {
		m := &e.result.Missing[i]
		what := e.id(max(m.Item, -1))
		if m.Item < 0 {
			what = "reading:" + m.Reading
		}
		e.line("missing", m.Group, what, e.say(&m.Say))
	}
	if r := e.result.Ruling; r != nil {
		word := "refused"
		if r.Accepted {
			word = "accepted"
		}
		e.line("override", word, r.Level.String(), e.say(&r.Say))
	}
}

func (e *encoder) notes() {
	for _, list := range [...][]message.Message{e.result.Notes, e.analysis.Notes, e.verdict.Notes} {
		for i := range list {
			e.line("note", e.say(&list[i]))
		}
	}
	aid := message.New("engine.working-aid")
	e.line("note", e.say(&aid))
}
