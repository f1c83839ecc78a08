package readiness

import (
	"strconv"

	"doorsill/internal/checklist/rules"
	"doorsill/internal/engine/decimal"
)

// levelPoints is what an answer in levels is worth, 0 to 100; false for a level
// that the type does not have.
func levelPoints(itemType, level string) (int, bool) {
	switch itemType + " " + level {
	case "help 4", "fit 3", "yes-no yes":
		return 100, true
	case "help 3":
		return 85, true
	case "help 2":
		return 55, true
	case "help 1":
		return 20, true
	case "fit 2":
		return 70, true
	case "fit 1":
		return 30, true
	case "help 0", "fit 0", "yes-no no":
		return 0, true
	}
	return 0, false
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
func (it *item) options(room []option) []option {
	list := room[:0]
	for _, level := range rules.Levels(it.Type) {
		points, _ := levelPoints(it.Type, level)
		list = append(list, option{level: level, points: points})
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
			if contains(when.Levels, o.level) || containsInt(when.Bands, o.band) {
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
	case o.level != "":
		return "level " + o.level
	case o.band > len(it.bounds):
		return "any answer"
	}
	bound := it.withUnit(it.bounds[o.band-1].Text())
	if it.Better == "low" {
		return bound + " or less"
	}
	return bound + " or more"
}

func contains(list []string, s string) bool {
	for _, each := range list {
		if s != "" && each == s {
			return true
		}
	}
	return false
}

func containsInt(list []int, n int) bool {
	for _, each := range list {
		if each == n {
			return true
		}
	}
	return false
}

// Shown writes a value of the item at a place as it is shown: rounded towards
// the worse side, with its unit.
func (c *Checklist) Shown(i int, value decimal.Micro) string { return c.items[i].shown(value) }
