package archtest

import (
	"bytes"
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// pkg is the part of "go list -json" that the laws read.
type pkg struct {
	ImportPath, Name, Doc, Dir string
	Imports, GoFiles           []string
	TestImports                []string
}

func packages(t *testing.T) []pkg {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Name,Doc,Dir,Imports,GoFiles,TestImports", "doorsill/...")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.String())
	}
	var all []pkg
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var p pkg
		err := dec.Decode(&p)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	if len(all) < 10 {
		t.Fatalf("only %d packages listed: the laws would hold by accident", len(all))
	}
	return all
}

// within says whether an import path is the package or lies below it.
func within(path, root string) bool {
	return path == root || strings.HasPrefix(path, root+"/")
}

// mayImport lists, for each part of the tree, the parts of ours that it may
// see. Arrows go down only.
var mayImport = []struct {
	part    string
	allowed []string
	reason  string
}{
	{"doorsill/internal/decimal", nil, "it counts in millionths, whatever they measure"},
	{"doorsill/internal/validation", nil, "it says what is wrong with input, whatever reads it"},
	{"doorsill/internal/passphrase", []string{"doorsill/internal/validation"}, "it judges a text, on the server and in the browser"},
	{"doorsill/internal/strictjson", []string{"doorsill/internal/validation"}, "it reads and writes JSON, whatever it says"},
	{"doorsill/internal/exactjson", []string{"doorsill/internal/strictjson", "doorsill/internal/validation"}, "it reads JSON into structs, whatever they mean"},
	{"doorsill/internal/message", []string{"doorsill/internal/decimal", "doorsill/internal/strictjson", "doorsill/internal/validation"},
		"a statement is a code and its arguments, whoever makes it or words it"},
	{"doorsill/internal/model", []string{"doorsill/internal/validation", "doorsill/internal/strictjson", "doorsill/internal/message", "doorsill/internal/decimal"},
		"plain structs that every part may hold, the program in the browser too"},
	{"doorsill/internal/codegen", nil, "it reads source text, so that it works while what it writes is out of date"},
	{"doorsill/internal/checklist/authoring", []string{"doorsill/internal/checklist", "doorsill/internal/validation"},
		"what is asked must not depend on who stores or scores it"},
	{"doorsill/internal/checklist", []string{"doorsill/internal/model", "doorsill/internal/validation", "doorsill/internal/strictjson"},
		"the program in the browser holds it, so it carries nothing of what authors need"},
	{"doorsill/internal/record", []string{"doorsill/internal/model", "doorsill/internal/validation", "doorsill/internal/strictjson"},
		"what was said is readable without any rule about what it means"},
	{"doorsill/internal/phrase", []string{"doorsill/internal/message", "doorsill/internal/decimal"},
		"it words what was stated, and decides nothing"},
	{"doorsill/internal/engine", []string{"doorsill/internal/engine", "doorsill/internal/checklist", "doorsill/internal/message", "doorsill/internal/phrase",
		"doorsill/internal/model", "doorsill/internal/record", "doorsill/internal/validation", "doorsill/internal/strictjson", "doorsill/internal/decimal"},
		"numbers come from what the record holds and rules alone: no storage, no clock"},
	{"doorsill/internal/faults", nil, "it reads reports of tests, and nothing depends on it but they"},
	{"doorsill/internal/history", nil, "it judges what clients saw by the protocol, and must not share a mistake with what it judges"},
	{"doorsill/internal/reftables", []string{"doorsill/internal/engine/provenance"},
		"tables that others printed, read by tests alone"},
	{"doorsill/internal/store/storetest", []string{"doorsill/internal/store", "doorsill/internal/model", "doorsill/internal/validation", "doorsill/internal/record"},
		"what every store must do, tried with real events"},
	{"doorsill/internal/store", []string{"doorsill/internal/store", "doorsill/internal/model", "doorsill/internal/validation", "doorsill/internal/folder"},
		"a store keeps things and has no opinion on them"},
	{"doorsill/internal/audit", []string{"doorsill/internal/store", "doorsill/internal/model", "doorsill/internal/validation"},
		"the audit trail watches; it decides nothing"},
	{"doorsill/internal/signing", []string{"doorsill/internal/validation"}, "it checks signatures and knows nothing of what is signed"},
	{"doorsill/internal/account", []string{"doorsill/internal/store", "doorsill/internal/model", "doorsill/internal/validation", "doorsill/internal/audit", "doorsill/internal/signing", "doorsill/internal/passphrase"},
		"people and sessions know nothing of clients"},
	{"doorsill/internal/intake", []string{"doorsill/internal/store", "doorsill/internal/model", "doorsill/internal/validation", "doorsill/internal/record", "doorsill/internal/engine",
		"doorsill/internal/message", "doorsill/internal/decimal", "doorsill/internal/checklist", "doorsill/internal/account", "doorsill/internal/audit", "doorsill/internal/seal",
		"doorsill/internal/strictjson", "doorsill/internal/exactjson", "doorsill/internal/signing", "doorsill/internal/panics"},
		"the one way in for clinical data"},
	{"doorsill/internal/verify", []string{"doorsill/internal/store", "doorsill/internal/model", "doorsill/internal/validation", "doorsill/internal/record", "doorsill/internal/intake",
		"doorsill/internal/checklist", "doorsill/internal/audit", "doorsill/internal/panics"},
		"it compares what intake stored with what the log says, and mends nothing"},
	{"doorsill/internal/panics", nil, "whoever catches a panic may ask how to word it"},
	{"doorsill/internal/folder", nil, "a thing of the operating system, no more"},
	{"doorsill/internal/backup", []string{"doorsill/internal/store", "doorsill/internal/folder"},
		"it copies records and keys without knowing what they say"},
	{"doorsill/internal/caseload", []string{"doorsill/internal/store", "doorsill/internal/model", "doorsill/internal/validation", "doorsill/internal/record", "doorsill/internal/intake",
		"doorsill/internal/account"},
		"the lead's view reads summaries; it never writes"},
	{"doorsill/internal/agreement", []string{"doorsill/internal/store", "doorsill/internal/model", "doorsill/internal/record", "doorsill/internal/engine",
		"doorsill/internal/message", "doorsill/internal/phrase", "doorsill/internal/decimal", "doorsill/internal/account", "doorsill/internal/checklist"},
		"it gathers what two raters said; what that means the engine says"},
	{"doorsill/internal/seal", []string{"doorsill/internal/exactjson", "doorsill/internal/signing", "doorsill/internal/validation", "doorsill/internal/folder"}, "it closes and opens boxes and knows nothing of what is in them"},
	{"doorsill/server", []string{"doorsill/server", "doorsill/internal", "doorsill/embed"},
		"the edge sees everything below it and nothing sees the edge"},
	{"doorsill/embed", nil, "files only"},
	{"doorsill/cmd/engine", []string{"doorsill/internal/tablet"},
		"a thin shim over the tablet's program"},
}

