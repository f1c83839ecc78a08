package readiness

import (
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
)

func TestWorthOfAnswers(t *testing.T) {
	for _, c := range []struct {
		itemType string
		want     []int
	}{
		{checklist.TypeHelp, []int{100, 85, 55, 20, 0}},
		{checklist.TypeFit, []int{100, 70, 30, 0}},
		{checklist.TypeYesNo, []int{100, 0}},
	} {
		it := item{Item: &checklist.Item{Type: c.itemType}}
		for i, level := range checklist.Levels(c.itemType) {
			if got := it.levelPoints(level); got != c.want[i] {
				t.Errorf("%s %s is worth %d, want %d", c.itemType, level, got, c.want[i])
			}
		}
	}
	for n, want := range map[int][]int{5: {100, 80, 50, 20, 0}, 4: {100, 70, 35, 0}, 3: {100, 55, 0}, 2: {100, 0}, 1: {100}} {
		for i := range want {
			if got := bandPoints(i+1, n); got != want[i] {
				t.Errorf("band %d of %d is worth %d, want %d", i+1, n, got, want[i])
			}
		}
	}
}

// bandsDownTo are bands with these bounds, and one for what is left.
func bandsDownTo(bounds ...float64) []checklist.Band {
	list := make([]checklist.Band, len(bounds)+1)
	for i := range bounds {
		list[i].Bound = &bounds[i]
	}
	return list
}

// TestBandsAndWhatIsShown: a value between two printed bands falls in the
// worse, and what is shown never looks better than the band.
func TestBandsAndWhatIsShown(t *testing.T) {
	reserve := compileItem(&checklist.Item{Type: checklist.TypeNumber, Better: "high", Decimals: 2, Unit: "ratio", Bands: bandsDownTo(7, 3, 2)}, 0)
	noise := compileItem(&checklist.Item{Type: checklist.TypeNumber, Better: "low", Decimals: 2, Unit: "ratio", Bands: bandsDownTo(0.25, 0.5, 0.99)}, 0)
	release := compileItem(&checklist.Item{Type: checklist.TypeNumber, Better: "low", Decimals: 1, Unit: "s", Bands: bandsDownTo(1, 1.5, 2.5)}, 0)
	door := compileItem(&checklist.Item{Type: checklist.TypeNumber, Better: "high", Unit: "mm", Bands: bandsDownTo(100, 60, 30, 0)}, 0)
	for _, c := range []struct {
		it    *item
		value float64
		band  int
		shown string
	}{
		{&reserve, 7, 1, "7.00"},
		{&reserve, 6.999, 2, "6.99"},
		{&reserve, 2.9999, 3, "2.99"},
		{&reserve, 2.9999999, 2, "3.00"}, // 3.000000 to six decimals
		{&reserve, 1.999999, 4, "1.99"},
		{&noise, 0.25, 1, "0.25"},
		{&noise, 0.250001, 2, "0.26"},
		{&noise, 0.2500001, 1, "0.25"},
		{&noise, 0.995, 4, "1.00"},
		{&release, 1.04, 2, "1.1 s"},
		{&release, 2.51, 4, "2.6 s"},
		{&door, -0.5, 5, "−1 mm"},
		{&door, 59.9, 3, "59 mm"},
		{&door, 0, 4, "0 mm"},
	} {
		value, _ := decimal.Of(c.value)
		if band, shown := c.it.band(value), english(nil, c.it.shown(value)); band != c.band || shown != c.shown {
			t.Errorf("%v: band %d, shown %q; want %d, %q", c.value, band, shown, c.band, c.shown)
		}
		if again := c.it.band(c.it.cautious(value)); again < c.band {
			t.Errorf("%v is shown in band %d, better than its own %d", c.value, again, c.band)
		}
	}
}

func TestEveryUnitIsWrittenItsOwnWay(t *testing.T) {
	for _, c := range []struct {
		item  checklist.Item
		value float64
		want  string
	}{
		{checklist.Item{Unit: "of 5", Of: 5}, 3, "3 of 5"},
		{checklist.Item{Unit: ""}, 3, "3"},
		{checklist.Item{Unit: "mm", Better: "high", BelowZero: "too narrow"}, -39.5, "40 mm too narrow"},
		{checklist.Item{Unit: "mm", Better: "high", BelowZero: "too narrow"}, 0, "0 mm"},
		{checklist.Item{Unit: "ratio", Decimals: 2}, 3, "3.00"},
		{checklist.Item{Unit: "1 in x", Decimals: 1}, 12, "1 in 12.0"},
		{checklist.Item{Unit: "times"}, 0, "0 times"},
		{checklist.Item{Unit: "times"}, 1, "1 time"},
		{checklist.Item{Unit: "times"}, 2, "2 times"},
		{checklist.Item{Unit: "times", Decimals: 1}, 1, "1.0 times"},
		{checklist.Item{Unit: "0-10"}, 4, "4 of 10"},
		{checklist.Item{Unit: "1"}, 4, "4 1"},
		{checklist.Item{Unit: "per 50 m", Decimals: 1}, 0.5, "0.5 per 50 m"},
	} {
		it, value := compileItem(&c.item, 0), micro(c.value)
		if got := english(nil, it.shown(value)); got != c.want {
			t.Errorf("%v with the unit %q: %q, want %q", c.value, c.item.Unit, got, c.want)
		}
	}
}

// TestWhatAnItemMustComeTo: the bound of a band is written with the decimals
// that it has, whatever the item's own are.
func TestWhatAnItemMustComeTo(t *testing.T) {
	count := checklist.Item{Type: checklist.TypeCount, Better: "low", Unit: "times", Bands: bandsDownTo(0, 1, 2.5)}
	ratio := checklist.Item{Type: checklist.TypeNumber, Better: "high", Unit: "ratio", Decimals: 2, Bands: bandsDownTo(7, 1.25)}
	for _, c := range []struct {
		item checklist.Item
		want []string
	}{
		{checklist.Item{Type: checklist.TypeHelp}, []string{"level 4", "level 3 or better", "level 2 or better", "level 1 or better", "any answer"}},
		{checklist.Item{Type: checklist.TypeYesNo}, []string{"“yes”", "“no”"}},
		{count, []string{"0 times", "1 time or less", "2.5 times or less", "any answer"}},
		{ratio, []string{"7 or more", "1.25 or more", "any answer"}},
	} {
		it := compileItem(&c.item, 0)
		options := it.options()
		if len(options) != len(c.want) {
			t.Fatalf("%s: %d options, want %d", c.item.Type, len(options), len(c.want))
		}
		for i, want := range c.want {
			if got := english(nil, it.asks(options[i])); got != want {
				t.Errorf("%s, option %d: %q, want %q", c.item.Type, i, got, want)
			}
		}
	}
}
