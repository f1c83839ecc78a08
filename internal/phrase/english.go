package phrase

import (
	_ "embed" // for the texts below
	"sync"
)

// The English catalogue, by subject.
var (
	//go:embed en/words.txt
	enWords string
	//go:embed en/refusal.txt
	enRefusal string
	//go:embed en/strength.txt
	enStrength string
	//go:embed en/access.txt
	enAccess string
	//go:embed en/readiness.txt
	enReadiness string
	//go:embed en/endurance.txt
	enEndurance string
	//go:embed en/passage.txt
	enPassage string
	//go:embed en/trend.txt
	enTrend string
	//go:embed en/advice.txt
	enAdvice string
)

// English returns the English catalogue. Every caller gets the same one.
func English() *Catalogue { return english() }

var english = sync.OnceValue(func() *Catalogue {
	c, err := Parse("en", enWords, enRefusal, enStrength, enAccess, enReadiness, enEndurance, enPassage, enTrend, enAdvice)
	if err != nil {
		panic(err)
	}
	return c
})
