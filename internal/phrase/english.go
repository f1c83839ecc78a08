package phrase

import "sync"

// English returns the English catalogue. Every caller gets the same one.
func English() *Catalogue { return english() }

var english = sync.OnceValue(func() *Catalogue {
	c, err := Parse("en", englishTexts[:]...)
	if err != nil {
		panic(err)
	}
	return c
})
