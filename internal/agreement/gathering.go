package agreement

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"doorsill/internal/decimal"
	"doorsill/internal/engine"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// gathering collects pairs and asks the engine about all of them.
type gathering struct {
	pairs []paired
	open  int
	byApp int
}

// paired are two ratings of one trial.
type paired struct{ first, second ratings }

func (g *gathering) add(first, second ratings) {
	g.pairs = append(g.pairs, paired{first, second})
}

func (g *gathering) report() (Report, error) {
	r := Report{Pairs: len(g.pairs), Open: g.open, ByApp: g.byApp, Together: []ItemAgreement{}, Items: []ItemAgreement{}, Stops: []StopApart{}, Apart: []ForceApart{}}
	var all model.RatersQuestion
	titles := make(map[string]string)
	for i, p := range g.pairs {
		p.ask(&all, strconv.Itoa(i)+":")
		p.first.addTitles(titles)
		if err := p.differences(&r, titles); err != nil {
			return Report{}, err
		}
	}
	slices.Reverse(r.Stops)
	slices.Reverse(r.Apart)
	raters, err := ratersOf(&all)
	r.take(&raters, titles)
	return r, err
}

// differences finds what the two should talk about.
func (p paired) differences(r *Report, titles map[string]string) error {
	var question model.RatersQuestion
	p.ask(&question, "")
	raters, err := ratersOf(&question)
	name := p.name()
	for _, item := range raters.Discuss {
		r.Stops = append(r.Stops, StopApart{RatedPair: name, Item: item, Title: titles[item], ByFirst: p.first.stops[item]})
	}
	for i := range raters.Apart {
		if a := &raters.Apart[i]; a.Check {
			r.Apart = append(r.Apart, apart(name, a))
		}
	}
	return err
}

func ratersOf(q *model.RatersQuestion) (model.Raters, error) {
	raters, err := engine.RatersOf(q)
	if err != nil {
		return model.Raters{}, fmt.Errorf("compare raters: %w", err)
	}
	return raters, nil
}

func apart(name RatedPair, found *model.ForcesApart) ForceApart {
	a := ForceApart{RatedPair: name, Percent: found.Percent.Float(), Say: sentence(&found.Message)}
	spot := strings.Split(found.Key, ":")
	if len(spot) == 3 {
		a.Site, a.Direction, a.State = spot[0], spot[1], spot[2]
	}
	return a
}

// sentence words a message; none of those about raters names an item.
func sentence(m *message.Message) string { return phrase.NewWriter(phrase.English(), nil).Text(m) }

func (p paired) name() RatedPair {
	a, b := p.first.visit, p.second.visit
	return RatedPair{Client: b.Client, First: a.ID, Second: b.ID, FirstBy: a.Started.By, SecondBy: b.Started.By, At: b.Started.At}
}

// ask adds what both rated on the same scale and both measured; mark tells the
// trial from others.
func (p paired) ask(q *model.RatersQuestion, mark string) {
	for _, id := range p.first.order {
		a, b := p.first.levels[id], p.second.levels[id]
		if a.of == b.of {
			q.Pairs = append(q.Pairs, model.RatedPair{Item: id, Trial: mark, Levels: a.of, A: a.at, B: b.at, StopA: p.first.stops[id], StopB: p.second.stops[id]})
		}
	}
	for _, spot := range p.first.spots {
		if b, both := p.second.forces[spot]; both {
			q.Forces = append(q.Forces, model.ForcePair{Key: mark + spot, A: p.first.forces[spot], B: b})
		}
	}
}

// take takes what the engine says about all pairs together.
func (r *Report) take(all *model.Raters, titles map[string]string) {
	for i := range all.Items {
		if cell := cellOf(&all.Items[i], titles); cell.Item == "" {
			r.Together = append(r.Together, cell)
		} else {
			r.Items = append(r.Items, cell)
		}
	}
	if all.Forces != nil {
		r.Force = forceOf(all.Forces)
	}
}

func cellOf(item *model.RatedItem, titles map[string]string) ItemAgreement {
	c := ItemAgreement{Item: item.Item, Title: titles[item.Item], Levels: item.Levels, N: item.Pairs}
	if c.Item == "all" {
		c.Item = ""
	}
	if c.Few = c.N < FewPairs; c.Few {
		return c
	}
	c.Same, c.Within = interval(&item.Same), interval(&item.WithinOne)
	c.Kappa, c.Weighted = interval(item.Kappa), interval(item.WeightedKappa)
	c.Word, c.Met, c.Say = sentence(&item.Word), item.Met, sentence(&item.Message)
	return c
}

func forceOf(f *model.ForceAgreement) *ForceAgreement {
	force := &ForceAgreement{N: f.Forces}
	if force.Few = force.N < FewPairs; !force.Few {
		force.ICC, force.Say = interval(f.ICC), sentence(&f.Message)
	}
	return force
}

// interval is a value with its bounds; nil when there is no value.
func interval(in *model.Interval) *Interval {
	if in == nil {
		return nil
	}
	one := Interval{Value: in.Value.Float()}
	if in.Low != nil && in.High != nil {
		one.Low, one.High = float(in.Low), float(in.High)
	}
	return &one
}

func float(m *decimal.Micro) *float64 {
	x := m.Float()
	return &x
}
