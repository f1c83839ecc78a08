//go:build !wasip1

package phrase

import "sync"

// English returns the English catalogue. Every caller gets the same one. The
// program in the browser is given its catalogue, which is fetched and kept beside
// it.
func English() *Catalogue { return english() }

var english = sync.OnceValue(func() *Catalogue {
	c, err := Parse("en", englishTexts[:]...)
	if err != nil {
		panic(err)
	}
	return c
})
