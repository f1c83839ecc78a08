// Package engine turns what was found in a visit into what it means. It is
// pure: text in, text out, no clock, no disk, no network. The same program runs
// on the server and, as WebAssembly, on the tablet, and gives the same bytes on
// both: every quantity is rounded to six decimals before it is compared or
// shown, and nothing is ordered by chance.
//
// The visit and the result are lines of fields parted by TAB. WIRE.md beside
// this file describes both. A sub-package each answers one question: strength
// (what can the person give), trial (what did driving show), access (which
// control fits), endurance (for how long), passage (through which door), trend
// (what changed), advice (which setting to try) and readiness (how much support
// is needed).
package engine

import (
	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/endurance"
	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trend"
	"doorsill/internal/engine/trial"
	"doorsill/internal/fields"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// Version names what this engine computes. It changes whenever some visit could
// get another result.
const Version = "1.2.1"

// Scorer scores visits by one checklist. It is never changed, so one can serve
// many goroutines.
type Scorer struct {
	list  *readiness.Checklist
	words *phrase.Writer
}

// New makes a scorer for a checklist.
func New(definition *checklist.Definition) *Scorer {
	list := readiness.Compile(definition)
	return &Scorer{list, phrase.NewWriter(phrase.English(), list)}
}

// result scores one visit.
func (s *Scorer) result(v *visit) model.Result {
	analysis := strength.Analyse(v.readings, v.setup)
	findings := trial.Sum(v.runs)
	input := v.control(s.list, &analysis, &findings)
	if v.setup != nil {
		// A proven reverse key takes reverse off what is needed; the switch
		// reserve must be known first.
		if needed := input.Needed(); len(needed) < len(v.setup.Needed) {
			input.Asked, v.setup.Needed = v.setup.Needed, needed
			analysis = strength.Analyse(v.readings, v.setup)
		}
	}
	verdict := access.Judge(input)
	judged := s.list.Judge(readiness.Input{
		Heads: v.heads, Setup: v.setup, Analysis: &analysis, Trial: &findings,
		Access: &verdict, Due: v.due, Override: v.override,
	})
	b := builder{list: s.list, input: &input, setup: v.setup, analysis: &analysis, findings: &findings, verdict: &verdict, judged: &judged}
	return b.result(v)
}

// Items of the standard checklist that control rules look at.
const (
	itemPain   = "ctl-pain"
	itemStrain = "ctl-strain"
	itemGrade  = "ctl-grade"
)

// control gathers what the control rules look at. Of several answers to the
// pain question the highest counts, of those to the grading question the lowest.
func (v *visit) control(list *readiness.Checklist, analysis *strength.Analysis, findings *trial.Findings) access.Input {
	in := access.Input{Setup: v.setup, Analysis: analysis, Rough: findings.Rough, Kit: v.kit, Needs: v.needs, Moist: v.moist, RuledOut: v.ruledOut}
	for i := range v.heads {
		h := &v.heads[i]
		if h.State != readiness.Answered {
			continue
		}
		switch list.At(h.Item).ID {
		case itemPain:
			if h.HasNumber {
				in.Pain, in.PainAsked = max(in.Pain, h.Number), true
			}
		case itemStrain:
			in.Alarm = in.Alarm || h.Level == "0"
			in.Strain = in.Strain || h.Level == "1"
		case itemGrade:
			if grade, ok := fields.Decimal(h.Level); ok && (!in.GradeAsked || int(grade) < in.Grade) {
				in.Grade, in.GradeAsked = int(grade), true
			}
		}
	}
	return in
}

// Thresholds returns the table of every number that results depend on: a line
// each with id, value, unit ("-" for none), source and status, parted by TAB.
// Status is one of provenance.Statuses.
func Thresholds() string {
	b := make([]byte, 0, 16<<10)
	add := func(t *provenance.Threshold) {
		unit := t.Unit
		if unit == "" {
			unit = "-"
		}
		b = appendLine(b, t.ID, []string{exact(t), unit, t.Source, t.Status})
	}
	strength.EachThreshold(add)
	endurance.EachThreshold(add)
	passage.EachThreshold(add)
	trend.EachThreshold(add)
	return string(b)
}

// exact writes a threshold's value; sizes of units keep all their digits.
func exact(t *provenance.Threshold) string {
	switch t.ID {
	case "gram-force":
		return "0.00980665"
	case "ounce-force":
		return "28.349523125"
	}
	value, _ := decimal.Of(t.Value)
	return value.Text()
}
