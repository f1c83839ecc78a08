// Package message holds what the engine states: a code with its arguments, and
// no words. Package phrase turns a message into a sentence, in whatever language
// its catalogue is written in; what is hashed and signed holds messages.
package message

import "doorsill/internal/decimal"

// Catalogue names the set of codes and the arguments of each. It changes when a
// code comes, goes, or gets other arguments; a translation does not change it.
const Catalogue = "doorsill-messages/1"

// Message is one statement.
type Message struct {
	// Code is a key of the catalogue, such as "strength.reserve"; empty says
	// nothing.
	Code string
	// Args are in the order in which the engine gives them.
	Args []Arg
	// Text is the sentence, once package phrase has filled it in. It is not part
	// of what is hashed.
	Text string
}

// Kind says which field of an Arg holds its value.
type Kind uint8

const (
	// KindNumber is a number of at most six decimals, in Arg.Number.
	KindNumber Kind = iota
	// KindNoNumber is what came instead of a number that can be shown: NaN, or
	// more than a million million.
	KindNoNumber
	// KindWord is an id, a unit or somebody's own words, in Arg.Word.
	KindWord
	// KindWords is a list of such, in Arg.Words.
	KindWords
	// KindMessage is one message, the only one in Arg.Messages.
	KindMessage
	// KindMessages is a list of messages, in Arg.Messages.
	KindMessages
)

// Arg is one argument of a message.
type Arg struct {
	Name   string
	Kind   Kind
	Number decimal.Micro
	Word   string
	// Lists is nil where the kind needs none.
	*Lists
}

// Lists are what few arguments have: apart, so that the others are small.
type Lists struct {
	Words    []string
	Messages []Message
}

// New makes a message.
func New(code string, args ...Arg) Message { return Message{Code: code, Args: args} }

// Empty reports whether the message says nothing.
func (m *Message) Empty() bool { return m.Code == "" }

// The functions that make the common arguments are not inlined: the engine calls
// them in hundreds of places, and inlined they would add 11 kB to what every
// tablet downloads.

// Number makes an argument of a number, rounded to six decimals.
//
//go:noinline
func Number(name string, x float64) Arg {
	value, ok := decimal.Of(x)
	if !ok {
		return Arg{Name: name, Kind: KindNoNumber}
	}
	return Arg{Name: name, Number: value}
}

// Exact makes an argument of a number that has six decimals already.
func Exact(name string, x decimal.Micro) Arg { return Arg{Name: name, Number: x} }

// Count makes an argument of a whole number.
//
//go:noinline
func Count(name string, n int) Arg { return Arg{Name: name, Number: decimal.Int(n)} }

// Word makes an argument of an id, a unit or somebody's own words.
//
//go:noinline
func Word(name, word string) Arg { return Arg{Name: name, Kind: KindWord, Word: word} }

// Words makes an argument of a list of ids.
func Words(name string, words []string) Arg {
	return Arg{Name: name, Kind: KindWords, Lists: &Lists{Words: words}}
}

// Inner makes an argument of another message.
//
//go:noinline
func Inner(name string, m Message) Arg {
	return Arg{Name: name, Kind: KindMessage, Lists: &Lists{Messages: []Message{m}}}
}

// List makes an argument of other messages.
func List(name string, list []Message) Arg {
	return Arg{Name: name, Kind: KindMessages, Lists: &Lists{Messages: list}}
}

// Arg returns the argument with a name, or nil.
func (m *Message) Arg(name string) *Arg {
	for i := range m.Args {
		if m.Args[i].Name == name {
			return &m.Args[i]
		}
	}
	return nil
}
