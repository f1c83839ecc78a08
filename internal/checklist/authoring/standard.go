// Package authoring is what the authors of a checklist need beside the checklist
// itself: it checks a definition and names what is wrong with file, line and
// field, points out what is probably not meant, and holds the JSON Schema and
// the standard checklist. FORMAT.md beside this file says how to write one.
package authoring

import (
	_ "embed"
	"slices"
	"sync"

	"doorsill/internal/checklist"
)

//go:embed standard.json
var standardJSON []byte

//go:embed schema.json
var schemaJSON []byte

var readStandard = sync.OnceValue(func() *checklist.Definition {
	definition, err := Parse("standard.json", standardJSON)
	if err != nil {
		panic("embedded checklist: " + err.Error())
	}
	return definition
})

// Standard returns the checklist of ninety items that comes with the program.
// Every caller gets the same one and must not change it.
func Standard() *checklist.Definition { return readStandard() }

// Schema returns the JSON Schema (draft 2020-12) of a definition.
func Schema() []byte { return slices.Clone(schemaJSON) }
