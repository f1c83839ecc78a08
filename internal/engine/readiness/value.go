package readiness

import (
	"slices"
	"strconv"

	"doorsill/internal/checklist/rules"
	"doorsill/internal/engine/decimal"
)

// levelPoints is what an answer in levels is worth, 0 to 100.
func (it *item) levelPoints(level string) int {
	i := slices.Index(rules.Levels(it.Type), level)
	switch {
	case i < 0:
		return 0
	case it.Type == rules.Help:
		return [...]int{100, 85, 55, 20, 0}[i]
	case it.Type == rules.Fit:
		return [...]int{100, 70, 30, 0}[i]
	}
	return [...]int{100, 0}[i]
}

// bandPoints is what a band is worth, 1 being the best of n. Numbers of bands
// that the standard checklist does not use are spaced evenly.
func bandPoints(band, n int) int {
	switch n {
	case 1:
		return 100
	case 3:
		return [...]int{100, 55, 0}[band-1]
	case 4:
		return [...]int{100, 70, 35, 0}[band-1]
	case 5:
		return [...]int{100, 80, 50, 20, 0}[band-1]
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

// shown writes a value with the item's decimals and unit.
func (it *item) shown(value decimal.Micro) string {
	return it.withUnit(it.cautious(value).Fixed(it.Decimals))
}

func (it *item) withUnit(number string) string {
	switch {
	case it.Of > 0:
		return number + " of " + strconv.Itoa(it.Of)
	case it.Unit == "" || it.Unit == "ratio":
		return number
	case len(it.Unit) > 2 && it.Unit[:2] == "1 ": // "1 in x"
		return "1 in " + number
	case it.Unit == "times" && number == "1":
		return "1 time"
	case it.Unit == "0-10":
		return number + " of 10"
	}
	return number + " " + it.Unit
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
	for _, level := range rules.Levels(it.Type) {
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

// clean reports whether the option raises nothing by itself.
func (it *item) clean(o option) bool {
	for _, e := range it.Effects {
		for _, when := range e.When {
			if slices.Contains(when.Levels, o.level) || slices.Contains(when.Bands, o.band) {
				return false
			}
		}
	}
	return true
}

// words says what an option asks for: "level 3", "yes", "3 or more".
func (it *item) words(o option) string {
	switch {
	case it.Type == rules.YesNo:
		return "“" + o.level + "”"
	case o.points == 0:
		return "any answer"
	case o.points == 100 && o.level != "":
		return "level " + o.level
	case o.level != "":
		return "level " + o.level + " or better"
	}
	bound := it.withUnit(it.bounds[o.band-1].Text())
	if it.Better == "low" {
		return bound + " or less"
	}
	return bound + " or more"
}

// Shown writes a value of the item at a place as it is shown: rounded towards
// the worse side, with its unit.
func (c *Checklist) Shown(i int, value decimal.Micro) string { return c.items[i].shown(value) }
