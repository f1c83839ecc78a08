package access

import (
	"doorsill/internal/engine/decimal"
	"doorsill/internal/engine/figure"
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
func classes(in Input) []ClassVerdict {
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

func judgeClass(in Input, c strength.Class, setup strength.Setup) ClassVerdict {
	own := in
	reserve, travelReserve := in.Analysis.Compare(&setup)
	own.Setup = &setup
	a := *in.Analysis
	a.Reserve, a.Travel = reserve, travelReserve
	own.Analysis = &a
	v := ClassVerdict{ID: c.ID, Reserve: reserve.Value, HasReserve: reserve.Has(), Say: upperFirst(c.Name) + ", about " + whole(c.OperateGF) + " gf"}
	if c.TravelMM > 0 {
		v.Say += " and " + whole(c.TravelMM) + " mm"
	}
	v.Say += ": "
	if !reserve.Has() {
		v.Verdict = Unknown
		v.Say += reserve.Say
		return v
	}
	v.Verdict = force(own).Verdict
	v.Say += "reserve " + reserve.Value.Down(2).Short(2) + ", " + strength.Word(reserve.Value)
	v.others(own, c, travelReserve)
	v.Say += "; " + v.Verdict.Words() + "."
	return v
}

// others adds the rules beside force that were measured, and names those that
// were not.
func (v *ClassVerdict) others(own Input, c strength.Class, travelReserve figure.Figure) {
	unmeasured := ""
	for _, r := range []Reason{travel(own), release(own), pain(own), fading(own), hold(own)} {
		switch {
		case r.Rule == "travel" && c.TravelMM == 0:
			unmeasured = comma(unmeasured, "travel (read it off the actual control)")
		case r.Verdict == Unknown:
			unmeasured = comma(unmeasured, ruleWords(r.Rule))
		case r.Verdict > Feasible:
			v.Say += ", " + ruleWords(r.Rule) + " " + r.Verdict.Words()
			v.Verdict = max(v.Verdict, r.Verdict)
		}
	}
	if site := own.Analysis.At(own.Setup.Site); site.Unintended.N > 0 && micro(site.Unintended.Top) >= micro(c.OperateGF) {
		v.Say += ", unintended force would drive it"
		v.Verdict = NotFeasible
	}
	if unmeasured != "" {
		v.Say += "; not judged: " + unmeasured
	}
}

func comma(list, next string) string {
	if list == "" {
		return next
	}
	return list + ", " + next
}

func whole(x float64) string { return micro(x).Short(1) }

func upperFirst(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
