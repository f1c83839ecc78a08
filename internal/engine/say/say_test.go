package say_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/engine/say"
)

func TestSlotsAreFilledInOrder(t *testing.T) {
	for _, c := range []struct {
		template string
		words    say.Words
		numbers  []float64
		want     string
	}{
		{"Nothing to fill.", nil, nil, "Nothing to fill."},
		{"{^}: {} at the {}.", say.Words{"forward", "60 gf", "chin"}, nil, "Forward: 60 gf at the chin."},
		{"{^}{^}", say.Words{"", "Ärmel"}, nil, "Ärmel"},
		{"{0} {1} {2} {6}", nil, []float64{2.5, 2.25, 3, 0.0000015}, "3 2.3 3 0.000002"},
		{"{1-} {1+} {2-} {0+}", nil, []float64{2.99, 2.91, -0.001, 3.0001}, "2.9 3 -0.01 4"},
		{"{0} {item|items}, {0} {item|items}", nil, []float64{1, 0}, "1 item, 0 items"},
		{"{times}, {times}, {times}", nil, []float64{1, 2, 12}, "once, twice, 12 times"},
		{"a title may hold {} and is not read", say.Words{"{0}"}, nil, "a title may hold {0} and is not read"},
		{"{1} gf", nil, []float64{1e13}, "a number that is too large gf"},
	} {
		if got := say.Line(c.template, c.words, c.numbers...); got != c.want {
			t.Errorf("%q: got %q, want %q", c.template, got, c.want)
		}
		if got := string(say.Append([]byte("> "), c.template, c.words, c.numbers...)); got != "> "+c.want {
			t.Errorf("%q: appended %q, want %q", c.template, got, c.want)
		}
	}
}

func TestListPartsWordsByAMark(t *testing.T) {
	for want, words := range map[string]say.Words{"": nil, "a": {"a"}, "a, b, ": {"a", "b", ""}} {
		if got := say.List(words, ", "); got != want {
			t.Errorf("%q: got %q, want %q", words, got, want)
		}
	}
}

// TestEveryTemplateGetsWhatItAsksFor reads the engine's sources: a call with a
// template that is written out must hand over as many numbers as it has slots
// for, and no fewer words.
func TestEveryTemplateGetsWhatItAsksFor(t *testing.T) {
	calls := 0
	err := filepath.WalkDir("..", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok {
				if wrong := checkCall(call); wrong != "" {
					t.Errorf("%s: %s", set.Position(call.Pos()), wrong)
				}
				if at, _ := templateOf(call); at >= 0 {
					calls++
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if calls == 0 {
		t.Errorf("found no templates: the check would hold by accident")
	}
}

var slot = regexp.MustCompile(`\{([^{}]*)\}`)

// templateOf returns where among a call's arguments a written-out template
// stands, or -1. Functions that hand a template on take it like Line does.
func templateOf(call *ast.CallExpr) (at int, template string) {
	for i, arg := range call.Args {
		if lit, ok := arg.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			text, err := strconv.Unquote(lit.Value)
			if err == nil && slot.MatchString(text) {
				return i, text
			}
		}
	}
	return -1, ""
}

func checkCall(call *ast.CallExpr) string {
	at, template := templateOf(call)
	if at < 0 {
		return ""
	}
	words, numbers := 0, 0
	for _, s := range slot.FindAllStringSubmatch(template, -1) {
		switch {
		case strings.Contains(s[1], "|"):
		case s[1] == "" || s[1] == "^":
			words++
		case s[1] == "times" || regexp.MustCompile(`^[0-6][-+]?$`).MatchString(s[1]):
			numbers++
		default:
			return "a slot that nothing fills: {" + s[1] + "}"
		}
	}
	if got := len(call.Args) - at - 2; got != numbers && !call.Ellipsis.IsValid() {
		return "wants " + strconv.Itoa(numbers) + " numbers, gets " + strconv.Itoa(got) + ": " + template
	}
	if got, known := wordsIn(call.Args[at+1]); known && got < words {
		return "wants " + strconv.Itoa(words) + " words, gets " + strconv.Itoa(got) + ": " + template
	}
	return ""
}

// wordsIn counts words that are written out at the call.
func wordsIn(arg ast.Expr) (n int, known bool) {
	switch arg := arg.(type) {
	case *ast.CompositeLit:
		return len(arg.Elts), true
	case *ast.Ident:
		return 0, arg.Name == "nil"
	}
	return 0, false
}
