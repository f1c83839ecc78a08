package access

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// ClassVerdict is how a usual kind of control would do at the chosen site.
type ClassVerdict struct {
	ID      string
	Verdict Verdict
	// Reserve is the force reserve; it has a meaning when HasReserve.
	Reserve    decimal.Micro
	HasReserve bool
	Say        message.Message
}

// usualTravel stands for the travel rule of a kind of which no travel is passed
// on: it can only be read off the actual control.
const usualTravel = "travel-unknown"

// classes judges the usual kinds by what was measured at the chosen site with
// full travel in every direction. What was not measured does not count against
// a kind, and is named; without force readings the verdict is Unknown.
func classes(chosen *candidate) []ClassVerdict {
	list := make([]ClassVerdict, 0, 3)
	own, setup, analysis := *chosen, *chosen.setup, *chosen.analysis
	own.setup, own.analysis = &setup, &analysis
	for d := range setup.Throw {
		setup.Throw[d] = 100
	}
	setup.Control, setup.Borrow = "", true
	for _, c := range strength.Classes() {
		setup.Class, setup.OperateGF, setup.TravelMM, setup.StartGF = c.ID, c.OperateGF, c.TravelMM, 0
		analysis.Reserve, analysis.Bound, analysis.Travel = chosen.analysis.Compare(&setup)
		list = append(list, judgeClass(&own, c))
	}
	return list
}

// judgeClass judges a kind that own is set up as.
func judgeClass(own *candidate, c strength.Class) ClassVerdict {
	reserve := &own.analysis.Reserve
	v := ClassVerdict{ID: c.ID, Reserve: reserve.Value, HasReserve: reserve.Has(), Verdict: Unknown}
	if !reserve.Has() {
		v.say(c, reserve.Say)
		return v
	}
	v.Verdict = force(own).Verdict
	found := []message.Message{message.New("access.class-reserve", message.Exact("reserve", reserve.Value), message.Word("word", strength.Word(reserve.Value)))}
	worse, unmeasured := v.others(own, c)
	found = append(found, worse...)
	if v.Verdict != NotFeasible {
		v.Verdict = Unknown // an idea: what starts it is only known of an actual control
	}
	verdict := message.Word("verdict", v.Verdict.String())
	if len(unmeasured) == 0 {
		v.say(c, message.New("access.class-found", message.List("found", found), verdict))
	} else {
		v.say(c, message.New("access.class-found-in-part", message.List("found", found), message.Words("unmeasured", unmeasured), verdict))
	}
	return v
}

// say sets the sentence to what the kind usually asks and what was found.
func (v *ClassVerdict) say(c strength.Class, found message.Message) {
	class, operate := message.Word("class", c.ID), message.Number("operate", c.OperateGF)
	if c.TravelMM == 0 {
		v.Say = message.New("access.class", class, operate, message.Inner("found", found))
		return
	}
	v.Say = message.New("access.class-with-travel", class, operate, message.Number("travel", c.TravelMM), message.Inner("found", found))
}

// others adds the rules beside force that were measured to the verdict. It
// returns what is worse than feasible, and the ids of the rules that could not
// be judged.
func (v *ClassVerdict) others(own *candidate, c strength.Class) (worse []message.Message, unmeasured []string) {
	for _, rule := range [...]func(*candidate) Reason{travel, release, pain, fading, hold} {
		r := rule(own)
		switch {
		case r.Rule == travelRule.id && c.TravelMM == 0:
			unmeasured = append(unmeasured, usualTravel)
		case r.Verdict == Unknown:
			unmeasured = append(unmeasured, r.Rule)
		case r.Verdict > Feasible:
			worse = append(worse, message.New("access.class-rule", message.Word("rule", r.Rule), message.Word("verdict", r.Verdict.String())))
			v.Verdict = max(v.Verdict, r.Verdict)
		}
	}
	if unmeant := own.analysis.At(own.setup.Site).With(own.setup).Unintended; unmeant.N > 0 && micro(unmeant.Top) >= micro(c.OperateGF) {
		worse = append(worse, message.New("access.class-driven-unmeant"))
		v.Verdict = NotFeasible
	}
	return worse, unmeasured
}
