package main

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"doorsill/internal/phrase"
)

// buildUnit bundles every frontend/**/*.test.ts(x) for "node --test". Packages
// stay outside, so that each test file loads them from node_modules.
func buildUnit(root string, out io.Writer) error {
	tests, err := unitTests(root)
	if err != nil {
		return err
	}
	o, err := options(root, map[string]string{"ENGINE_WASM": "", "CATALOGUE_EN": "", "ENGINE_WORKER": "", "KDF_WORKER": ""})
	if err != nil {
		return err
	}
	dir := filepath.Join(o.AbsWorkingDir, ".cache", "unit")
	if err := os.RemoveAll(dir); err != nil {
		return fmt.Errorf("empty %s: %w", dir, err)
	}
	o.EntryPoints, o.Inject = tests, []string{markup}
	o.Outdir, o.Outbase = dir, "frontend"
	o.OutExtension = map[string]string{".js": ".mjs"}
	o.Format, o.Platform, o.Packages = api.FormatESModule, api.PlatformNode, api.PackagesExternal
	o.MinifyWhitespace, o.MinifyIdentifiers, o.MinifySyntax = false, false, false
	o.Sourcemap = api.SourceMapInline
	o.Write = true
	if _, err := build(o); err != nil {
		return err
	}
	if err := addEngineUnderTest(root, dir); err != nil {
		return err
	}
	fmt.Fprintf(out, "bundled %d test files to %s\n", len(tests), ".cache/unit")
	return nil
}

// addEngineUnderTest puts the engine as the browser gets it beside the tests,
// with its catalogue and the standard checklist.
func addEngineUnderTest(root, dir string) error {
	wasm, err := compileEngine(root, newCache(root))
	if err != nil {
		return err
	}
	standard, err := os.ReadFile(filepath.Join(root, "internal", "checklist", "authoring", "standard.json"))
	if err != nil {
		return err
	}
	for name, data := range map[string][]byte{
		"engine.wasm": wasm, "catalogue-en.txt": []byte(phrase.EnglishText()), "standard.json": standard,
	} {
		if err := put(dir, name, data); err != nil {
			return err
		}
	}
	return nil
}

func unitTests(root string) ([]string, error) {
	var tests []string
	err := filepath.WalkDir(filepath.Join(root, "frontend"), func(p string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() && (strings.HasSuffix(p, ".test.ts") || strings.HasSuffix(p, ".test.tsx")) {
			rel, _ := filepath.Rel(root, p)
			tests = append(tests, filepath.ToSlash(rel))
		}
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("find tests: %w", err)
	}
	return tests, nil
}
