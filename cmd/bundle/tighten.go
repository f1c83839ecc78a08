package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"

	"github.com/evanw/esbuild/pkg/api"
)

// terserArgs are ways to tighten a script, of which the one that packs smallest
// is taken: which one that is, only trying tells. Nothing that could change what
// the script does is asked for.
var terserArgs = [][]string{
	{"--module", "--ecma", "2020", "--compress", "passes=2,join_vars=false", "--mangle"},
	{"--module", "--ecma", "2020", "--compress", "passes=2,hoist_funs=true", "--mangle"},
}

// tighten makes a bundled script smaller once more, by 3 % of what is fetched:
// the bundler gives the shortest names to what stands in a script most often,
// terser gives the same few names to the same places of every function, and
// that packs better. Other files stay as they are.
func tighten(root string, c cache, f api.OutputFile) ([]byte, error) {
	if filepath.Ext(f.Path) != ".js" {
		return f.Contents, nil
	}
	version, err := os.ReadFile(filepath.Join(root, "node_modules", "terser", "package.json"))
	if err != nil {
		return nil, fmt.Errorf("read terser's version: %w", err)
	}
	key := fmt.Appendf(nil, "%s %q\n%s", version, terserArgs, f.Contents)
	return c.keep(key, "terser.js", func([]byte) ([]byte, error) { return tightest(root, f) })
}

func tightest(root string, f api.OutputFile) ([]byte, error) {
	var best, bestPacked []byte
	for _, args := range terserArgs {
		script, err := terser(root, f, args)
		if err != nil {
			return nil, err
		}
		packed, err := brotliBest(script)
		if err != nil {
			return nil, fmt.Errorf("tighten %s: %w", filepath.Base(f.Path), err)
		}
		if best == nil || len(packed) < len(bestPacked) {
			best, bestPacked = script, packed
		}
	}
	return best, nil
}

func terser(root string, f api.OutputFile, args []string) ([]byte, error) {
	cmd := exec.Command("node", append([]string{filepath.Join("node_modules", "terser", "bin", "terser")}, args...)...)
	cmd.Dir = root
	cmd.Stdin = bytes.NewReader(f.Contents)
	var complaints bytes.Buffer
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("tighten %s: %w\n%s", filepath.Base(f.Path), err, complaints.String())
	}
	return out, nil
}
