package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"doorsill/internal/phrase"
)

// assemble makes every file of embed/dist. The order matters: each step names
// its output by its content, and the next step needs those names.
func assemble(root string, c cache) (*dist, error) {
	d := newDist()
	wasm, err := compileEngine(root, c)
	if err != nil {
		return nil, err
	}
	names := map[string]string{
		"ENGINE_WASM":  d.addHashed("engine", ".wasm", wasm),
		"CATALOGUE_EN": d.addHashed("catalogue-en", ".txt", []byte(phrase.EnglishText())),
	}
	if err := addArgon2(d, root, names); err != nil {
		return nil, err
	}
	if err := bundleWorkers(d, root, names); err != nil {
		return nil, err
	}
	page, err := bundleApp(d, root, names)
	if err != nil {
		return nil, err
	}
	if err := addIcons(d); err != nil {
		return nil, err
	}
	if err := addLicences(d, root); err != nil {
		return nil, err
	}
	if err := addPage(d, root, page); err != nil {
		return nil, err
	}
	return d, addServiceWorker(d, root)
}

// addArgon2 takes both kinds of the key derivation's program from its package.
// As files of their own they weigh a third of what they would as base64 in the
// worker's script.
func addArgon2(d *dist, root string, names map[string]string) error {
	for name, file := range map[string]string{"ARGON2_FAST": "simd", "ARGON2_PLAIN": "no-simd"} {
		wasm, err := os.ReadFile(filepath.Join(root, "node_modules", "argon2id", "dist", file+".wasm"))
		if err != nil {
			return fmt.Errorf("read Argon2id: %w", err)
		}
		names[name] = d.addHashed("argon2-"+file, ".wasm", wasm)
	}
	return nil
}

// licences is where the app links to the licence of what travels with it and
// asks for it: the typefaces.
const licences = "licences.txt"

func addLicences(d *dist, root string) error {
	var all bytes.Buffer
	for _, name := range []string{"literata", "atkinson-hyperlegible"} {
		text, err := os.ReadFile(filepath.Join(root, "node_modules", "@fontsource", name, "LICENSE"))
		if err != nil {
			return fmt.Errorf("read the licence of a typeface: %w", err)
		}
		fmt.Fprintf(&all, "The typeface %s\n\n%s\n\n", name, bytes.TrimSpace(text))
	}
	d.files[licences] = all.Bytes()
	return nil
}

// tsconfig is what the bundler reads in place of the one that types are checked
// with. The classic calls that it makes of markup, h(tag, props, child, child),
// weigh 1 kB less to fetch than the newer ones with a list of children.
const tsconfig = `{"compilerOptions": {
	"target": "ES2022", "verbatimModuleSyntax": true,
	"jsx": "react", "jsxFactory": "h", "jsxFragmentFactory": "Fragment"
}}`

// markup names the functions that tsconfig's calls go to.
const markup = "frontend/ui/jsx.ts"

// options are what every bundle shares. names become string constants.
func options(root string, names map[string]string) (api.BuildOptions, error) {
	abs, err := filepath.Abs(root)
	if err != nil {
		return api.BuildOptions{}, fmt.Errorf("find repository: %w", err)
	}
	define := map[string]string{"process.env.NODE_ENV": `"production"`}
	for name, value := range names {
		define[name] = strconv.Quote(value)
	}
	return api.BuildOptions{
		AbsWorkingDir: abs,
		Bundle:        true, Write: false, Metafile: true,
		MinifyWhitespace: true, MinifyIdentifiers: true, MinifySyntax: true,
		LegalComments: api.LegalCommentsNone,
		Target:        api.ES2022,
		Charset:       api.CharsetUTF8,
		TsconfigRaw:   tsconfig,
		Define:        define,
		Outdir:        filepath.Join(abs, "embed", "dist", "assets"),
		LogLevel:      api.LogLevelSilent,
	}, nil
}

// build runs esbuild; its messages become one error.
func build(o api.BuildOptions) (api.BuildResult, error) {
	result := api.Build(o)
	if len(result.Errors) == 0 {
		return result, nil
	}
	text := api.FormatMessages(result.Errors, api.FormatMessagesOptions{Kind: api.ErrorMessage})
	return result, fmt.Errorf("bundle front end:\n%s", strings.Join(text, ""))
}

// bundleWorkers bundles the workers. A worker knows the names of files that were
// made before all of them, and of no other worker: their order does not matter.
func bundleWorkers(d *dist, root string, names map[string]string) error {
	urls := map[string]string{}
	for name, entry := range map[string]string{
		"ENGINE_WORKER": "frontend/lib/engine/engine-worker.ts", "KDF_WORKER": "frontend/lib/crypto/kdf-worker.ts",
	} {
		url, err := bundleWorker(d, root, entry, names)
		if err != nil {
			return err
		}
		urls[name] = url
	}
	maps.Copy(names, urls)
	return nil
}

