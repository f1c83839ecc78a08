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
	"strings"

	"doorsill/cmd/bundle/strip"
)

const (
	enginePackage = "./cmd/engine"
	stripPackage  = "./cmd/bundle/strip"
)

// engineFlags leave out of the program what only a debugger reads.
var engineFlags = []string{"-trimpath", "-buildvcs=false", "-ldflags=-s -w"}

// engineEnv names the platform: WASI, which the browser's side of it needs no
// loader of Go's for.
var engineEnv = []string{"GOOS=wasip1", "GOARCH=wasm", "CGO_ENABLED=0"}

// smallerCollector takes the collector of before Go 1.26 into the program: the newer
// one pays with many cores, of which WebAssembly has one, and weighs 8 kB more. Only
// this version of Go knows the setting.
const smallerCollector = "GOEXPERIMENT=nogreenteagc"

// known reports whether what is done to the program was tried with this version of Go.
func known(version string) bool {
	return version == strip.KnownVersion || strings.HasPrefix(version, strip.KnownVersion+".")
}

// compileEngine returns the engine as WebAssembly. It is compiled again only
// when one of its source files or the toolchain has changed.
func compileEngine(root string, c cache) ([]byte, error) {
	out, err := goTool(root, "env", "GOVERSION")
	if err != nil {
		return nil, err
	}
	version := strings.TrimSpace(string(out))
	key, err := engineKey(root, version)
	if err != nil {
		return nil, fmt.Errorf("read sources of %s: %w", enginePackage, err)
	}
	return c.named("engine-"+key+".wasm", func() ([]byte, error) {
		wasm, err := compileWasm(root, version)
		if err != nil {
			return nil, err
		}
		return stripEngine(wasm, version, os.Stderr)
	})
}

func compileWasm(root, version string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "doorsill-engine")
	if err != nil {
		return nil, fmt.Errorf("compile engine: %w", err)
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "engine.wasm")
	args := append([]string{"build", "-buildmode=c-shared", "-o", out}, engineFlags...)
	if _, err := goToolWith(collectorFor(version), root, append(args, enginePackage)...); err != nil {
		return nil, fmt.Errorf("compile engine: %w", err)
	}
	wasm, err := os.ReadFile(out)
	if err != nil {
		return nil, fmt.Errorf("compile engine: %w", err)
	}
	return wasm, nil
}

// stripEngine is the last step of the compilation. With a version of Go that
// package strip does not know yet, the engine works and is a fifth larger.
func stripEngine(wasm []byte, version string, warnings io.Writer) ([]byte, error) {
	if !known(version) {
		fmt.Fprintf(warnings, "warning: the engine keeps its tables of lines: package strip knows %s, not %s\n", strip.KnownVersion, version)
		return wasm, nil
	}
	small, err := strip.Program(wasm)
	if err != nil {
		return nil, fmt.Errorf("strip engine: %w", err)
	}
	return small, nil
}

// collectorFor returns the setting of the collector for a version of Go.
func collectorFor(version string) []string {
	if !known(version) {
		return nil
	}
	return []string{smallerCollector}
}

// goTool runs the go command for the browser's platform and returns what it
// printed. What it complained about becomes the error.
func goTool(root string, args ...string) ([]byte, error) { return goToolWith(nil, root, args...) }

// goToolWith is goTool with more in the environment.
func goToolWith(env []string, root string, args ...string) ([]byte, error) {
	cmd := exec.Command("go", args...)
	cmd.Dir = root
	cmd.Env = append(append(os.Environ(), engineEnv...), env...)
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
func engineKey(root, version string) (string, error) {
	list, err := goTool(root, "list", "-deps", "-json=Dir,ImportPath,Standard,GoFiles,EmbedFiles", enginePackage, stripPackage)
	if err != nil {
		return "", err
	}
	h := sha256.New()
	fmt.Fprintf(h, "%s %q %q %q\n", version, engineFlags, engineEnv, collectorFor(version))
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
