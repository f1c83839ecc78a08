package strength

import "doorsill/internal/engine/say"

// Answer words of Plausible, the first field of its text.
const (
	PlausibleOK     = "ok"
	PlausibleAsk    = "ask"
	PlausibleRefuse = "refuse"
)

// Plausible judges a value as it is typed. It returns "ok"; or "ask", a
// sentence and a suggestion such as "153 gf" or "-", when the value is
// possible but unusual; or "refuse" and a sentence, when it cannot be stored.
// Fields are parted by TAB. What is the id of a reading or "switch-press" (the
// force that a switch asks); the unit is gf, N, ozf or lbf for a force, mm for
// travel, s for hold and release.
func Plausible(what, site string, value float64, unit string) string {
	if err := check(value); err != nil {
		return refuse("{^}.", say.Words{err.Error()})
	}
	kind := WhatOf(what)
	if kind == UnknownWhat && what != "switch-press" {
		return refuse("Unknown reading “{}”: expected force, travel, hold, release, unintended, switch-force or switch-press.", say.Words{what})
	}
	part := PartOf(site)
	if part == UnknownPart && !(what == "switch-press" && site == "") {
		return refuse("Unknown site “{}”: expected a body site such as chin, index-right or foot-left.", say.Words{site})
	}
	if kind.IsForce() || what == "switch-press" {
		return plausibleForce(kind, part, site, value, unit)
	}
	return plausibleOther(kind, part, site, value, unit)
}

func refuse(template string, words say.Words, numbers ...float64) string {
	return PlausibleRefuse + "\t" + say.Line(template, words, numbers...)
}

// ask asks a question; the template ends in a TAB and a suggestion.
func ask(template string, words say.Words, numbers ...float64) string {
	return PlausibleAsk + "\t" + say.Line(template, words, numbers...)
}

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

func plausibleForce(kind What, part Part, site string, value float64, unit string) string {
	gf, err := ToGF(value, unit)
	if err != nil {
		return refuse("{^}.", say.Words{err.Error()})
	}
	l := forceLimits(kind, part)
	shown := say.Line("{2} {}", say.Words{unit}, value)
	if unit != "gf" {
		shown = say.Line("{2} {}, which is {0} gf,", say.Words{unit}, value, gf)
	}
	where := ""
	if site != "" {
		where = " at the " + SiteWords(site)
	}
	other := fits(value, unit, l)
	switch {
	case gf > l.hard && other != "-":
		return refuse("The limit is {0} gf; {} is above it. Was it {}?", say.Words{shown, other}, l.hard)
	case gf > l.hard:
		return refuse("The limit is {0} gf; {} is above it.", say.Words{shown}, l.hard)
	case value == 0 && l.softLow > 0:
		return ask("0 means that it was tried and nothing came. Is that so? Leave it blank when it was not tried.\t-", nil)
	case !l.usual(gf):
		return ask("Is {}{} right? Usual there is {}.\t{}", say.Words{shown, where, l.words("gf"), other})
	}
	return PlausibleOK
}

// fits returns the same number in the first other unit with which it would be
// usual, in gram-force, or "-".
func fits(value float64, unit string, l limits) string {
	for _, other := range [...]string{"gf", "N", "ozf", "lbf"} {
		if gf, err := ToGF(value, other); err == nil && other != unit && value > 0 && l.usual(gf) {
			if other == "gf" {
				return say.Line("{2} gf", nil, value)
			}
			return say.Line("{0} gf", nil, gf)
		}
	}
	return "-"
}

func (l limits) words(unit string) string {
	words := say.Words{unit}
	switch {
	case l.softHigh == 0:
		return say.Line("{0} {} or more", words, l.softLow)
	case l.softLow == 0:
		return say.Line("up to {1} {}", words, l.softHigh)
	}
	return say.Line("{0} to {0} {}", words, l.softLow, l.softHigh)
}

func otherLimits(kind What, part Part) (limits, string) {
	switch kind {
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

func plausibleOther(kind What, part Part, site string, value float64, unit string) string {
	l, want := otherLimits(kind, part)
	if unit != want {
		return refuse("The unit is “{}”: expected {}.", say.Words{unit, want})
	}
	words := say.Words{unit, SiteWords(site), l.words(unit)}
	switch {
	case value > l.hard:
		return refuse("The limit is {0} {}; {2} {} is above it.", say.Words{unit, unit}, l.hard, value)
	case kind == Hold && !l.usual(value):
		return ask("Counting can stop at {0} s. Was it held for {2} s?\t{0} s", nil, l.softHigh, value, l.softHigh)
	case !l.usual(value):
		return ask("Is {2} {} at the {} right? Usual there is {}.\t-", words, value)
	}
	return PlausibleOK
}
