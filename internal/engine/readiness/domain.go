package readiness

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// Domain is one section's score.
type Domain struct {
	// Code is the section's code in the checklist.
	Code string
	// Score is 0 to 100, rounded; it has a meaning when HasScore, which asks
	// for enough coverage.
	Score    int
	HasScore bool
	// Low and High bound the score: what is not tested as nothing, and as the
	// best answer.
	Low, High int
	// Coverage is answered weight over applicable weight in percent, rounded
	// down.
	Coverage int
	// Answered and Applicable count items.
	Answered, Applicable int
	// Say explains the score, or why there is none.
	Say message.Message
	// sum is points times weight over answered items.
	sum, answeredWeight, weight int
}

// Cost is what one item takes off its section's score.
type Cost struct {
	// Domain is a place in Result.Domains, Item one in the checklist.
	Domain, Item int
	// Points of 100.
	Points decimal.Micro
	// Say names the item, its answer and the points.
	Say message.Message
}

// costsShown is how many items a section names as its dearest.
const costsShown = 3

func (j *judge) domains() {
	j.Domains = make([]Domain, 0, len(j.sections))
	j.Costs = make([]Cost, 0, len(j.sections)*costsShown)
	for s := range j.sections {
		d := j.domain(s)
		dearest := len(j.Costs)
		j.costs(s, &d)
		d.Say = j.explain(&d, j.Costs[dearest:])
		j.Domains = append(j.Domains, d)
	}
}

func (j *judge) domain(s int) Domain {
	sec := &j.sections[s]
	d := Domain{Code: sec.code}
	for i := sec.from; i < sec.to; i++ {
		a, weight := &j.Answers[i], j.items[i].Weight
		if a.State == NotApplicable {
			continue
		}
		d.Applicable++
		d.weight += weight
		if a.covered() {
			d.Answered++
			d.answeredWeight += weight
			d.sum += weight * a.Points
		}
	}
	d.rate()
	return d
}

func (d *Domain) rate() {
	if d.weight == 0 {
		return
	}
	d.Coverage = 100 * d.answeredWeight / d.weight
	d.Low = rounded(d.sum, d.weight)
	d.High = rounded(d.sum+100*(d.weight-d.answeredWeight), d.weight)
	if d.covers(strength.CoverageScore) {
		d.HasScore, d.Score = true, rounded(d.sum, d.answeredWeight)
	}
}

// covers reports whether at least that percent of the applicable weight is
// answered.
func (d *Domain) covers(percent int) bool {
	return d.answeredWeight > 0 && 100*d.answeredWeight >= percent*d.weight
}

// rounded divides, a half rounded up.
func rounded(sum, weight int) int { return (2*sum + weight) / (2 * weight) }

// costs finds the items that take most off the section's score.
func (j *judge) costs(s int, d *Domain) {
	sec := &j.sections[s]
	var top [costsShown]int // places in the checklist, plus one
	for i := sec.from; i < sec.to; i++ {
		lost := j.lost(i)
		if lost == 0 {
			continue
		}
		for k, here := 0, i+1; k < costsShown && here > 0; k++ {
			if top[k] == 0 || j.lost(top[k]-1) < j.lost(here-1) {
				top[k], here = here, top[k]
			}
		}
	}
	for _, place := range top {
		if place == 0 {
			return
		}
		i := place - 1
		points, _ := decimal.Ratio(float64(j.lost(i)), float64(d.answeredWeight))
		j.Costs = append(j.Costs, Cost{s, i, points.Near(1), message.New("readiness.cost",
			message.Word("item", j.items[i].ID), message.Inner("answer", j.answer(i)), message.Exact("points", points))})
	}
}

// lost is points times weight that an answered item does not earn.
func (j *judge) lost(i int) int {
	if a := &j.Answers[i]; a.covered() {
		return j.items[i].Weight * (100 - a.Points)
	}
	return 0
}

// explain says how a section's score came about.
func (j *judge) explain(d *Domain, dearest []Cost) message.Message {
	section := message.Word("section", d.Code)
	answered, applicable := message.Count("answered", d.Answered), message.Count("applicable", d.Applicable)
	switch {
	case d.Applicable == 0:
		return message.New("readiness.domain-nothing", section)
	case !d.HasScore:
		return message.New("readiness.domain-range", section, message.Count("low", d.Low), message.Count("high", d.High), answered, applicable)
	case len(dearest) == 0:
		return message.New("readiness.domain-score", section, message.Count("score", d.Score), answered, applicable)
	}
	return message.New("readiness.domain-score-lost", section, message.Count("score", d.Score), answered, applicable,
		message.Word("item", j.items[dearest[0].Item].ID))
}
