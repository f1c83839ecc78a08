package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestGeneratedFilesAreFresh(t *testing.T) {
	const root = "../.."
	files, err := generated(root)
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range files {
		got, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			t.Error(err)
			continue
		}
		if diff := cmp.Diff(string(want), string(got)); diff != "" {
			t.Errorf("%s is stale; run \"go run ./cmd/bundle types\" (-want +got):\n%s", name, diff)
		}
	}
	for _, pattern := range []string{modelDir + "/*_gen.go", modelDir + "/*.schema.json", checklistDir + "/*_gen.go"} {
		there, err := filepath.Glob(filepath.Join(root, pattern))
		if err != nil || len(there) == 0 {
			t.Fatalf("no generated files like %s: %v", pattern, err)
		}
		for _, path := range there {
			if name := filepath.ToSlash(filepath.Dir(pattern)) + "/" + filepath.Base(path); files[name] == nil {
				t.Errorf("%s is not generated any more; delete it", name)
			}
		}
	}
}

// TestOpsAreTypedAsTheProgramTakesThem: the front end is typed against the ops
// that the program answers, all of them, each with the question that it reads.
func TestOpsAreTypedAsTheProgramTakesThem(t *testing.T) {
	typed := map[string]string{}
	for _, op := range programOps {
		typed[op.Name] = op.Question
	}
	if diff := cmp.Diff(opsOf(t, "../../internal/tablet"), typed); diff != "" {
		t.Errorf("programOps are not those of the program (-program +typed):\n%s", diff)
	}
}

// opsOf reads from the source of the program the name of each op with the type
// that its method takes.
func opsOf(t *testing.T, dir string) map[string]string {
	t.Helper()
	takes, methods := map[string]string{}, map[string]string{}
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncDecl:
				if n.Recv != nil && n.Type.Params.NumFields() == 1 {
					takes[n.Name.Name] = strings.TrimPrefix(types.ExprString(n.Type.Params.List[0].Type), "*model.")
				}
			case *ast.ValueSpec:
				if n.Names[0].Name == "ops" {
					for _, row := range n.Values[0].(*ast.CompositeLit).Elts {
						op := row.(*ast.KeyValueExpr)
						name, _ := strconv.Unquote(op.Key.(*ast.BasicLit).Value)
						methods[name] = op.Value.(*ast.CallExpr).Args[0].(*ast.SelectorExpr).Sel.Name
					}
				}
			}
			return true
		})
	}
	for name, method := range methods {
		methods[name] = takes[method]
	}
	return methods
}
