package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// source is a package as it was written, with its types.
type source struct {
	dir   string
	name  string
	fset  *token.FileSet
	files []file
	pkg   *types.Package
	types types.Info
}

type file struct {
	path string
	text []byte
	tree *ast.File
}

// listed is the part of "go list -json" that is read.
type listed struct {
	ImportPath, Name, Dir, Export string
	GoFiles                       []string
	DepOnly                       bool
}

// load reads and type-checks one package.
func load(pattern string) (*source, error) {
	all, err := goList("list", "-export", "-deps", "-json=ImportPath,Name,Dir,Export,GoFiles,DepOnly", pattern)
	if err != nil {
		return nil, err
	}
	exports := map[string]string{}
	var self listed
	for _, p := range all {
		exports[p.ImportPath] = p.Export
		if !p.DepOnly {
			self = p
		}
	}
	s := &source{dir: self.Dir, name: self.Name, fset: token.NewFileSet()}
	if err := s.parse(self.GoFiles); err != nil {
		return nil, err
	}
	return s, s.check(self.ImportPath, exports)
}

func goList(args ...string) ([]listed, error) {
	cmd := exec.Command("go", args...)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go %s: %w\n%s", strings.Join(args, " "), err, stderr.String())
	}
	var all []listed
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			return all, nil
		} else if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
}

func (s *source) parse(names []string) error {
	for _, name := range names {
		path := filepath.Join(s.dir, name)
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		tree, err := parser.ParseFile(s.fset, path, text, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		s.files = append(s.files, file{path, text, tree})
	}
	return nil
}

// leaveOut takes files out that are not to be changed, once their types are known.
func (s *source) leaveOut(names []string) {
	s.files = slices.DeleteFunc(s.files, func(f file) bool { return slices.Contains(names, filepath.Base(f.path)) })
}

// check finds the types, with what the compiler wrote of the imported packages.
func (s *source) check(path string, exports map[string]string) error {
	lookup := func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) }
	config := types.Config{Importer: importer.ForCompiler(s.fset, "gc", lookup)}
	s.types = types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}}
	trees := make([]*ast.File, len(s.files))
	for i := range s.files {
		trees[i] = s.files[i].tree
	}
	var err error
	s.pkg, err = config.Check(path, s.fset, trees, &s.types)
	return err
}
