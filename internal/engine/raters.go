package engine

import (
	"strconv"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/trend"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// RatersOf says how far two raters agree: on each item, on all items with the
// same number of levels, and on forces. The error for a question that cannot be
// is a *validation.Error.
func RatersOf(q *model.RatersQuestion) (model.Raters, error) {
	if err := checkRaters(q); err != nil {
		return model.Raters{}, err
	}
	var r raters
	for i := range q.Pairs {
		r.add(&q.Pairs[i])
	}
	r.agree()
	r.compareForces(q.Forces)
	return r.answer, nil
}

// mostLevels is how many levels an item can have.
const mostLevels = 20

func checkRaters(q *model.RatersQuestion) *validation.Error {
	for i := range q.Pairs {
		p := &q.Pairs[i]
		err := validation.Between("levels", float64(p.Levels), 2, mostLevels, "")
		if err == nil {
			most := float64(p.Levels - 1)
			err = validation.First(validation.Between("a", float64(p.A), 0, most, ""), validation.Between("b", float64(p.B), 0, most, ""))
		}
		if err != nil {
			return err.Within("pairs[" + strconv.Itoa(i) + "]")
		}
	}
	for i := range q.Forces {
		f := &q.Forces[i]
		if err := validation.First(validation.Between("a", f.A, 0, model.MostForce, "gf"), validation.Between("b", f.B, 0, model.MostForce, "gf")); err != nil {
			return err.Within("forces[" + strconv.Itoa(i) + "]")
		}
	}
	return nil
}

// raters is what two raters said of the same trials.
type raters struct {
	items, together []*rated
	answer          model.Raters
}

// rated are the pairs of one item, or of all items with so many levels.
type rated struct {
	name   string
	levels int
	pairs  []trend.Pair
}

// allItems stands for every item with the same number of levels.
const allItems = "all"

func (r *raters) add(p *model.RatedPair) {
	if p.StopA != p.StopB {
		r.answer.Discuss = append(r.answer.Discuss, p.Item)
	}
	put(&r.items, p.Item, p)
	put(&r.together, allItems, p)
}

// put adds a pair to the list of its name and levels.
func put(list *[]*rated, name string, p *model.RatedPair) {
	pair := trend.Pair{Item: p.Item, Trial: p.Trial, A: p.A, B: p.B, StopA: p.StopA, StopB: p.StopB}
	for _, one := range *list {
		if one.name == name && one.levels == p.Levels {
			one.pairs = append(one.pairs, pair)
			return
		}
	}
	*list = append(*list, &rated{name: name, levels: p.Levels, pairs: []trend.Pair{pair}})
}

func (r *raters) agree() {
	for _, list := range [...][]*rated{r.items, r.together} {
		for _, one := range list {
			// Levels were checked before, and each list has a pair.
			if a, err := trend.Agree(one.pairs, one.levels); err == nil {
				r.answer.Items = append(r.answer.Items, one.item(&a))
			}
		}
	}
}

func (one *rated) item(a *trend.Agreement) model.RatedItem {
	item := model.RatedItem{Item: one.name, Levels: one.levels, Pairs: a.N, Same: proportion(&a.Same), WithinOne: proportion(&a.WithinOne),
		Met: a.SameMet && a.WithinMet, Message: a.Say}
	if a.Enough && a.KappaErr == nil {
		item.Kappa, item.WeightedKappa, item.Word = coefficient(&a.Plain), coefficient(&a.Linear), a.Linear.Word
		item.Met = item.Met && a.KappaMet
	}
	return item
}

func proportion(p *trend.Proportion) model.Interval {
	return interval(p.Percent, p.Low, p.High, p.Bounded)
}

func coefficient(c *trend.Coefficient) *model.Interval {
	i := interval(c.Kappa, c.Low, c.High, c.Bounded)
	return &i
}

func interval(value, low, high float64, bounded bool) model.Interval {
	i := model.Interval{Value: *micro(value)}
	if bounded {
		i.Low, i.High = micro(low), micro(high)
	}
	return i
}

func (r *raters) compareForces(forces []model.ForcePair) {
	if len(forces) == 0 {
		return
	}
	r.answer.Forces = forceAgreement(forces)
	for i := range forces {
		f := &forces[i]
		// Two that found nothing are not apart; a mean of 0 has no percentage.
		if a, err := trend.ForcesApart([]float64{f.A}, []float64{f.B}); err == nil {
			r.answer.Apart = append(r.answer.Apart, model.ForcesApart{Key: f.Key, Percent: *micro(a.Percent), Check: a.Check, Message: a.Say})
		}
	}
}

func forceAgreement(forces []model.ForcePair) *model.ForceAgreement {
	rows := make([][]float64, len(forces))
	for i := range forces {
		rows[i] = []float64{forces[i].A, forces[i].B}
	}
	agreement := model.ForceAgreement{Forces: len(forces)}
	c, err := trend.ICC(rows)
	if err != nil {
		agreement.Message = provenance.MessageOf(err)
		return &agreement
	}
	icc := interval(c.ICC, c.Low, c.High, c.Bounded)
	agreement.ICC, agreement.Message = &icc, c.Say
	return &agreement
}
