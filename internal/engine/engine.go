// Package engine turns what was found in a visit into what it means. It is
// pure: structs in, structs out, no clock, no disk, no network. The same program runs
// on the server and, as WebAssembly, on the tablet, and gives the same bytes on
// both: every quantity is rounded to six decimals before it is compared or
// shown, and nothing is ordered by chance.
//
// It takes a model.Visit and gives a model.Result, which holds codes and
// quantities and no words: package phrase words it. A sub-package each answers one question: strength
// (what can the person give), trial (what did driving show), access (which
// control fits), endurance (for how long), passage (through which door), trend
// (what changed), advice (which setting to try) and readiness (how much support
// is needed).
package engine

import (
	"strconv"

	"doorsill/internal/checklist"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
	"doorsill/internal/model"
)

// Version names what this engine computes. It changes whenever some visit could
// get another result.
const Version = "2.2.1"

// Scorer scores visits by one checklist. It is never changed, so one can serve
// many goroutines.
type Scorer struct{ list *readiness.Checklist }

// New makes a scorer for a checklist.
func New(definition *checklist.Definition) *Scorer { return &Scorer{readiness.Compile(definition)} }

// Score scores one visit. It refuses a visit with a part that cannot be, and
// answers that do not fit the checklist; the error is a *validation.Error with
// the path of the part, such as "readings[3].unit".
func (s *Scorer) Score(visit *model.Visit) (model.Result, error) {
	result, err := s.score(visit)
	if err == nil {
		err = s.levelOfWindows(&result, visit)
	}
	return result, err
}

// score is Score without the levels of windows.
func (s *Scorer) score(visit *model.Visit) (model.Result, error) {
	v, bad := inputOf(s.list, visit)
	if bad != nil {
		return model.Result{}, bad
	}
	analysis := strength.Analyse(v.readings, v.setup)
	own, others := v.runs, []model.Run(nil)
	if v.setup != nil {
		own, others = trial.With(v.runs, v.use)
	}
	findings := trial.Sum(own)
	findings.LeaveOut(others)
	v.checkPlaces()
	conflicts := append(v.besidePlaces(s.list), v.besideSetup(s.list)...)
	input := v.control(s.list, &analysis, &findings)
	input.Others = v.others(s.list, others)
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
		Access: &verdict, Due: v.due, Unchosen: v.unchosen, Barriers: v.barriers(), Override: v.override, Blank: v.blank,
	})
	b := builder{list: s.list, input: &input, setup: v.setup, analysis: &analysis, findings: &findings, verdict: &verdict, judged: &judged, conflicts: conflicts}
	return b.result(v), nil
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
	in := access.Input{Setup: v.setup, Analysis: analysis, Rough: findings.Rough, Kit: v.kit, Needs: *v.needs}
	var f access.Found
	for i := range v.heads {
		felt(&f, list.At(v.heads[i].Item).ID, &v.heads[i])
	}
	in.Pain, in.PainAsked, in.Alarm, in.Strain, in.Grade, in.GradeAsked = f.Pain, f.PainAsked, f.Alarm, f.Strain, f.Grade, f.GradeAsked
	return in
}

// felt takes what an answer says of the control that it is about.
func felt(f *access.Found, item string, h *readiness.Head) {
	if h.State != readiness.Answered {
		return
	}
	switch item {
	case itemPain:
		if h.HasNumber {
			f.Pain, f.PainAsked = max(f.Pain, h.Number), true
		}
	case itemStrain:
		f.Alarm = f.Alarm || h.Level == "0"
		f.Strain = f.Strain || h.Level == "1"
	case itemGrade:
		if grade, err := strconv.Atoi(h.Level); err == nil && (!f.GradeAsked || grade < f.Grade) {
			f.Grade, f.GradeAsked = grade, true
		}
	}
}

// others gathers what was found with other controls than the chosen one, a
// control and site each.
func (v *visit) others(list *readiness.Checklist, runs []model.Run) []access.Found {
	var found []access.Found
	at := func(use model.InUse) *access.Found {
		for i := range found {
			if found[i].Use == use {
				return &found[i]
			}
		}
		found = append(found, access.Found{Use: use})
		return &found[len(found)-1]
	}
	for i := range runs {
		at(runs[i].InUse())
	}
	for i := range v.apart {
		a := &v.apart[i]
		item, _ := list.Find(a.Item) // as was checked
		head := headOf(item, list.At(item), a)
		felt(at(a.InUse()), a.Item, &head)
	}
	for i := range found {
		driven, _ := trial.With(runs, found[i].Use)
		found[i].Rough = trial.Sum(driven).Rough
	}
	return found
}
