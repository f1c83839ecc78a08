package strength

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// weakest fills spread and tired ratio: the worst of the needed directions.
func (a *Analysis) weakest(setup *Setup) {
	at := a.Reserve.Site
	a.Spread.Begin("weakest-spread", at, "%", message.New("strength.spread-needs", message.Count("wanted", RepeatsWanted)))
	a.Tired.Begin("tired-ratio", at, "ratio", message.New("strength.tired-ratio-needs"))
	a.Spread.Direction, a.Tired.Direction = a.Weakest.String(), a.Weakest.String()
	if a.Reserve.Origin == quantity.NotAsked {
		a.Spread.Conclude(quantity.NotAsked, 0, a.Reserve.Say)
		a.Tired.Conclude(quantity.NotAsked, 0, a.Reserve.Say)
		return
	}
	if !a.Reserve.Has() {
		return
	}
	for _, d := range setup.Needed {
		a.direction(&a.At(at).Force[d], d.String())
	}
}

// direction takes the spread of a direction's readings, rested and tired, and what
// is left of its force when tired, where either is worse than in those before:
// another weakest direction must not hide it.
func (a *Analysis) direction(pair *Pair, id string) {
	where := message.Word("direction", id)
	for _, r := range [...]*Repeats{&pair.Rested, &pair.Tired} {
		if spread := micro(r.Spread); r.Enough() && r.HasSpread() && (!a.Spread.Has() || spread > a.Spread.Value) {
			a.Spread.Direction = id
			a.Spread.Conclude(quantity.Measured, spread, message.New("strength.spread", where,
				message.Number("least", r.Min), message.Number("most", r.Max), message.Number("spread", r.Spread)))
		}
	}
	value, ok := decimal.Ratio(pair.Tired.Mean, pair.Rested.Mean)
	if ok && pair.Tired.N > 0 && (!a.Tired.Has() || value < a.Tired.Value) {
		a.Tired.Direction = id
		a.Tired.Conclude(quantity.Measured, value, message.New("strength.tired-ratio", where,
			message.Number("tired", pair.Tired.Mean), message.Number("rested", pair.Rested.Mean), message.Exact("ratio", value)))
	}
}

// hold takes the shortest hold: a drop that was not a slip can come again.
func (a *Analysis) hold(setup *Setup) {
	if !setup.IsHeld() {
		a.Hold.Begin("hold", setup.Site, "s", message.Message{})
		a.Hold.Conclude(quantity.NotAsked, 0, message.New("strength.not-held"))
		return
	}
	handled := a.At(setup.Site).With(setup)
	s := handled.Holds
	a.Hold.Begin("hold", setup.Site, "s", message.New("strength.hold-not-timed", message.Number("most", HoldCounted)))
	if s.N == 0 {
		return
	}
	held := message.New("strength.held", message.Number("held", s.Least))
	if s.N > 1 {
		held = message.New("strength.held-shortest", message.Number("held", s.Least), message.Count("n", s.N))
	}
	a.Hold.Conclude(quantity.Measured, micro(s.Least), handled.say(held))
}

// release takes the slowest of five releases. Of a control that letting go does
// not stop, or that is switched, it takes the slowest stop command. Fewer do not
// make a value, unless one of them already is too slow or did not come.
func (a *Analysis) release(setup *Setup) {
	handled := a.At(setup.Site).With(setup)
	s, missed := handled.Releases, handled.Missed
	if setup.Mode == model.DriveLatched || Switched(setup.Class) && handled.Stops.N+handled.StopsMissed > 0 {
		a.stopCommands(setup, &handled)
		return
	}
	tried := s.N + missed
	a.Missed = missed
	a.Release.Begin("release", setup.Site, "s", message.New("strength.releases-timed", message.Count("tried", tried), message.Count("wanted", ReleasesWanted)))
	slowest := micro(s.Top)
	switch {
	case missed > 0:
		a.Release.Conclude(quantity.Measured, slowest, handled.say(message.New("strength.releases-missed", message.Count("missed", missed), message.Count("tried", tried))))
	case tried >= ReleasesWanted, slowest > micro(ReleaseSlow):
		a.Release.Conclude(quantity.Measured, slowest, handled.say(message.New("strength.release", message.Count("tried", tried), message.Number("slowest", s.Top))))
	}
}

// stopCommands takes the slowest stop command. Letting go is no brake then, so as
// many are asked as of any command, and one that did not come is one too many.
func (a *Analysis) stopCommands(setup *Setup, handled *Handling) {
	s, tried := handled.Stops, handled.Stops.N+handled.StopsMissed
	a.Missed = handled.StopsMissed
	a.Release.Begin("release", setup.Site, "s", message.New("strength.stops-tried", message.Count("tried", tried), message.Count("wanted", CommandsWanted)))
	slowest := micro(s.Top)
	switch {
	case a.Missed > 0:
		a.Release.Conclude(quantity.Measured, slowest, handled.say(message.New("strength.stops-missed", message.Count("missed", a.Missed), message.Count("tried", tried))))
	case tried >= CommandsWanted, slowest > micro(ReleaseSlow):
		a.Release.Conclude(quantity.Measured, slowest, handled.say(message.New("strength.stops", message.Count("tried", tried), message.Number("slowest", s.Top))))
	}
}

// noise compares the largest force that was not meant with the force that
// starts the control.
func (a *Analysis) noise(setup *Setup) {
	handled := a.At(setup.Site).With(setup)
	s, f := handled.Unintended, &a.Noise
	f.Begin("noise", setup.Site, "ratio", message.New("strength.noise-not-measured"))
	switch {
	case Switched(setup.Class) && (setup.StartGF == 0 || s.N == 0), setup.StartGF == 0 && setup.OperateGF == 0 && Forceless(setup.Class):
		f.Conclude(quantity.NotAsked, 0, message.New("strength.not-started-by-force"))
	case setup.StartGF == 0:
		f.Say = message.New("strength.start-not-entered")
	case s.N > 0:
		part, _ := decimal.Ratio(s.Top, setup.StartGF)
		f.Conclude(quantity.Measured, part, handled.say(message.New("strength.noise",
			message.Number("unintended", s.Top), message.Number("start", setup.StartGF), message.Exact("part", part))))
	}
}

// say adds to a sentence that what it says was found with another control.
func (h *Handling) say(found message.Message) message.Message {
	if h.Borrowed {
		return message.New("strength.borrowed", message.Inner("found", found))
	}
	return found
}
