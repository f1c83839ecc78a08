// Package embed carries the built front end inside the binary. The folder dist
// is made by "go run ./cmd/bundle" and is not committed; a binary built without
// it still works as a command and says what to run when asked to serve.
package embed

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var files embed.FS

// Missing is what a server without a bundled front end says.
const Missing = "The front end has not been bundled into this binary. Run \"make bundle\" (or \"npm ci && go run ./cmd/bundle\") at the top of the repository and build again."

// FS is the content of dist: index.html, sw.js, manifest.webmanifest, icons/
// and assets/. Files under assets/ carry their content hash in their name and
// never change. Text and wasm files have .br and .gz twins beside them.
func FS() fs.FS {
	sub, err := fs.Sub(files, "dist")
	if err != nil {
		panic("embed: dist is not a valid path: " + err.Error()) // cannot happen: the path is constant
	}
	return sub
}

// Bundled reports whether the front end is in this binary.
func Bundled() bool {
	_, err := fs.Stat(files, "dist/index.html")
	return err == nil
}
