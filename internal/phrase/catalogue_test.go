package phrase_test

import (
	"go/ast"
	"go/token"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/phrase"
)

// sources are the folders whose messages the English catalogue words.
var sources = []string{"../engine"}

// call is one message.New with a code that stands there as text.
type call struct {
	place, code string
	// names are its arguments; spread says that more may come at run time.
	names  []string
	spread bool
}

// TestEveryMessageHasItsWords holds engine and catalogue together: each code
// that is stated has a template, each slot of it an argument and each argument a
// slot, and no template is left over.
func TestEveryMessageHasItsWords(t *testing.T) {
	templates := map[string]string{}
	phrase.English().Codes(func(code, template string) { templates[code] = template })
	calls, words := readSources(t)
	called := map[string]bool{}
	for _, c := range calls {
		called[c.code] = true
		template, ok := templates[c.code]
		if !ok {
			t.Errorf("%s: the code %q has no template", c.place, c.code)
			continue
		}
		slots := slotsOf(template)
		for _, slot := range slots {
			if !slices.Contains(c.names, slot) && !c.spread {
				t.Errorf("%s: %s asks for {%s}, which is not an argument", c.place, c.code, slot)
			}
		}
		for _, name := range c.names {
			if !slices.Contains(slots, name) {
				t.Errorf("%s: %s has no place for the argument %s", c.place, c.code, name)
			}
		}
	}
	for word := range words {
		if !strings.HasPrefix(word, "formula.") && !strings.HasPrefix(word, "source.") || called[word] {
			continue
		}
		if template := templates[word]; template == "" || len(slotsOf(template)) > 0 {
			t.Errorf("the code %q, which stands without arguments, has the template %q", word, template)
		}
	}
	vocabularies := map[string]bool{"times": true, "number": true}
	for _, template := range templates {
		for _, m := range regexp.MustCompile(`\{[\^~]?\w+:([\w-]+)`).FindAllStringSubmatch(template, -1) {
			vocabularies[m[1]] = true
		}
	}
	for code := range templates {
		vocabulary, _, _ := strings.Cut(code, ".")
		if !words[code] && !vocabularies[vocabulary] {
			t.Errorf("the template of %s is used nowhere", code)
		}
	}
}

var slotName = regexp.MustCompile(`\{[\^~]?([\w-]+)[^}]*\}`)

// slotsOf names the arguments that a template asks for, each once.
func slotsOf(template string) []string {
	var names []string
	add := func(name string) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, m := range slotName.FindAllStringSubmatch(template, -1) {
		add(m[1])
		if _, places, ok := strings.Cut(m[0], "#"); ok {
			addPlaces(places, add)
		} else if _, places, ok := strings.Cut(m[0], "."); ok && places != "times}" {
			addPlaces(places, add)
		}
	}
	return names
}

// addPlaces adds the argument that says how many decimals are wanted, if one does.
func addPlaces(places string, add func(string)) {
	if places = strings.TrimRight(places, "}+-"); places[0] < '0' || places[0] > '9' {
		add(places)
	}
}

// readSources returns the messages that are made, and every text that stands in
// the sources.
func readSources(t *testing.T) (calls []call, words map[string]bool) {
	t.Helper()
	words = map[string]bool{}
	sourceFiles(t, sources, func(files *token.FileSet, _ string, f *ast.File) {
		ast.Inspect(f, func(n ast.Node) bool {
			if text, ok := textOf(n); ok {
				words[text] = true
			}
			if c, ok := callOf(n); ok {
				c.place = files.Position(n.Pos()).String()
				calls = append(calls, c)
			}
			return true
		})
	})
	return calls, words
}

func textOf(n ast.Node) (string, bool) {
	literal, ok := n.(*ast.BasicLit)
	if !ok || literal.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(literal.Value)
	return text, err == nil
}

// callOf reads a call of message.New whose code is a text.
func callOf(n ast.Node) (call, bool) {
	made, ok := n.(*ast.CallExpr)
	if !ok || !isFrom(made.Fun, "New") || len(made.Args) == 0 {
		return call{}, false
	}
	code, ok := textOf(made.Args[0])
	if !ok {
		return call{}, false
	}
	c := call{code: code, spread: made.Ellipsis.IsValid()}
	for _, arg := range made.Args[1:] {
		inner, ok := arg.(*ast.CallExpr)
		if !ok || !isFrom(inner.Fun, "") || len(inner.Args) == 0 {
			c.spread = true
			continue
		}
		name, ok := textOf(inner.Args[0])
		if !ok {
			c.spread = true
			continue
		}
		c.names = append(c.names, name)
	}
	return c, true
}

// isFrom reports whether a function is one of package message.
func isFrom(fun ast.Expr, name string) bool {
	selector, ok := fun.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	from, ok := selector.X.(*ast.Ident)
	return ok && from.Name == "message" && (name == "" || selector.Sel.Name == name)
}
