package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"

	"doorsill/cmd/bundle/slim"
)

const (
	enginePackage = "./cmd/engine"
	slimPackage   = "./cmd/bundle/slim"
)

// engineFlags keep the download small; nothing that the engine computes depends
// on them, and cmd/engine runs every shared vector through the same build.
//
//   - Inlining (-l) repeats code at every call, and each call in WebAssembly
//     takes a place to resume. With it, a visit takes a fifth less time and the
//     download 52 kB more. The small packages that every line, number and
//     message goes through keep theirs.
//   - The standard library, which is here the runtime and little else, goes
//     without its own checks for nil and for bounds: 22 kB, a twentieth. They
//     could only find mistakes in Go itself. Our own packages keep theirs.
var engineFlags = []string{
	"-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-gcflags=all=-l", "-gcflags=std=-l -B -d=disablenil",
	"-gcflags=doorsill/internal/fields=", "-gcflags=doorsill/internal/decimal=", "-gcflags=doorsill/internal/engine/say=",
	"-gcflags=doorsill/internal/message=", "-gcflags=doorsill/internal/phrase=",
}

// engineEnv names the platform: WASI, which the browser's side of it needs no
// loader of Go's for. The newer garbage collector brings 11 kB that an engine
// with a few hundred kilobytes of memory has no use for.
var engineEnv = []string{"GOOS=wasip1", "GOARCH=wasm", "CGO_ENABLED=0", "GOEXPERIMENT=nogreenteagc"}

// compileEngine returns the engine as WebAssembly. It is compiled again only
// when one of its source files or the toolchain has changed.
func compileEngine(root string, c cache) ([]byte, error) {
	key, err := engineKey(root)
	if err != nil {
		return nil, fmt.Errorf("read sources of %s: %w", enginePackage, err)
	}
	return c.named("engine-"+key+".wasm", func() ([]byte, error) { return compileWasm(root) })
}

func compileWasm(root string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "doorsill-engine")
	if err != nil {
		return nil, fmt.Errorf("compile engine: %w", err)
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "engine.wasm")
	args := append([]string{"build", "-buildmode=c-shared", "-o", out}, engineFlags...)
	if _, err := goTool(root, append(args, enginePackage)...); err != nil {
		return nil, fmt.Errorf("compile engine: %w", err)
	}
	wasm, err := os.ReadFile(out)
	if err != nil {
		return nil, fmt.Errorf("compile engine: %w", err)
	}
	return slimEngine(wasm, os.Stderr)
}

// slimEngine is the last step of the compilation. With a Go version that slim
// does not know yet, the engine works and is some 60 kB larger.
func slimEngine(wasm []byte, warnings io.Writer) ([]byte, error) {
	small, err := slim.Program(wasm)
	if errors.Is(err, slim.ErrVersion) {
		fmt.Fprintln(warnings, "warning: the engine stays larger than it could be:", err)
		return small, nil
	}
	if err != nil {
		return nil, fmt.Errorf("slim engine: %w", err)
	}
	return small, nil
}

// goTool runs the go command for the browser's platform and returns what it
// printed. What it complained about becomes the error.
func goTool(root string, args ...string) ([]byte, error) {
	cmd := exec.Command("go", args...)
	cmd.Dir = root
	cmd.Env = append(os.Environ(), engineEnv...)
	var complaints bytes.Buffer
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go %s: %w\n%s", args[0], err, complaints.String())
	}
	return out, nil
}

// writeEngine compiles the engine as the browser gets it to a file.
func writeEngine(root, path string) error {
	wasm, err := compileEngine(root, newCache(root))
	if err != nil {
		return err
	}
	if err := os.WriteFile(path, wasm, 0o644); err != nil {
		return fmt.Errorf("write engine: %w", err)
	}
	return nil
}

// engineKey hashes the toolchain's version, how it is called and our own
// sources of the engine and of what is done to it.
func engineKey(root string) (string, error) {
	version, err := goTool(root, "env", "GOVERSION")
	if err != nil {
		return "", err
	}
	list, err := goTool(root, "list", "-deps", "-json=Dir,ImportPath,Standard,GoFiles,EmbedFiles", enginePackage, slimPackage)
	if err != nil {
		return "", err
	}
	h := sha256.New()
	fmt.Fprintf(h, "%s %q %q\n", version, engineFlags, engineEnv)
	if err := hashSources(h, list); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil))[:24], nil
}

func hashSources(h io.Writer, list []byte) error {
	dec := json.NewDecoder(bytes.NewReader(list))
	for {
		var p struct {
			Dir, ImportPath     string
			Standard            bool
			GoFiles, EmbedFiles []string
		}
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
		if p.Standard {
			continue
		}
		for _, name := range append(p.GoFiles, p.EmbedFiles...) {
			data, err := os.ReadFile(filepath.Join(p.Dir, name))
			if err != nil {
				return err
			}
			fmt.Fprintf(h, "%s/%s %d\n%s", p.ImportPath, name, len(data), data)
		}
	}
}
