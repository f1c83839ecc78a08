package engine

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// builder puts a result together.
type builder struct {
	list     *readiness.Checklist
	setup    *strength.Setup
	analysis *strength.Analysis
	findings *trial.Findings
	verdict  *access.Result
	judged   *readiness.Result
	input    *access.Input
	// conflicts are answers that measured places or the set-up contradict.
	conflicts []message.Message
	out       model.Result
}

func (b *builder) result(v *visit) model.Result {
	r := b.judged
	b.out = model.Result{
		Format: model.ResultFormat, Engine: Version, Catalogue: message.Catalogue, Rules: b.list.Hash(),
		Level: r.Level.String(), Interim: r.Interim, Message: r.Say, Headline: r.Headline, Aloud: r.Aloud,
		Provenance: make([]model.Provenance, 0, usualProvenances),
	}
	b.gates()
	b.domains()
	b.items()
	b.quantities()
	b.control()
	b.choices()
	b.endure(v)
	b.passages(v)
	b.ways(v)
	for _, id := range v.due {
		b.out.Due = append(b.out.Due, model.Due{Item: id, Message: readiness.Due(id)})
	}
	b.advice()
	b.notes()
	return b.out
}

func (b *builder) id(item int) string {
	if item < 0 {
		return ""
	}
	return b.list.At(item).ID
}

func (b *builder) gates() {
	b.out.Gates = make([]model.Gate, len(b.judged.Gates))
	for i := range b.judged.Gates {
		g := &b.judged.Gates[i]
		b.out.Gates[i] = model.Gate{Level: g.Level.String(), Met: g.Met, Code: g.Code, Message: g.Say}
	}
	b.out.Effects = make([]model.RaisedEffect, len(b.judged.Effects))
	for i := range b.judged.Effects {
		f := &b.judged.Effects[i]
		b.out.Effects[i] = model.RaisedEffect{Effect: f.Effect, Item: b.id(f.Item), Message: f.Say}
		if f.Barrier != nil {
			b.out.Effects[i].Place = f.Barrier.Place
		}
	}
}

func (b *builder) domains() {
	b.out.Domains = make([]model.Domain, len(b.judged.Domains))
	for i := range b.judged.Domains {
		d := &b.judged.Domains[i]
		b.out.Domains[i] = model.Domain{Code: d.Code, Low: d.Low, High: d.High, Coverage: d.Coverage, Answered: d.Answered, Applicable: d.Applicable, Message: d.Say}
		if d.HasScore {
			b.out.Domains[i].Score = &d.Score
		}
	}
	b.out.Costs = make([]model.Cost, len(b.judged.Costs))
	for i := range b.judged.Costs {
		c := &b.judged.Costs[i]
		b.out.Costs[i] = model.Cost{Domain: b.judged.Domains[c.Domain].Code, Item: b.id(c.Item), Points: c.Points, Message: c.Say}
	}
}

func (b *builder) items() {
	b.out.Items = make([]model.ItemResult, len(b.judged.Answers))
	for i := range b.judged.Answers {
		a := &b.judged.Answers[i]
		one := model.ItemResult{ID: b.id(i), State: a.State.String(), Computed: a.Computed, Choice: a.Choice()}
		if a.State == readiness.Answered {
			one.Level, one.Points = a.Level, &a.Points
			if a.HasValue {
				one.Shown, one.Band = b.list.ShownAnswer(i, a), a.Band
			}
		}
		b.out.Items[i] = one
	}
}

// How many quantities and provenances a full visit has, so that they are seldom
// copied while they become more.
const (
	usualQuantities  = 100
	usualProvenances = 28
)

func (b *builder) quantities() {
	b.out.Quantities = make([]model.Quantity, 0, usualQuantities)
	emit := func(q *quantity.Quantity) { b.out.Quantities = append(b.out.Quantities, b.quantity(q)) }
	b.analysis.Quantities(b.setup, emit)
	b.findings.Quantities(emit)
}

// quantityDecimals is how many decimals a quantity is given with.
const quantityDecimals = 3

