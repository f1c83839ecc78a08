package access

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/say"
	"doorsill/internal/engine/strength"
)

// ClassVerdict is how a usual kind of control would do at the chosen site.
type ClassVerdict struct {
	ID      string
	Verdict Verdict
	// Reserve is the force reserve; it has a meaning when HasReserve.
	Reserve    decimal.Micro
	HasReserve bool
	Say        string
}

// classes judges the usual kinds by what was measured at the chosen site with
// full travel in every direction. What was not measured does not count against
// a kind, and is named; without force readings the verdict is Unknown.
func classes(in *Input) []ClassVerdict {
	list := make([]ClassVerdict, 0, 3)
	for _, c := range strength.Classes() {
		setup := *in.Setup
		setup.Class, setup.OperateGF, setup.TravelMM, setup.StartGF = c.ID, c.OperateGF, c.TravelMM, 0
		for d := range setup.Throw {
			setup.Throw[d] = 100
		}
		list = append(list, judgeClass(in, c, setup))
	}
	return list
}

func judgeClass(in *Input, c strength.Class, setup strength.Setup) ClassVerdict {
	own, a := *in, *in.Analysis
	own.Setup, own.Analysis = &setup, &a
	a.Reserve, a.Travel = in.Analysis.Compare(&setup)
	reserve := &a.Reserve
	v := ClassVerdict{ID: c.ID, Reserve: reserve.Value, HasReserve: reserve.Has(), Verdict: Unknown}
	travels := ""
	if c.TravelMM > 0 {
		travels = say.Line(" and {1} mm", nil, c.TravelMM)
	}
	about := say.Line("{^}, about {1} gf{}: ", say.Words{c.Name, travels}, c.OperateGF)
	if !reserve.Has() {
		v.Say = about + reserve.Say
		return v
	}
	v.Verdict = force(&own).Verdict
	others := v.others(&own, c)
	v.Say = say.Line("{}reserve {2-}, {}{}; {}.", say.Words{about, strength.Word(reserve.Value), others, v.Verdict.Words()}, reserve.Value.Float())
	return v
}

// others adds the rules beside force that were measured, and says what they and
// those that were not measured came to.
func (v *ClassVerdict) others(own *Input, c strength.Class) string {
	var worse, unmeasured say.Words
	for _, rule := range [...]func(*Input) Reason{travel, release, pain, fading, hold} {
		r := rule(own)
		switch {
		case r.Rule == travelRule.id && c.TravelMM == 0:
			unmeasured = append(unmeasured, "travel (read it off the actual control)")
		case r.Verdict == Unknown:
			unmeasured = append(unmeasured, ruleWords(r.Rule))
		case r.Verdict > Feasible:
			worse = append(worse, say.Line(", {} {}", say.Words{ruleWords(r.Rule), r.Verdict.Words()}))
			v.Verdict = max(v.Verdict, r.Verdict)
		}
	}
	if site := own.Analysis.At(own.Setup.Site); site.Unintended.N > 0 && micro(site.Unintended.Top) >= micro(c.OperateGF) {
		worse = append(worse, ", unintended force would drive it")
		v.Verdict = NotFeasible
	}
	if len(unmeasured) > 0 {
		worse = append(worse, "; not judged: ", say.List(unmeasured, ", "))
	}
	return say.List(worse, "")
}
