package engine

import (
	"sync"

	"doorsill/internal/message"
	"doorsill/internal/phrase"
)

// words writes sentences that name no item of a checklist.
var words = sync.OnceValue(func() *phrase.Writer { return phrase.NewWriter(phrase.English(), nil) })

// text returns the sentence of a message.
func (e *encoder) text(m *message.Message) string { return words().Text(m) }
