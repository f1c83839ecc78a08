package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"

	"github.com/evanw/esbuild/pkg/api"
)

// terserArgs name what is done to a script. Nothing that could change what it
// does is asked for.
var terserArgs = []string{"--module", "--ecma", "2020", "--compress", "passes=2,join_vars=false", "--mangle"}

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
	return c.keep(key, "terser.js", func([]byte) ([]byte, error) { return terser(root, f) })
}

func terser(root string, f api.OutputFile) ([]byte, error) {
	cmd := exec.Command("node", append([]string{filepath.Join("node_modules", "terser", "bin", "terser")}, terserArgs...)...)
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
