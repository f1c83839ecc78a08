package strength

import (
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/say"
)

// note collects the cautions about the readings: at the chosen site, or at
// every site while none is chosen.
func (a *Analysis) note(setup *Setup) {
	for i := range a.Sites {
		site := &a.Sites[i]
		if setup != nil && setup.Site != site.ID && !site.switchOnly() {
			continue
		}
		a.support(site)
		for d := NoDirection; d < directions; d++ {
			a.repeats(site, d, &site.Force[d].Rested, site.Force[d].RestedOdd, "rested")
			a.repeats(site, d, &site.Force[d].Tired, site.Force[d].TiredOdd, "tired")
		}
	}
	if a.Reserve.Origin == quantity.Assumed {
		a.say("No tired reading for {}: {1} of the rested force is assumed. Measure again when tired, before anybody relies on it.",
			say.Words{a.Weakest.String()}, TiredFactor)
	}
	if a.Reserve.Has() && a.Reserve.Value > micro(ReserveOverLight) {
		a.say("The control is more sensitive than needed (reserve {0-}); a heavier class also works.", nil, a.Reserve.Value.Float())
	}
}

func (a *Analysis) say(template string, words say.Words, numbers ...float64) {
	a.Notes = append(a.Notes, say.Line(template, words, numbers...))
}

func (s *Site) switchOnly() bool {
	at := s.support[SwitchForce].any() || s.support[PowerForce].any() || s.support[ModeForce].any()
	return at && !s.support[Force].any()
}

// support says which readings count when some were taken with support and some
// without.
func (a *Analysis) support(site *Site) {
	left, unsupported := 0, false
	for _, b := range site.support {
		left += b.leftOut()
		unsupported = unsupported || b.supported == 0 && b.unsupported > 0
	}
	where := say.Words{SiteWords(site.ID)}
	if left > 0 {
		a.say("{^}: planned on the readings with support; {0} without support are kept apart and do not count.", where, float64(left))
	}
	if unsupported {
		a.say("{^}: some or all readings were taken without support, and are planned on for want of supported ones. Support often adds usable force.", where)
	}
}

func (a *Analysis) repeats(site *Site, d Direction, r *Repeats, odd bool, state string) {
	if r.N == 0 {
		return
	}
	what := say.Words{SiteWords(site.ID), d.String(), state}
	if !r.Enough() {
		a.say("{^}, {}, {}: {}", append(what, r.Say("gf")))
		return
	}
	if odd {
		a.say("{^}, {}, {}: one reading is more than twice or less than half of the middle one: keep it, redo it, or mark it as a slip with the reason.", what)
	}
	if limit := steady(r.Mean); r.Spread > limit {
		a.say("{^}, {}, {}: spread {0} %, above {0} %: rest two minutes, take two more, check gauge and support.", what, r.Spread, limit)
	}
}
