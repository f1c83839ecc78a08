package engine

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/say"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
	"doorsill/internal/fields"
)

// encoder writes a result text.
type encoder struct {
	list     *readiness.Checklist
	setup    *strength.Setup
	analysis *strength.Analysis
	findings *trial.Findings
	verdict  *access.Result
	result   *readiness.Result
	input    *access.Input
	founded  []founded
	out      []byte
}

// resultRoom holds the result of a full visit, some 24 kB, so that it is not
// copied while it grows.
const resultRoom = 32 << 10

func (e *encoder) encode(v *visit) []byte {
	e.out = make([]byte, 0, resultRoom)
	e.line("doorsill-result", "1", Version, e.list.Hash())
	r := e.result
	e.line("level", r.Level.String(), fields.Flag(r.Interim), r.Say)
	for _, g := range r.Gates {
		e.line("gate", g.Level.String(), fields.Flag(g.Met), g.Code, g.Say)
	}
	for _, f := range r.Effects {
		e.line("effect", f.Effect, e.id(f.Item), f.Say)
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
			score = say.Line("{0}", nil, float64(d.Score))
		}
		e.out = say.Append(e.out, "domain\t{}\t{}\t{0}\t{0}\t{0}\t{0}\t{0}\t{}\n", say.Words{d.Code, score, d.Say},
			float64(d.Low), float64(d.High), float64(d.Coverage), float64(d.Answered), float64(d.Applicable))
	}
	for _, c := range e.result.Costs {
		words := say.Words{e.result.Domains[c.Domain].Code, e.id(c.Item), c.Say}
		e.out = say.Append(e.out, "cost\t{}\t{}\t{1}\t{}\n", words, c.Points.Float())
	}
}

func (e *encoder) items() {
	for i := range e.result.Answers {
		a := &e.result.Answers[i]
		value, level, points := "-", "-", "-"
		if a.State == readiness.Answered {
			level, points = a.Level, decimal.Micro(a.Points*pointUnit).Short(2)
			if a.HasValue {
				value, level = e.list.Shown(i, a.Value), decimal.Int(a.Band).Short(0)
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
	e.line("figure", f.Name, fields.OrDash(f.Site), fields.OrDash(f.Direction), value, fields.OrDash(f.Unit), f.Word(), f.Say)
	if name, b, ok := strength.ProvenanceOf(f.Name); ok && value != "-" {
		e.provenance(name, b)
	}
}

func (e *encoder) control() {
	v := e.verdict
	e.line("control", v.Indoors.String(), v.Outdoors.String(), v.Say)
	for _, r := range v.Reasons {
		e.line("reason", r.Rule, r.Verdict.String(), r.Say, r.Change)
	}
	for _, c := range v.Classes {
		reserve := "-"
		if c.HasReserve {
			reserve = c.Reserve.Down(2).Short(2)
		}
		e.line("class", c.ID, c.Verdict.String(), reserve, c.Say)
	}
}

func (e *encoder) advice() {
	for _, s := range e.result.Up {
		e.line("up", s.Level.String(), e.id(s.Item), s.Say)
	}
	for _, m := range e.result.Missing {
		what := e.id(max(m.Item, -1))
		if m.Item < 0 {
			what = "reading:" + m.Reading
		}
		e.line("missing", m.Group, what, m.Say)
	}
	if r := e.result.Ruling; r != nil {
		word := "refused"
		if r.Accepted {
			word = "accepted"
		}
		e.line("override", word, r.Level.String(), r.Say)
	}
}

func (e *encoder) notes() {
	for _, list := range [...][]string{e.result.Notes, e.analysis.Notes, e.verdict.Notes} {
		for _, note := range list {
			e.line("note", note)
		}
	}
	e.line("note", "This is a working aid and has not been scientifically validated. It does not decide whether somebody may drive; the licensed therapist who saw the person decides.")
}
