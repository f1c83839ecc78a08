package phrase_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
)

// wordless are the folders that state codes and arguments, and no words.
var wordless = []string{"../engine", "../model"}

// forTests is the one folder below them that may hold words: it writes the text
// form that recorded answers are compared in, and no program links it.
const forTests = "../engine/enginetest"

// TestWordsStandInTheCatalogueAlone finds texts of several words in the sources of
// the engine and the model: they belong in the catalogue, under a code.
func TestWordsStandInTheCatalogueAlone(t *testing.T) {
	sourceFiles(t, wordless, func(files *token.FileSet, path string, f *ast.File) {
		if strings.HasPrefix(path, forTests+"/") {
			return
		}
		for _, literal := range phrasesIn(f) {
			t.Errorf("%s: %s belongs in the catalogue", files.Position(literal.Pos()), literal.Value)
		}
	})
}

// phrasesIn returns the texts of several words that are not part of an error for
// developers, a tag or an import.
func phrasesIn(f *ast.File) []*ast.BasicLit {
	var found []*ast.BasicLit
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.Field:
			n.Tag = nil
		case *ast.CallExpr:
			return !makesError(n.Fun)
		case *ast.CompositeLit:
			return !makesError(n.Type)
		case *ast.BasicLit:
			if text, ok := textOf(n); ok && isPhrase(text) {
				found = append(found, n)
			}
		}
		return true
	})
	return found
}

// makesError reports whether a function or type is one of those that errors for
// developers are made with.
func makesError(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.IndexExpr:
		return makesError(e.X)
	case *ast.Ident:
		return e.Name == "panic"
	case *ast.SelectorExpr:
		from, ok := e.X.(*ast.Ident)
		return ok && (from.Name == "errors" || from.Name == "validation" || from.Name == "strictjson")
	}
	return false
}

// isPhrase reports whether a text has a space and a small letter.
func isPhrase(text string) bool {
	return strings.Contains(text, " ") && strings.ContainsFunc(text, unicode.IsLower)
}

// sourceFiles reads every Go file in some folders but the tests.
func sourceFiles(t *testing.T, roots []string, yield func(files *token.FileSet, path string, f *ast.File)) {
	t.Helper()
	files := token.NewFileSet()
	for _, root := range roots {
		err := filepath.WalkDir(root, func(path string, _ fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			f, err := parser.ParseFile(files, path, nil, 0)
			if err != nil {
				return err
			}
			yield(files, filepath.ToSlash(path), f)
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// TestWhatIsAPhrase tries the search on texts that are one and that are none.
func TestWhatIsAPhrase(t *testing.T) {
	const source = `package p

import "a b"

type T struct {
	F int "json b"
}

// a comment
var (
	_ = "two words"
	_ = "one" + " of two"
	_ = "one-word"
	_ = "A B"
	_ = errors.New("for a developer")
	_ = validation.Unexpected("code", "one of two")
	_ = &validation.Error{Want: "one of two"}
	_ = strictjson.Slice[int]("a list of numbers")
	_ = message.New("code", message.Word("w", "three small words"))
)

func f() { panic("not reached") }
`
	f, err := parser.ParseFile(token.NewFileSet(), "p.go", source, 0)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, literal := range phrasesIn(f) {
		got = append(got, literal.Value)
	}
	if want := `"two words" " of two" "three small words"`; strings.Join(got, " ") != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
