// Package authoring is what the authors of a checklist need beside the checklist
// itself: it checks a definition and names what is wrong with file, line and
// field, points out what is probably not meant, and holds the JSON Schema and
// the standard checklist. FORMAT.md beside this file says how to write one.
package authoring

import (
	"embed"
	"path"
	"slices"
	"sync"

	"doorsill/internal/checklist"
)

//go:embed standard.json
var standardJSON []byte

//go:embed schema.json
var schemaJSON []byte

// earlier holds what the standard checklist was, byte for byte, because visits
// are pinned to a version by the hash of its bytes. A version that was once
// given out is never changed nor taken away.
//
//go:embed earlier/*.json
var earlier embed.FS

var readStandard = sync.OnceValue(func() *checklist.Definition {
	definition, err := Parse("standard.json", standardJSON)
	if err != nil {
		panic("embedded checklist: " + err.Error())
	}
	return definition
})

var readVersions = sync.OnceValue(func() []*checklist.Definition {
	list := []*checklist.Definition{Standard()}
	const folder = "earlier"
	files, err := earlier.ReadDir(folder) // in the order of their names
	if err != nil {
		panic("embedded checklists: " + err.Error())
	}
	for _, file := range slices.Backward(files) {
		data, err := earlier.ReadFile(path.Join(folder, file.Name()))
		if err != nil {
			panic("embedded checklist: " + err.Error())
		}
		definition, err := Parse(file.Name(), data)
		if err != nil {
			panic("embedded checklist: " + err.Error())
		}
		list = append(list, definition)
	}
	return list
})

// Standard returns the standard checklist that comes with the program, in its
// present version. Every caller gets the same one and must not change it.
func Standard() *checklist.Definition { return readStandard() }

// StandardVersions returns every version of the standard checklist that was
// given out, the present one first: visits stay with the version that they were
// started with.
func StandardVersions() []*checklist.Definition { return slices.Clone(readVersions()) }

// StandardVersion returns the version of the standard checklist with a hash, and
// nil when there is none.
func StandardVersion(hash string) *checklist.Definition {
	for _, version := range readVersions() {
		if version.Hash() == hash {
			return version
		}
	}
	return nil
}

// Schema returns the JSON Schema (draft 2020-12) of a definition.
func Schema() []byte { return slices.Clone(schemaJSON) }
