package phrase_test

import (
	"strings"
	"testing"

	"doorsill/internal/message"
	"doorsill/internal/phrase"
)

type titles map[string]string

func (t titles) ItemTitle(id string) (string, bool)      { s, ok := t[id]; return s, ok }
func (t titles) Question(fact string) (string, bool)     { s, ok := t["question "+fact]; return s, ok }
func (t titles) SectionTitle(code string) (string, bool) { s, ok := t["section "+code]; return s, ok }

func TestSlots(t *testing.T) {
	catalogue, err := phrase.Parse("en", strings.Join([]string{
		"# a comment", "", "plain: Nothing to fill.", "site.chin: chin", "verdict.ok: well", "times.1: once", "times.other: {n.0} times", "number.too-large: too much",
		"word: At the {site:site}, {unit}.", "case: {^site:site} and {~say}", "near: {x.1}", "down: {x.1-}", "up: {x.1+}", "places: {x.places}", "fixed: {x#2} {x#places}",
		"plural: {n.0} {n|item|items}", "times: {n.times}", "list: {by:verdict/; }.", "usual: {by:verdict}", "inner: because {why}", "many: {all/ }", "titles: {item:title} in {code:section}", "bare: {x}",
	}, "\n"))
	if err != nil {
		t.Fatal(err)
	}
	w := phrase.NewWriter(catalogue, titles{"pos-head": "Head", "section pos": "Positioning"})
	near, plain := message.New("near", message.Number("x", 2.25)), message.New("plain")
	for _, c := range []struct {
		m    message.Message
		want string
	}{
		{message.Message{}, ""},
		{plain, "Nothing to fill."},
		{message.New("no-such-code"), "no-such-code"},
		{message.New("word", message.Word("site", "chin"), message.Word("unit", "gf")), "At the chin, gf."},
		{message.New("word", message.Word("site", "nose")), "At the nose, {unit}."},
		{message.New("case", message.Word("site", "chin"), message.Inner("say", plain)), "Chin and nothing to fill."},
		{near, "2.3"},
		{message.New("down", message.Number("x", 2.29)), "2.2"},
		{message.New("up", message.Number("x", 2.21)), "2.3"},
		{message.New("near", message.Number("x", 3)), "3"},
		{message.New("near", message.Number("x", 1e13)), "too much"},
		{message.New("bare", message.Number("x", 0.0625)), "0.0625"},
		{message.New("places", message.Number("x", 2.345), message.Count("places", 2)), "2.35"},
		{message.New("fixed", message.Number("x", 2.9), message.Count("places", 1)), "2.90 2.9"},
		{message.New("plural", message.Count("n", 1)), "1 item"},
		{message.New("plural", message.Count("n", 0)), "0 items"},
		{message.New("times", message.Count("n", 1)), "once"},
		{message.New("times", message.Count("n", 4)), "4 times"},
		{message.New("list", message.Words("by", []string{"ok", "odd"})), "well; odd."},
		{message.New("usual", message.Words("by", []string{"ok", "odd"})), "well, odd"},
		{message.New("inner", message.Inner("why", near)), "because 2.3"},
		{message.New("many", message.List("all", []message.Message{near, plain})), "2.3 Nothing to fill."},
		{message.New("titles", message.Word("item", "pos-head"), message.Word("code", "pos")), "Head in Positioning"},
	} {
		if got := w.Text(&c.m); got != c.want {
			t.Errorf("%s: got %q, want %q", c.m.Code, got, c.want)
		}
	}
}

func TestABrokenCatalogueIsRefusedByLine(t *testing.T) {
	for text, want := range map[string]string{
		"a: b\nno colon": `catalogue xx, line 2: expected a code, a colon, a space and a template, got "no colon"`,
		"a: b\n\na: c":   "catalogue xx, line 3: expected each code once, got a again",
		"a: b {c":        `catalogue xx, line 1: expected a slot such as {site:site} or {gf.1}, got "{c"`,
		"a: b {} c":      `catalogue xx, line 1: expected a slot such as {site:site} or {gf.1}, got "{"`,
		"a: b {c.} d":    `catalogue xx, line 1: expected a slot such as {site:site} or {gf.1}, got "{c."`,
		"a: b {c|d} e":   `catalogue xx, line 1: expected a slot such as {site:site} or {gf.1}, got "{c|d"`,
	} {
		if _, err := phrase.Parse("xx", text); err == nil || err.Error() != want {
			t.Errorf("%q: got %v, want %q", text, err, want)
		}
	}
}