func TestArrowsGoDownOnly(t *testing.T) {
	for _, p := range packages(t) {
		for _, law := range mayImport {
			if !within(p.ImportPath, law.part) {
				continue
			}
			for _, imp := range p.Imports {
				if within(imp, "doorsill") && !allowed(imp, p.ImportPath, law.allowed) {
					t.Errorf("%s imports %s: %s", p.ImportPath, imp, law.reason)
				}
			}
			break // the first, most exact part decides
		}
		for _, imp := range p.Imports {
			if within(imp, "doorsill/server") && !within(p.ImportPath, "doorsill/server") && !within(p.ImportPath, "doorsill/cmd") {
				t.Errorf("%s imports %s: rules must not live at the HTTP edge", p.ImportPath, imp)
			}
			if within(imp, "doorsill/cmd") && !within(p.ImportPath, "doorsill/cmd") {
				t.Errorf("%s imports %s: commands are the end of the line", p.ImportPath, imp)
			}
		}
	}
}

func allowed(imp, self string, roots []string) bool {
	if imp == self {
		return true
	}
	for _, r := range roots {
		if within(imp, r) {
			return true
		}
	}
	return false
}

// onlyIn says where a library may be seen, so that it can be replaced there.
var onlyIn = []struct{ library, place, reason string }{
	{"go.etcd.io/bbolt", "doorsill/internal/store/bolt", "another store must be able to take its place"},
	{"github.com/gorilla/mux", "doorsill/server", "the router stays behind routes.go"},
	{"github.com/evanw/esbuild", "doorsill/cmd/bundle", "bundling is a build step, not part of the program"},
	{"github.com/andybalholm/brotli", "doorsill/cmd/bundle", "nothing is compressed on request"},
	{"golang.org/x/crypto/argon2", "doorsill/internal/account", "passwords are checked in one place"},
	{"filippo.io/age", "doorsill/internal/backup", "what a backup is encrypted with is decided in one place"},
	{"net/http", "doorsill/server", "HTTP ends at the edge"},
	{"golang.org/x/crypto/acme", "doorsill/server/certs", "certificates come from one place"},
	{"github.com/coreos/go-oidc", "doorsill/server/provider", "what a token says is checked in one place"},
	{"golang.org/x/oauth2", "doorsill/server/provider", "what a token says is checked in one place"},
}

