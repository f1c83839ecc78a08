package readiness

import (
	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/message"
)

// What levels and bands are worth, the best first; read only.
var (
	helpWorth  = [...]int{100, 85, 55, 20, 0}
	fitWorth   = [...]int{100, 70, 30, 0}
	threeBands = [...]int{100, 55, 0}
	fourBands  = [...]int{100, 70, 35, 0}
	fiveBands  = [...]int{100, 80, 50, 20, 0}
)

// levelPoints is what an answer in levels is worth, 0 to 100.
func (it *item) levelPoints(level string) int {
	for i, each := range checklist.Levels(it.Type) {
		if each != level {
			continue
		}
		switch it.Type {
		case checklist.TypeHelp:
			return helpWorth[i]
		case checklist.TypeFit:
			return fitWorth[i]
		}
		return 100 * (1 - i) // yes or no
	}
	return 0
}

// bandPoints is what a band is worth, 1 being the best of n. Numbers of bands
// that the standard checklist does not use are spaced evenly.
func bandPoints(band, n int) int {
	switch n {
	case 1:
		return 100
	case 3:
		return threeBands[band-1]
	case 4:
		return fourBands[band-1]
	case 5:
		return fiveBands[band-1]
	}
	return 100 * (n - band) / (n - 1)
}

// bands is how many bands the item has.
func (it *item) bands() int { return len(it.bounds) + 1 }

// band returns the band of a value, 1 being the best. The value has six
// decimals; a value between two printed bands falls in the worse.
func (it *item) band(value decimal.Micro) int {
	for i, bound := range it.bounds {
		if it.Better == "low" && value <= bound || it.Better != "low" && value >= bound {
			return i + 1
		}
	}
	return it.bands()
}

// cautious rounds a value to the item's decimals towards the worse side, so
// that what is shown never looks better than the band that it is in.
func (it *item) cautious(value decimal.Micro) decimal.Micro {
	if it.Better == "low" {
		return value.Up(it.Decimals)
	}
	return value.Down(it.Decimals)
}

// shown states a value as it is shown: with the item's decimals, rounded towards
// the worse side, and its unit.
func (it *item) shown(value decimal.Micro) message.Message {
	return it.withUnit(it.cautious(value), it.Decimals)
}

// shownOf states the value of an answer as shown does; where the item has sides, it
// names the one that was noticed less.
func (it *item) shownOf(a *Answer) message.Message {
	all := it.shown(a.Value)
	if !it.Sides || a.Left == a.Right {
		return all
	}
	side, of := a.worseSide()
	return message.New("answer.side", message.Inner("all", all), message.Word("side", side), message.Exact("noticed", of), message.Count("of", it.Of/2))
}

// worseSide returns the side with the lower number, and the number.
func (a *Answer) worseSide() (string, decimal.Micro) {
	if a.Right < a.Left {
		return "right", a.Right
	}
	return "left", a.Left
}

// withUnit states a number of exactly so many decimals with the item's unit.
func (it *item) withUnit(number decimal.Micro, decimals int) message.Message {
	value, places := message.Exact("value", number), message.Count("places", decimals)
	switch {
	case number < 0 && it.BelowZero != "":
		return message.New("value.below-zero", message.Exact("value", -number), places, message.Word("unit", it.Unit), message.Word("word", it.BelowZero))
	case it.Of > 0:
		return message.New("value.of", value, places, message.Count("of", it.Of))
	case it.Unit == "" || it.Unit == "ratio":
		return message.New("value.bare", value, places)
	case len(it.Unit) > 2 && it.Unit[:2] == "1 ": // "1 in x"
		return message.New("value.one-in", value, places)
	case it.Unit == "times" && decimals == 0:
		return message.New("value.times", value)
	case it.Unit == "0-10":
		return message.New("value.of", value, places, message.Count("of", 10))
	}
	return message.New("value.unit", value, places, message.Word("unit", it.Unit))
}

// option is one answer that an item can have.
type option struct {
	level  string
	band   int
	points int
}

// options lists the answers that an item can have, best first.
func (it *item) options() []option {
	list := make([]option, 0, 5)
	for _, level := range checklist.Levels(it.Type) {
		list = append(list, option{level: level, points: it.levelPoints(level)})
	}
	if len(list) > 0 {
		return list
	}
	for band := 1; band <= it.bands(); band++ {
		list = append(list, option{band: band, points: bandPoints(band, it.bands())})
	}
	return list
}

// asks states what an option asks for: "level 3", "yes", "3 or more".
func (it *item) asks(o option) message.Message {
	switch {
	case it.Type == checklist.TypeYesNo:
		return message.New("option.yes-no", message.Word("answer", o.level))
	case o.points == 0:
		return message.New("option.any")
	case o.points == 100 && o.level != "":
		return message.New("option.level", message.Word("level", o.level))
	case o.level != "":
		return message.New("option.level-least", message.Word("level", o.level))
	}
	bound := it.bounds[o.band-1]
	value := message.Inner("value", it.withUnit(bound, decimalsOf(bound)))
	switch {
	case it.Better == "low" && bound == 0 && it.Type == checklist.TypeCount:
		return message.New("option.none", value)
	case it.Better == "low":
		return message.New("option.most", value)
	}
	return message.New("option.least", value)
}

// decimalsOf returns how many decimals a number has.
func decimalsOf(m decimal.Micro) int {
	n := 0
	for m.Near(n) != m {
		n++
	}
	return n
}

// ShownAnswer states the answer to the item at a place as it is shown: rounded
// towards the worse side, with its unit and, where there are sides, the worse.
func (c *Checklist) ShownAnswer(i int, a *Answer) message.Message { return c.items[i].shownOf(a) }

// Shown states a value of the item at a place as it is shown: rounded towards
// the worse side, with its unit.
func (c *Checklist) Shown(i int, value decimal.Micro) message.Message {
	return c.items[i].shown(value)
}
