package authoring_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
)

func warnings(t *testing.T, change ...string) []string {
	t.Helper()
	content := strings.NewReplacer(change...).Replace(string(read(t, data+"/good/kitchen.json")))
	_, found, err := authoring.Check("kitchen.json", []byte(content))
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, w := range found {
		lines = append(lines, w.String())
	}
	return lines
}

func TestWhatIsProbablyNotMeantIsPointedOut(t *testing.T) {
	for _, c := range []struct {
		name, old, new, want string
	}{
		{"stop without what to do", ",\n          \"if_poor\": \"Move the control or the route.\"", "",
			"kitchen.json:33: sections[0].items[1].if_poor: warning: kit-cooker can raise stop and does not say what to do then"},
		{"no reason", "\n          \"why\": \"Shows smooth starts and stops.\"", "\n          \"if_poor\": \"Practise with water.\"",
			"kitchen.json:104: sections[0].items[5].why: warning: kit-spills does not say why it is asked"},
		{"best answer raises", `"when": [{"levels": ["0"]}]`, `"when": [{"levels": ["3", "0"]}]`,
			"kitchen.json:33: sections[0].items[1].effects: warning: the best answer to kit-cooker raises stop"},
		{"best band raises", `{"bands": [4]}`, `{"bands": [1]}`,
			"kitchen.json:82: sections[0].items[4].effects: warning: the best answer to kit-sides raises limit:practise"},
		{"stop of low weight", `"weight": 3`, `"weight": 1`,
			"kitchen.json:33: sections[0].items[1].weight: warning: kit-cooker can stop all driving and has the lowest weight"},
		{"asked for nothing", `, "facts": ["nobody-near"]`, "",
			"kitchen.json:19: sections[0].items[0].asks: warning: nobody-near is asked and no effect of kit-fridge depends on it"},
		{"best band out of reach", `"max": 500`, `"max": 20`,
			"kitchen.json:64: sections[0].items[3].bands: warning: no answer can be “free” between min and max"},
		{"worst band out of reach", `"min": -300`, `"min": 0`,
			"kitchen.json:64: sections[0].items[3].bands: warning: no answer can be “does not fit” between min and max"},
		{"worst count out of reach", `"max": 5,`, `"max": 3,`,
			"kitchen.json:104: sections[0].items[5].bands: warning: no answer can be “more” between min and max"},
		{"sections that the levels need", "", "",
			"kitchen.json:1: sections: warning: the levels above Practise rest on sections that are missing: pos, ctl, mnt, saf, per, ind, out, hom, eqp, hnd"},
		{"items that the levels need", "", "",
			"kitchen.json:1: sections: warning: the levels rest on items that are missing: mnt-stop, hnd-teach, hnd-limits, out-help"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var change []string
			if c.old != "" {
				change = []string{c.old, c.new}
			}
			if got := warnings(t, change...); !slices.Contains(got, c.want) {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), c.want)
			}
		})
	}
}

func TestAGoodFileOfOneSectionHasOnlyItsGaps(t *testing.T) {
	if got := warnings(t); len(got) != 2 {
		t.Errorf("got\n%s", strings.Join(got, "\n"))
	}
}

func TestASmallSectionIsPointedOut(t *testing.T) {
	_, got, err := authoring.Check("one-item.json", read(t, data+"/good/one-item.json"))
	if err != nil {
		t.Fatal(err)
	}
	want := "one-item.json:1: sections[0]: warning: fewer than three items: one answer swings the score of a"
	if !slices.ContainsFunc(got, func(w authoring.Warning) bool { return w.String() == want }) {
		t.Errorf("got %v", got)
	}
}

func TestOneSourceForTwoItemsIsPointedOut(t *testing.T) {
	item := `{"id": "a-ID", "title": "T", "prompt": "P", "type": "count", "weight": 1, "unit": "times", "better": "low",
		"bands": [{"bound": 0, "text": "a"}, {"bound": 1, "text": "b"}, {"text": "c"}], "from": "rescues", "why": "W"}`
	content := `{"format": "doorsill-checklist/1", "id": "a", "version": "1", "title": "A", "sections": [{"code": "a", "title": "A", "items": [` +
		strings.Replace(item, "ID", "one", 1) + ",\n" + strings.Replace(item, "ID", "two", 1) + `]}]}`
	_, got, err := authoring.Check("a.json", []byte(content))
	if err != nil {
		t.Fatal(err)
	}
	want := "a.json:3: sections[0].items[1].from: warning: rescues counts twice: in a-one and a-two"
	if !slices.ContainsFunc(got, func(w authoring.Warning) bool { return w.String() == want }) {
		t.Errorf("got %v", got)
	}
}
