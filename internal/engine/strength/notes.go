package strength

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/message"
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
		if setup != nil {
			if n := site.Others(setup); n > 0 && site.ID == setup.Site {
				a.say(message.New("strength.other-control", message.Word("site", site.ID), message.Count("n", n)))
			}
		}
		for d := NoDirection; d < directions; d++ {
			a.repeats(site, d, &site.Force[d].Rested, site.Force[d].RestedOdd, "rested")
			a.repeats(site, d, &site.Force[d].Tired, site.Force[d].TiredOdd, "tired")
		}
	}
	if a.Reserve.Origin == quantity.Assumed {
		a.say(message.New("strength.tired-assumed", message.Word("direction", a.Weakest.String()), message.Number("factor", TiredFactor)))
	}
	if a.Reserve.Value > micro(ReserveOverLight) {
		a.say(message.New("strength.over-light", message.Exact("reserve", a.Reserve.Value)))
	}
}

func (a *Analysis) say(note message.Message) { a.Notes = append(a.Notes, note) }

// switchOnly reports whether forces at switches were read at the site, and no other.
func (s *Site) switchOnly() bool {
	at := s.support[SwitchForce].any() || s.support[PowerForce].any() || s.support[ModeForce].any() || s.support[StopForce].any()
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
	where := message.Word("site", site.ID)
	if left > 0 {
		a.say(message.New("strength.unsupported-apart", where, message.Count("n", left)))
	}
	if unsupported {
		a.say(message.New("strength.unsupported-only", where))
	}
}

func (a *Analysis) repeats(site *Site, d Direction, r *Repeats, odd bool, state string) {
	if r.N == 0 {
		return
	}
	at, to, when := message.Word("site", site.ID), message.Word("direction", d.String()), message.Word("state", state)
	if !r.Enough() {
		a.say(message.New("strength.too-few", at, to, when, message.Inner("repeats", r.Say("gf"))))
		return
	}
	if odd {
		a.say(message.New("strength.odd-reading", at, to, when))
	}
	if limit := steady(r.Mean); r.Spread > limit {
		a.say(message.New("strength.scattered", at, to, when, message.Number("spread", provenance.Ceil(r.Spread, 0)), message.Number("limit", limit)))
	}
}