func TestLibrariesStayInTheirPlace(t *testing.T) {
	for _, p := range packages(t) {
		for _, imp := range p.Imports {
			for _, law := range onlyIn {
				if within(imp, law.library) && !within(p.ImportPath, law.place) && !within(p.ImportPath, "doorsill/cmd") {
					t.Errorf("%s imports %s, which belongs in %s: %s", p.ImportPath, imp, law.place, law.reason)
				}
			}
		}
	}
}

// testsOnly are modules that only tests may use.
var testsOnly = []struct{ module, reason string }{
	{"github.com/zitadel/oidc", "the provider that sign-in is tested against"},
	{"github.com/go-chi/chi", "what that provider is made with"},
	{"go.opentelemetry.io", "what that provider is made with"},
	{"github.com/santhosh-tekuri/jsonschema", "checks our schema against our own files"},
	{"gonum.org/v1/gonum", "what our statistics are compared with"},
	{"github.com/hanwen/go-fuse", "the disk whose power is cut"},
}

func TestTheProgramLinksNothingOfTheTests(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "doorsill/cmd/doorsill").Output()
	if err != nil {
		t.Fatal(err)
	}
	linked := strings.Fields(string(out))
	if len(linked) < 100 {
		t.Fatalf("only %d packages listed: the law would hold by accident", len(linked))
	}
	for _, p := range linked {
		for _, law := range testsOnly {
			if within(p, law.module) {
				t.Errorf("the program links %s: %s", p, law.reason)
			}
		}
	}
}

// TestTheRecordFitsIntoTheBrowser keeps out of what folds and checks the record
// the packages that would add most to what every tablet downloads.
func TestTheRecordFitsIntoTheBrowser(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "doorsill/internal/record", "doorsill/internal/message").Output()
	if err != nil {
		t.Fatal(err)
	}
	linked := strings.Fields(string(out))
	for _, heavy := range []string{"encoding/json", "fmt", "reflect", "time", "os"} {
		if slices.Contains(linked, heavy) {
			t.Errorf("the record links %s", heavy)
		}
	}
	if !slices.Contains(linked, "doorsill/internal/model") {
		t.Error("the record does not link the model: the law would hold by accident")
	}
}

func TestEveryPackageExplainsItself(t *testing.T) {
	banned := map[string]bool{"util": true, "utils": true, "common": true, "helpers": true, "misc": true}
	for _, p := range packages(t) {
		if len(p.GoFiles) > 0 && p.Doc == "" {
			t.Errorf("%s has no package comment: a newcomer opens it first", p.ImportPath)
		}
		if banned[p.Name] {
			t.Errorf("%s: a package is named after what it is about, not %q", p.ImportPath, p.Name)
		}
		docs := 0
		for _, f := range p.GoFiles {
			if fileHasDoc(t, filepath.Join(p.Dir, f)) {
				docs++
			}
		}
		if docs > 1 {
			t.Errorf("%s has %d package comments: one of them will go stale", p.ImportPath, docs)
		}
	}
}

func fileHasDoc(t *testing.T, path string) bool {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.PackageClauseOnly|parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	return f.Doc != nil
}

// TestNoClockBelowTheEdge keeps time out of the rules: whoever needs a clock is
// given one, so that tests can turn it and results do not depend on the day.
func TestNoClockBelowTheEdge(t *testing.T) {
	for _, p := range packages(t) {
		if !within(p.ImportPath, "doorsill/internal") {
			continue
		}
		for _, f := range p.GoFiles {
			path := filepath.Join(p.Dir, f)
			for _, call := range clockCalls(t, path) {
				t.Errorf("%s:%d reads the clock: take a now func() time.Time instead", path, call)
			}
		}
	}
}

func clockCalls(t *testing.T, path string) []int {
	t.Helper()
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	set := token.NewFileSet()
	f, err := parser.ParseFile(set, path, src, 0)
	if err != nil {
		t.Fatal(err)
	}
	var lines []int
	ast.Inspect(f, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		sel, ok := call.Fun.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if x, ok := sel.X.(*ast.Ident); ok && x.Name == "time" && (sel.Sel.Name == "Now" || sel.Sel.Name == "Since") {
			lines = append(lines, set.Position(call.Pos()).Line)
		}
		return true
	})
	return lines
}
