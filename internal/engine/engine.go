// Package engine turns what was found in a visit into what it means. It is
// pure: text in, text out, no clock, no disk, no network. The same program runs
// on the server and, as WebAssembly, on the tablet, and gives the same bytes on
// both: every figure is rounded to six decimals before it is compared or
// shown, and nothing is ordered by chance.
//
// The visit and the result are lines of fields parted by TAB. WIRE.md beside
// this file describes both. A sub-package each answers one question: strength
// (what can the person give), trial (what did driving show), access (does the
// control fit) and readiness (how much support is needed).
package engine

import (
	"doorsill/internal/checklist/rules"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/decimal"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
)

// Version names what this engine computes. It changes whenever some visit could
// get another result.
const Version = "1.0.0"

// Scorer scores visits by one checklist. It is never changed, so one can serve
// many goroutines.
type Scorer struct{ list *readiness.Checklist }

// New makes a scorer for a checklist's rules.
func New(set rules.Set) *Scorer { return &Scorer{readiness.Compile(set)} }

// Score scores one visit: text of WIRE.md in, result text out. The error is a
// *TextError that names line, field and what was expected there.
func (s *Scorer) Score(visit []byte) ([]byte, error) {
	v, err := decode(s.list, string(visit))
	if err != nil {
		return nil, err
	}
	analysis := strength.Analyse(v.readings, v.setup)
	findings := trial.Sum(v.runs)
	verdict := access.Judge(v.control(s.list, &analysis, &findings))
	result := s.list.Judge(readiness.Input{
		Heads: v.heads, Setup: v.setup, Analysis: &analysis, Trial: &findings,
		Access: &verdict, Override: v.override,
	})
	e := encoder{list: s.list, setup: v.setup, analysis: &analysis, findings: &findings, verdict: &verdict, result: &result}
	return e.encode(), nil
}

// Score scores one visit by a checklist's rules; see Scorer.Score. Callers with
// many visits make one Scorer.
func Score(set rules.Set, visit []byte) ([]byte, error) { return New(set).Score(visit) }

// Items of the standard checklist that control rules look at.
const (
	itemPain   = "ctl-pain"
	itemStrain = "ctl-strain"
)

// control gathers what the control rules look at. Of several answers to the
// pain question the highest counts.
func (v *visit) control(list *readiness.Checklist, analysis *strength.Analysis, findings *trial.Findings) access.Input {
	in := access.Input{Setup: v.setup, Analysis: analysis, Rough: findings.Rough}
	pain, hasPain := list.Find(itemPain)
	strain, hasStrain := list.Find(itemStrain)
	for i := range v.heads {
		h := &v.heads[i]
		if h.State != readiness.Answered {
			continue
		}
		if hasPain && h.Item == pain && h.HasNumber {
			in.Pain, in.PainAsked = max(in.Pain, h.Number), true
		}
		if hasStrain && h.Item == strain && h.Level == "0" {
			in.Alarm = true
		}
	}
	return in
}

// Thresholds returns the table of every number that results depend on: a line
// each with id, value, unit ("-" for none), source and status, parted by TAB.
// Status is "published", "common practice, no source" or "proposal, not
// validated".
func Thresholds() string {
	b := make([]byte, 0, 8<<10)
	strength.EachThreshold(func(t *strength.Threshold) {
		unit := t.Unit
		if unit == "" {
			unit = "-"
		}
		for _, field := range [...]string{t.ID, "\t", exact(t), "\t", unit, "\t", t.Source, "\t", t.Status, "\n"} {
			b = append(b, field...)
		}
	})
	return string(b)
}

// exact writes a threshold's value; sizes of units keep all their digits.
func exact(t *strength.Threshold) string {
	switch t.ID {
	case "gram-force":
		return "0.00980665"
	case "ounce-force":
		return "28.349523125"
	}
	value, _ := decimal.Of(t.Value)
	return value.Text()
}
