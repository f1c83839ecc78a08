package access

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// Window is the verdict indoors on the chosen control in one state.
type Window struct {
	// State is rested or tired.
	State   string
	Verdict Verdict
	Say     message.Message
}

// windows gives the verdict by the rested and by the tired readings, when they
// differ: the plan then needs hours. Both need readings in every direction.
func windows(in *Input, reasons []Reason) []Window {
	rested, okRested := in.worst(func(p *strength.Pair) *strength.Repeats { return &p.Rested })
	tired, okTired := in.worst(func(p *strength.Pair) *strength.Repeats { return &p.Tired })
	if !okRested || !okTired || in.Needs.Base == baseMoves {
		return nil
	}
	fresh, late := during(rested, reasons), during(tired, reasons)
	if fresh == late {
		return nil
	}
	return []Window{
		{"rested", fresh, message.New("access.rested", message.Exact("reserve", rested), message.Word("verdict", fresh.String()))},
		{"tired", late, message.New("access.tired", message.Exact("reserve", tired), message.Word("verdict", late.String()))},
	}
}

// worst is the reserve of the chosen control in one state.
func (in *Input) worst(state func(*strength.Pair) *strength.Repeats) (reserve decimal.Micro, ok bool) {
	site := in.Analysis.At(in.Setup.Site)
	for _, d := range in.Setup.Needed {
		r := state(&site.Force[d])
		value, has := decimal.Ratio(r.Mean, in.Setup.OperateGF)
		if r.N == 0 || !has {
			return 0, false
		}
		if !ok || value < reserve {
			reserve, ok = value, true
		}
	}
	return reserve, ok
}

// during is the verdict indoors with another force reserve.
func during(reserve decimal.Micro, reasons []Reason) Verdict {
	v := grade(reserve, forceRule.better, forceRule.good, forceRule.just)
	for i := range reasons {
		r := &reasons[i]
		if !r.Advisory && !r.OutdoorsOnly && r.Rule != forceRule.id {
			v = max(v, r.Verdict)
		}
	}
	return v
}