// bundleWorker bundles one worker to a single script and returns its URL.
func bundleWorker(d *dist, root, entry string, names map[string]string) (string, error) {
	o, err := options(root, names)
	if err != nil {
		return "", err
	}
	o.EntryPoints = []string{entry}
	o.Format = api.FormatIIFE
	result, err := build(o)
	if err != nil {
		return "", err
	}
	return d.addHashed(strings.TrimSuffix(filepath.Base(entry), ".ts"), ".js", result.OutputFiles[0].Contents), nil
}

// page is what index.html has to load.
type page struct {
	script string
	styles []string
	// early are the chunks that script imports at once.
	early []string
	// faces are the typefaces that nearly every screen needs.
	faces []string
}

// bundleApp bundles the app with lazy chunks and stores all of it.
func bundleApp(d *dist, root string, names map[string]string) (page, error) {
	o, err := options(root, names)
	if err != nil {
		return page{}, err
	}
	o.EntryPoints = []string{"frontend/app/main.tsx"}
	o.Inject = []string{markup}
	o.Format = api.FormatESModule
	o.Splitting = true
	o.EntryNames, o.ChunkNames, o.AssetNames = "[name]-[hash]", "part-[hash]", "[name]-[hash]"
	o.Loader = map[string]api.Loader{".woff2": api.LoaderFile}
	result, err := build(o)
	if err != nil {
		return page{}, err
	}
	for _, f := range result.OutputFiles {
		d.files["assets/"+filepath.Base(f.Path)] = f.Contents
	}
	return readPage(d, result.Metafile)
}

// metafile is the part of esbuild's report that is read here.
type metafile struct {
	Outputs map[string]struct {
		EntryPoint string `json:"entryPoint"`
		CSSBundle  string `json:"cssBundle"`
		Imports    []struct {
			Path, Kind string
		} `json:"imports"`
	} `json:"outputs"`
}

// readPage finds the app's entry script, its stylesheet and what it imports
// before it can run.
func readPage(d *dist, text string) (page, error) {
	var meta metafile
	if err := json.Unmarshal([]byte(text), &meta); err != nil {
		return page{}, fmt.Errorf("read esbuild's report: %w", err)
	}
	var p page
	for out, about := range meta.Outputs {
		if path.Ext(out) == ".woff2" && !strings.Contains(out, "-latin-ext-") {
			p.faces = append(p.faces, distPath(out))
		}
		if about.EntryPoint == "frontend/app/main.tsx" && strings.HasSuffix(out, ".js") {
			p.script = distPath(out)
			if about.CSSBundle != "" {
				p.styles = append(p.styles, distPath(about.CSSBundle))
			}
			p.early = meta.staticImports(out, map[string]bool{out: true})
		}
	}
	if p.script == "" {
		return page{}, fmt.Errorf("read esbuild's report: no output for frontend/app/main.tsx")
	}
	slices.Sort(p.faces)
	d.entry = append([]string{p.script}, p.early...)
	return p, nil
}

// staticImports lists the chunks that out needs at once, each one time.
func (m metafile) staticImports(out string, seen map[string]bool) []string {
	var list []string
	for _, imp := range m.Outputs[out].Imports {
		if imp.Kind != "import-statement" || seen[imp.Path] {
			continue
		}
		seen[imp.Path] = true
		list = append(list, distPath(imp.Path))
		list = append(list, m.staticImports(imp.Path, seen)...)
	}
	return list
}

func distPath(out string) string { return strings.TrimPrefix(out, "embed/dist/") }

// keptOffline reports whether a file belongs to the copy that a tablet keeps of the
// app. Icons in pixels are asked for when it is put on the home screen, which takes
// a network; the app itself shows the one in lines.
func keptOffline(p string) bool { return p != "sw.js" && path.Ext(p) != ".png" }

// addServiceWorker bundles the service worker with the list of this very
// release. It comes last and is not part of its own list.
func addServiceWorker(d *dist, root string) error {
	list := []string{"/"}
	for _, p := range d.paths() {
		if p != "index.html" && keptOffline(p) {
			list = append(list, "/"+p)
		}
	}
	files, err := json.Marshal(list)
	if err != nil {
		return fmt.Errorf("list release: %w", err)
	}
	o, err := options(root, map[string]string{"BUILD_ID": d.buildID()})
	if err != nil {
		return err
	}
	o.Define["BUILD_FILES"] = string(files)
	o.EntryPoints = []string{"frontend/app/service-worker.ts"}
	o.Format = api.FormatIIFE
	result, err := build(o)
	if err != nil {
		return err
	}
	d.files["sw.js"] = result.OutputFiles[0].Contents
	return nil
}
