package strength

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
		return refuse(upper(err.Error()) + ".")
	}
	kind := WhatOf(what)
	if kind == UnknownWhat && what != "switch-press" {
		return refuse("Unknown reading “" + what + "”: expected force, travel, hold, release, unintended, switch-force or switch-press.")
	}
	part := PartOf(site)
	if part == UnknownPart && !(what == "switch-press" && site == "") {
		return refuse("Unknown site “" + site + "”: expected a body site such as chin, index-right or foot-left.")
	}
	if kind.IsForce() || what == "switch-press" {
		return plausibleForce(kind, part, site, value, unit)
	}
	return plausibleOther(kind, part, site, value, unit)
}

func refuse(sentence string) string { return PlausibleRefuse + "\t" + sentence }

func ask(sentence, suggestion string) string {
	return PlausibleAsk + "\t" + sentence + "\t" + suggestion
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
		return refuse(upper(err.Error()) + ".")
	}
	l := forceLimits(kind, part)
	shown := number(value, 2) + " " + unit
	if unit != "gf" {
		shown += ", which is " + number(gf, 0) + " gf,"
	}
	where := ""
	if site != "" {
		where = " at the " + SiteWords(site)
	}
	switch {
	case gf > l.hard:
		say := "The limit is " + number(l.hard, 0) + " gf; " + shown + " is above it."
		if other := fits(value, unit, l); other != "-" {
			say += " Was it " + other + "?"
		}
		return refuse(say)
	case value == 0 && l.softLow > 0:
		return ask("0 means that it was tried and nothing came. Is that so? Leave it blank when it was not tried.", "-")
	case !l.usual(gf):
		return ask("Is "+shown+where+" right? Usual there is "+l.words("gf")+".", fits(value, unit, l))
	}
	return PlausibleOK
}

// fits returns the same number in the first other unit with which it would be
// usual, in gram-force, or "-".
func fits(value float64, unit string, l limits) string {
	for _, other := range [...]string{"gf", "N", "ozf", "lbf"} {
		if gf, err := ToGF(value, other); err == nil && other != unit && value > 0 && l.usual(gf) {
			if other == "gf" {
				return number(value, 2) + " gf"
			}
			return number(gf, 0) + " gf"
		}
	}
	return "-"
}

func (l limits) words(unit string) string {
	switch {
	case l.softHigh == 0:
		return number(l.softLow, 0) + " " + unit + " or more"
	case l.softLow == 0:
		return "up to " + number(l.softHigh, 1) + " " + unit
	}
	return number(l.softLow, 0) + " to " + number(l.softHigh, 0) + " " + unit
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
		return refuse("The unit is “" + unit + "”: expected " + want + ".")
	}
	shown := number(value, 2) + " " + unit
	switch {
	case value > l.hard:
		return refuse("The limit is " + number(l.hard, 0) + " " + unit + "; " + shown + " is above it.")
	case kind == Hold && !l.usual(value):
		return ask("Counting can stop at "+number(l.softHigh, 0)+" s. Was it held for "+shown+"?", number(l.softHigh, 0)+" s")
	case !l.usual(value):
		return ask("Is "+shown+" at the "+SiteWords(site)+" right? Usual there is "+l.words(unit)+".", "-")
	}
	return PlausibleOK
}
