//go:build !wasip1

package phrase

import (
	"embed"
	"strings"
	"sync"
)

// The English catalogue, a file a subject.
//
//go:embed en/*.txt
var enFiles embed.FS

// English returns the English catalogue. Every caller gets the same one.
func English() *Catalogue { return english() }

var english = sync.OnceValue(func() *Catalogue {
	c, err := Parse("en", EnglishText())
	if err != nil {
		panic(err)
	}
	return c
})

// EnglishText returns the English catalogue as the one text that Parse reads,
// without comments and empty lines: the browser is given it as a file.
func EnglishText() string {
	names, err := enFiles.ReadDir("en")
	if err != nil {
		panic(err)
	}
	var all strings.Builder
	for _, name := range names {
		text, err := enFiles.ReadFile("en/" + name.Name())
		if err != nil {
			panic(err)
		}
		for line := range strings.Lines(string(text)) {
			if !strings.HasPrefix(line, "#") && strings.TrimSpace(line) != "" {
				all.WriteString(line)
			}
		}
	}
	return all.String()
}
