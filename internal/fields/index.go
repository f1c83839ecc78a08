//go:build !wasm

package fields

import "strings"

// index returns the place of the first mark, or -1.
func index(text string, mark byte) int { return strings.IndexByte(text, mark) }
