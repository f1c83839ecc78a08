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
	e.statement(&r.Say, "level", r.Level.String(), fields.Flag(r.Interim))
	for i := range r.Gates {
		g := &r.Gates[i]
		e.statement(&g.Say, "gate", g.Level.String(), fields.Flag(g.Met), g.Code)
	}
	for i := range r.Effects {
		f := &r.Effects[i]
		e.statement(&f.Say, "effect", f.Effect, e.id(f.Item))
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

// statement writes one line that ends with the words of a message.
func (e *encoder) statement(m *message.Message, first string, more ...string) {
	e.line(first, more...)
	e.out[len(e.out)-1] = '\t'
	e.out = append(e.words.Append(e.out, m), '\n')
}

// statements writes one line that ends with the words of messages that are read
// one after the other.
func (e *encoder) statements(list []message.Message, first string, more ...string) {
	e.line(first, more...)
	e.out[len(e.out)-1] = '\t'
	for i := range list {
		if i > 0 {
			e.out = append(e.out, ' ')
		}
		e.out = e.words.Append(e.out, &list[i])
	}
	e.out = append(e.out, '\n')
}

// say words a message.
func (e *encoder) say(m *message.Message) string {
	e.text = e.words.Append(e.text[:0], m)
	return string(e.text)
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
		e.statement(&d.Say, "domain", d.Code, score, provenance.Whole(d.Low), provenance.Whole(d.High), provenance.Whole(d.Coverage),
			provenance.Whole(d.Answered), provenance.Whole(d.Applicable))
	}
	for i := range e.result.Costs {
		c := &e.result.Costs[i]
		e.statement(&c.Say, "cost", e.result.Domains[c.Domain].Code, e.id(c.Item), c.Points.Short(1))
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
	e.statement(&f.Say, "figure", f.Name, fields.OrDash(f.Site), fields.OrDash(f.Direction), value, fields.OrDash(f.Unit), f.Word())
	if name, b, ok := strength.ProvenanceOf(f.Name); ok && value != "-" {
		e.provenance(name, b)
	}
}

func (e *encoder) control() {
	v := e.verdict
	e.statement(&v.Say, "control", v.Indoors.String(), v.Outdoors.String())
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
		e.statement(&c.Say, "class", c.ID, c.Verdict.String(), reserve)
	}
}

func (e *encoder) advice() {
	for i := range e.result.Up {
		s := &e.result.Up[i]
		e.statement(&s.Say, "up", s.Level.String(), e.id(s.Item))
	}
	for i := range e.result.Missing {
		m := &e.result.Missing[i]
		what := e.id(max(m.Item, -1))
		if m.Item < 0 {
			what = "reading:" + m.Reading
		}
		e.statement(&m.Say, "missing", m.Group, what)
	}
	if r := e.result.Ruling; r != nil {
		word := "refused"
		if r.Accepted {
			word = "accepted"
		}
		e.statement(&r.Say, "override", word, r.Level.String())
	}
}

func (e *encoder) notes() {
	for _, list := range [...][]message.Message{e.result.Notes, e.analysis.Notes, e.verdict.Notes} {
		for i := range list {
			e.statement(&list[i], "note")
		}
	}
	aid := message.New("engine.working-aid")
	e.statement(&aid, "note")
}