func (b *builder) quantity(q *quantity.Quantity) model.Quantity {
	one := model.Quantity{Name: q.Name, Site: q.Site, Direction: q.Direction, Unit: q.Unit, Origin: q.Word(), Message: q.Say}
	if q.Has() && !q.Thin {
		value := q.Value.Near(quantityDecimals)
		one.Value = &value
		name, from, ok := strength.ProvenanceOf(q.Name)
		if !ok {
			name, from, ok = trial.ProvenanceOf(q.Name)
		}
		if ok {
			one.Basis = name
			b.provenance(name, from)
		}
	}
	return one
}

func (b *builder) control() {
	v := b.verdict
	b.out.Control = model.Verdicts{Indoors: v.Indoors.String(), Outdoors: v.Outdoors.String(), Message: v.Say}
	b.out.Reasons = make([]model.Reason, len(v.Reasons))
	for i := range v.Reasons {
		b.out.Reasons[i] = reasonOf(&v.Reasons[i])
	}
	b.out.Classes = make([]model.ClassVerdict, len(v.Classes))
	for i := range v.Classes {
		c := &v.Classes[i]
		b.out.Classes[i] = model.ClassVerdict{ID: c.ID, Verdict: c.Verdict.String(), Message: c.Say}
		if c.HasReserve {
			reserve := c.Reserve.Down(2)
			b.out.Classes[i].Reserve = &reserve
		}
	}
}

func reasonOf(r *access.Reason) model.Reason {
	return model.Reason{Rule: r.Rule, OutdoorsOnly: r.OutdoorsOnly, Verdict: r.Verdict.String(), Message: r.Say, Change: r.Change}
}

// passages gives the judgement of every place.
func (b *builder) passages(v *visit) {
	for i := range v.places {
		p, g := &v.places[i].PlaceMeasured, v.checks[i]
		one := model.Passage{Place: p.Place, Name: p.Name, LeadsTo: p.LeadsTo, NotNeeded: p.NotNeeded, Barred: g.Barred,
			Verdict: g.Verdict, Message: g.Say, Assumes: g.Assumes, Reference: g.Reference}
		if g.HasLeft {
			one.LeftMM = rounded(provenance.Floor(g.LeftMM, 0), 0)
		}
		if !g.Formula.Empty() {
			one.Basis = "passage-" + p.Kind
			b.provenance(one.Basis, g.Provenance)
		}
		b.out.Passages = append(b.out.Passages, one)
	}
}

// rounded rounds a number to so many decimals; nil for what is no number.
func rounded(x float64, decimals int) *decimal.Micro {
	m, ok := decimal.Of(provenance.Round(x, decimals))
	if !ok {
		return nil
	}
	return &m
}

func (b *builder) advice() {
	for i := range b.judged.Up {
		s := &b.judged.Up[i]
		b.out.Up = append(b.out.Up, model.Step{Level: s.Level.String(), Item: b.id(s.Item), Message: s.Say})
	}
	b.out.Missing = make([]model.Missing, len(b.judged.Missing))
	for i := range b.judged.Missing {
		m := &b.judged.Missing[i]
		b.out.Missing[i] = model.Missing{Group: m.Group, Item: b.id(m.Item), Reading: m.Reading, Message: m.Say}
	}
	if r := b.judged.Ruling; r != nil {
		b.out.Override = &model.Ruling{Accepted: r.Accepted, Level: r.Level.String(), Message: r.Say}
	}
}

func (b *builder) notes() {
	for _, list := range [...][]message.Message{b.conflicts, b.judged.Notes, b.findings.Notes, b.analysis.Notes, b.verdict.Notes} {
		b.out.Notes = append(b.out.Notes, list...)
	}
	b.out.Notes = append(b.out.Notes, message.New("engine.working-aid"))
}

// provenance notes what a quantity rests on, once for each name.
func (b *builder) provenance(name string, from provenance.Provenance) {
	for i := range b.out.Provenance {
		if b.out.Provenance[i].Quantity == name {
			return
		}
	}
	b.out.Provenance = append(b.out.Provenance, provenanceOf(name, &from))
}

func provenanceOf(quantity string, from *provenance.Provenance) model.Provenance {
	return model.Provenance{Quantity: quantity, Formula: from.Formula, Source: from.Source, Status: string(from.Status), Borrowed: from.Borrowed}
}
