// Command bundle builds everything that the browser loads: it compiles the
// engine to WebAssembly, bundles the front end, names files by their content,
// compresses them once and writes embed/dist for the server to embed.
//
// Usage, from the top of the repository:
//
//	go run ./cmd/bundle          build embed/dist and print sizes
//	go run ./cmd/bundle -check   the same, and fail when a size is over budget
//	go run ./cmd/bundle types    write what follows from the Go types: the *_gen.go
//	                             and JSON Schemas of internal/model, the *_gen.go of
//	                             internal/checklist, frontend/lib/model.gen.ts
//	go run ./cmd/bundle unit     bundle the front end's unit tests for node --test
//	go run ./cmd/bundle engine FILE
//	                             write the engine alone, as the browser gets it
package main

import (
	"fmt"
	"os"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "bundle:", err)
		os.Exit(1)
	}
}
