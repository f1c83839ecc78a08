package strength

import (
	"errors"

	"doorsill/internal/decimal"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// Answers of Plausible.
const (
	PlausibleOK     = "ok"
	PlausibleAsk    = "ask"
	PlausibleRefuse = "refuse"
)

// Judgement is what Plausible thinks of a value.
type Judgement struct {
	// Answer is PlausibleOK; PlausibleAsk, when the value is possible but
	// unusual; or PlausibleRefuse, when it cannot be stored.
	Answer string
	// Say is the question or why the value is refused; nothing when it is well.
	Say message.Message
	// Suggested is what may be meant instead, in Unit: gf or s, "" when there
	// is no suggestion. A question alone has one.
	Suggested decimal.Micro
	Unit      string
}

// Plausible judges a value as it is typed. What is the id of a reading or
// "switch-press" (the force that a switch asks); the unit is gf, N, ozf or lbf
// for a force, mm for travel, s for hold and release. The site of a switch-press
// may be "".
func Plausible(what, site string, value float64, unit string) Judgement {
	if err := check(value); err != nil {
		return refuseError(err)
	}
	kind := WhatOf(what)
	if kind == UnknownWhat && what != switchPress {
		return refuse(message.New("strength.unknown-reading", message.Word("reading", what)))
	}
	part := PartOf(site)
	if part == UnknownPart && !(what == switchPress && site == "") {
		return refuse(message.New("strength.unknown-site", message.Word("site", site)))
	}
	if kind.IsForce() || what == switchPress {
		return plausibleForce(kind, part, site, value, unit)
	}
	return plausibleOther(kind, part, site, value, unit)
}

// switchPress is what a switch asks; it is no reading.
const switchPress = "switch-press"

func refuse(why message.Message) Judgement { return Judgement{Answer: PlausibleRefuse, Say: why} }

func refuseError(err error) Judgement {
	e, _ := errors.AsType[Error](err)
	return refuse(message.New("strength.refused", message.Inner("error", e.Message())))
}

func ask(question message.Message) Judgement { return Judgement{Answer: PlausibleAsk, Say: question} }

// limits of a kind of value: it must not be above hard, and is asked about
// outside soft. A soft bound of 0 is none.
type limits struct{ hard, softLow, softHigh float64 }

func forceLimits(kind What, part Part) limits {
	switch kind {
	case Unintended:
		return limits{hard: 5000}
	case UnknownWhat: // what a switch asks
		return limits{hard: 2000, softHigh: 500}
	}
	l := limits{hard: 10000, softLow: 2}
	switch part {
	case Head:
		l.softHigh = 2000
	case Digit:
		l.softHigh = 1500
	case Hand:
		l.softHigh = 3000
	case Foot:
		l.softHigh = 6000
	}
	return l
}

func (l limits) usual(value float64) bool {
	return value >= l.softLow && (l.softHigh == 0 || value <= l.softHigh) && value <= l.hard
}

func plausibleForce(kind What, part Part, site string, value float64, unit string) Judgement {
	gf, err := ToGF(value, unit)
	if err != nil {
		return refuseError(err)
	}
	l := forceLimits(kind, part)
	shown := message.Inner("typed", typed(value, unit, gf))
	other, fits := fitting(value, l)
	switch {
	case gf > l.hard && fits:
		return refuse(message.New("strength.above-limit-other-unit", message.Number("limit", l.hard), shown, message.Exact("other", other)))
	case gf > l.hard:
		return refuse(message.New("strength.above-limit", message.Number("limit", l.hard), shown))
	case l.usual(gf):
		return Judgement{Answer: PlausibleOK}
	case value == 0:
		return ask(message.New("strength.nothing-came-question"))
	}
	usual := message.Inner("usual", l.message("gf"))
	j := ask(message.New("strength.unusual", shown, usual))
	if site != "" {
		j.Say = message.New("strength.unusual-at", shown, message.Word("site", site), usual)
	}
	if fits {
		j.Suggested, j.Unit = other, "gf"
	}
	return j
}

// typed is a force as it was typed, and in gram-force.
func typed(value float64, unit string, gf float64) message.Message {
	if unit == "gf" {
		return message.New("strength.typed", message.Number("value", value), message.Word("unit", unit))
	}
	return message.New("strength.typed-force", message.Number("value", value), message.Word("unit", unit), message.Number("gf", gf))
}

// fitting returns the same number in the first unit with which it would be usual,
// in gram-force. In its own it is not.
func fitting(value float64, l limits) (gf decimal.Micro, fits bool) {
	for _, unit := range [...]string{"gf", "N", "ozf", "lbf"} {
		if gf, _ := model.ToGF(value, unit); l.usual(gf) {
			if unit == "gf" {
				return micro(gf).Near(2), true
			}
			return micro(gf).Near(0), true
		}
	}
	return 0, false
}

// message says what is usual.
func (l limits) message(unit string) message.Message {
	in, low, high := message.Word("unit", unit), message.Number("low", l.softLow), message.Number("high", l.softHigh)
	switch {
	case l.softHigh == 0:
		return message.New("strength.usual-from", low, in)
	case l.softLow == 0:
		return message.New("strength.usual-to", high, in)
	}
	return message.New("strength.usual", low, high, in)
}

func otherLimits(kind What, part Part) (limits, string) {
	switch kind {
	case Command, StopCommand:
		return limits{hard: 120, softHigh: CommandSlow}, "s"
	case Unasked:
		return limits{hard: 600, softHigh: 60}, plainUnit(kind)
	case Steps:
		return limits{hard: 60, softHigh: 20}, plainUnit(kind)
	case Breath:
		return limits{hard: 50, softHigh: 15}, plainUnit(kind)
	case Hold:
		return limits{hard: 600, softHigh: HoldCounted}, "s"
	case Release:
		return limits{hard: 20, softHigh: ReleaseSlow}, "s"
	}
	l := limits{hard: 150}
	switch part {
	case Digit:
		l.softHigh = 40
	case Head:
		l.softHigh = 60
	case Hand:
		l.softHigh = 90
	}
	return l, "mm"
}

func plausibleOther(kind What, part Part, site string, value float64, unit string) Judgement {
	l, want := otherLimits(kind, part)
	if unit != want {
		return refuse(message.New("strength.wrong-unit", message.Word("unit", unit), message.Word("want", want)))
	}
	in, shown := message.Word("unit", unit), message.Number("value", value)
	switch {
	case value > l.hard:
		return refuse(message.New("strength.above-limit-of", message.Number("limit", l.hard), in, shown))
	case l.usual(value):
		return Judgement{Answer: PlausibleOK}
	case kind == Hold:
		most := micro(l.softHigh)
		j := ask(message.New("strength.hold-counted", message.Exact("most", most), shown))
		j.Suggested, j.Unit = most, "s"
		return j
	}
	return ask(message.New("strength.unusual-at", message.Inner("typed", message.New("strength.typed", shown, in)),
		message.Word("site", site), message.Inner("usual", l.message(unit))))
}
