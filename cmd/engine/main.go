//go:build wasip1

// Command engine is the engine in the browser: a thin shim that hands texts to
// internal/engine and back. It is a library of four functions over its memory:
//
//	_initialize()               starts the Go runtime
//	room(n) pointer             place for a question of n bytes
//	ask(value) length           answers the question that was written there
//	answer() pointer            where the answer stands until the next question
//
// A question is a word, a line break and its text. An answer that begins with
// "error" and a tab says what is wrong.
//
//	catalogue   the English catalogue, see phrase.EnglishText; the answer is
//	            empty. It comes before every other question
//	load        rules text; the answer is empty
//	score       visit text; see engine.Scorer.Score
//	plausible   what, site and unit with tabs between; the value comes beside;
//	            see engine.Plausible
//	plan        a chair's line and a place's; see engine.Plan
//	repeats, run, convert, trend, thresholds   see the functions of engine
//	advice      see engine.Advice
//
// It needs of the browser what WASI, an open standard, asks of one: no more than
// a clock and random bytes. Speaking to JavaScript's own values would take a
// loader of 2 kB and 20 kB of program more, and time at every call.
//
// It imports neither fmt nor encoding/json: with them it would weigh a third more.
// A test holds that.
package main

import (
	"strings"
	"unsafe"

	"doorsill/internal/checklist/rules"
	"doorsill/internal/engine"
	"doorsill/internal/phrase"
)

// state is what stays between calls. Exported functions carry nothing of their
// own, so this is the one variable of the program.
var state struct {
	worded   bool // the catalogue was loaded
	scorer   *engine.Scorer
	question []byte
	answer   []byte
	asked    chan float64
	answered chan struct{}
}

// init starts the one goroutine that answers. Every call from outside gets a new
// one, whose stack would have to grow again for each visit: a fifth of the time.
func init() {
	state.asked, state.answered = make(chan float64), make(chan struct{})
	go func() {
		for value := range state.asked {
			word, text, _ := strings.Cut(string(state.question), "\n")
			state.answer = reply(word, text, value)
			state.answered <- struct{}{}
		}
	}()
}

func main() {}

//go:wasmexport room
func room(n int32) unsafe.Pointer {
	if int(n) > cap(state.question) {
		state.question = make([]byte, n)
	}
	state.question = state.question[:n]
	return unsafe.Pointer(unsafe.SliceData(state.question))
}

//go:wasmexport ask
func ask(value float64) int32 {
	state.asked <- value
	<-state.answered
	return int32(len(state.answer))
}

//go:wasmexport answer
func answer() unsafe.Pointer { return unsafe.Pointer(unsafe.SliceData(state.answer)) }

func reply(word, text string, value float64) []byte {
	if word == "catalogue" {
		return loadCatalogue(text)
	}
	if !state.worded {
		return wrong("no catalogue loaded: load one first")
	}
	switch word {
	case "load":
		return load(text)
	case "score":
		return score(text)
	case "plausible":
		what, rest, _ := strings.Cut(text, "\t")
		site, unit, _ := strings.Cut(rest, "\t")
		return []byte(engine.Plausible(what, site, value, unit))
	case "plan":
		chair, place, _ := strings.Cut(text, "\n")
		return []byte(engine.Plan(chair, place))
	case "repeats":
		return []byte(engine.Repeats(text))
	case "run":
		return []byte(engine.Run(text))
	case "convert":
		return []byte(engine.Convert(text))
	case "trend":
		return []byte(engine.Trend(text))
	case "advice":
		return []byte(engine.Advice(text))
	case "thresholds":
		return []byte(engine.Thresholds())
	}
	return wrong("no such question: " + word)
}

func loadCatalogue(text string) []byte {
	if err := phrase.LoadEnglish(text); err != nil {
		return wrong(err.Error())
	}
	state.worded = true
	return nil
}

func load(text string) []byte {
	set, err := rules.Read([]byte(text))
	if err != nil {
		return wrong(err.Error())
	}
	state.scorer = engine.New(set)
	return nil
}

func score(text string) []byte {
	if state.scorer == nil {
		return wrong("no checklist loaded: load one first")
	}
	result, err := state.scorer.Score([]byte(text))
	if err != nil {
		return wrong(err.Error())
	}
	return result
}

func wrong(sentence string) []byte { return []byte("error\t" + sentence) }
