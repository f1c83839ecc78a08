package strength

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/message"
)

// switched fills what controls are judged by that give commands of all or
// nothing. For others it leaves the quantities without a meaning, but for commands
// that nobody asked where no force starts the control.
func (a *Analysis) switched(setup *Setup) {
	handled := a.At(setup.Site).With(setup)
	a.Hits.Begin("command-hits", setup.Site, "%", message.New("strength.commands-tried",
		message.Count("tried", 0), message.Count("wanted", CommandsWanted)))
	a.Unasked.Begin("unasked", setup.Site, "per-10-min", message.New("strength.unasked-not-counted"))
	a.Steps.Begin("command-steps", setup.Site, "steps", message.New("strength.steps-not-counted"))
	a.Breath.Begin("breath-reserve", setup.Site, "ratio", message.New("strength.breath-not-measured"))
	switch {
	case Switched(setup.Class):
		a.hits(&handled)
		a.counted(&handled)
	case a.Noise.Origin == quantity.NotAsked:
		// No force can say that it starts unmeant, so that must be counted.
		a.counted(&handled)
		notSwitched(&a.Hits, &a.Steps)
	default:
		notSwitched(&a.Hits, &a.Unasked, &a.Steps)
	}
	a.breath(setup, &handled)
}

func notSwitched(list ...*quantity.Quantity) {
	for _, q := range list {
		q.Conclude(quantity.NotAsked, 0, message.New("strength.not-switched"))
	}
}

// hits is the part of the commands that came when they were asked. With fewer
// than are wanted the value is thin, unless too many were missed already.
func (a *Analysis) hits(h *Handling) {
	tried := h.Commands.N + h.CommandsMissed
	if tried == 0 {
		return
	}
	part, _ := decimal.Ratio(float64(100*h.Commands.N), float64(tried))
	a.Hits.Conclude(quantity.Measured, part, h.say(message.New("strength.command-hits",
		message.Count("hits", h.Commands.N), message.Count("tried", tried), message.Number("slowest", h.Commands.Top))))
	if best := CommandsWanted - h.CommandsMissed; tried < CommandsWanted && 100*best >= CommandsMost*CommandsWanted {
		a.Hits.Thin = true
		a.Hits.Say = message.New("strength.commands-tried", message.Count("tried", tried), message.Count("wanted", CommandsWanted))
	}
}

func (a *Analysis) counted(h *Handling) {
	if h.Unasked.N > 0 {
		a.Unasked.Conclude(quantity.Measured, micro(h.Unasked.Top), h.say(message.New("strength.unasked", message.Number("most", h.Unasked.Top))))
	}
	if h.Steps.N > 0 {
		a.Steps.Conclude(quantity.Measured, micro(h.Steps.Top), h.say(message.New("strength.steps", message.Number("most", h.Steps.Top))))
	}
}

// breath compares the least pressure that was reached, tired or less the assumed
// part, with what the control asks.
func (a *Analysis) breath(setup *Setup, h *Handling) {
	switch {
	case setup.Class != "breath":
		a.Breath.Conclude(quantity.NotAsked, 0, message.New("strength.not-breath"))
		return
	case setup.BreathKPa == 0:
		a.Breath.Say = message.New("strength.breath-not-entered")
		return
	case h.Breath.N+h.BreathTired.N == 0:
		return
	}
	usable, origin := float64(h.Breath.Least*TiredFactor), quantity.Assumed
	if h.BreathTired.N > 0 {
		usable, origin = h.BreathTired.Least, quantity.Measured
		if h.Breath.N > 0 {
			usable = min(usable, h.Breath.Least)
		}
	}
	reserve, _ := decimal.Ratio(usable, setup.BreathKPa)
	code := message.New("strength.breath", message.Number("usable", usable), message.Number("asked", setup.BreathKPa), message.Exact("reserve", reserve))
	if origin == quantity.Assumed {
		code = message.New("strength.breath-assumed", message.Number("usable", usable), message.Number("factor", TiredFactor),
			message.Number("asked", setup.BreathKPa), message.Exact("reserve", reserve))
	}
	a.Breath.Conclude(origin, reserve, h.say(code))
}
