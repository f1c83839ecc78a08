package message

import "strings"

// String returns the code and the arguments as "code name=value name=value",
// for errors and tests; package phrase writes sentences. Words stand in quotes
// where they have a space, messages in brackets.
func (m *Message) String() string {
	b := []byte(m.Code)
	for i := range m.Args {
		a := &m.Args[i]
		b = append(append(append(b, ' '), a.Name...), '=')
		b = a.appendValue(b)
	}
	return string(b)
}

func (a *Arg) appendValue(b []byte) []byte {
	switch a.Kind {
	case KindNumber:
		return append(b, a.Number.Text()...)
	case KindNoNumber:
		return append(b, "too-large"...)
	case KindWord:
		return appendWord(b, a.Word)
	case KindWords:
		for i, word := range a.Words {
			if i > 0 {
				b = append(b, ',')
			}
			b = appendWord(b, word)
		}
		return b
	}
	for i := range a.Messages {
		b = append(append(append(b, '['), a.Messages[i].String()...), ']')
	}
	return b
}

func appendWord(b []byte, word string) []byte {
	if strings.IndexByte(word, ' ') >= 0 {
		return append(append(append(b, '"'), word...), '"')
	}
	return append(b, word...)
}
