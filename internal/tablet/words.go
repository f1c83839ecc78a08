package tablet

import (
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
	"doorsill/internal/validation"
)

// worded is an answer that holds messages.
type worded interface {
	EachMessage(f func(*message.Message))
}

// wording fills in the texts of an answer. All of them stand in one string: a
// result has some three hundred.
type wording struct {
	text []byte
	ends []int
}

// fill sets the text of every message.
func (w *wording) fill(a worded, words *phrase.Writer) {
	w.text, w.ends = w.text[:0], w.ends[:0]
	a.EachMessage(func(m *message.Message) {
		w.text = words.Append(w.text, m)
		w.ends = append(w.ends, len(w.text))
	})
	all, start, next := string(w.text), 0, 0
	a.EachMessage(func(m *message.Message) {
		m.Text = all[start:w.ends[next]]
		start, next = w.ends[next], next+1
	})
}

func clearTexts(r *model.Result) {
	r.EachMessage(func(m *message.Message) { m.Text = "" })
}

func noCatalogue() *validation.Error {
	return &validation.Error{Code: validation.CodeRequired, Path: "catalogue", Want: "a catalogue that was loaded"}
}

// inWords fills in the texts of an answer that names no items of a checklist.
func inWords[A interface {
	worded
	answer
}](p *Program, a A) (answer, *validation.Error) {
	if p.catalogue == nil {
		return nil, noCatalogue()
	}
	p.words.fill(a, phrase.NewWriter(p.catalogue, nil))
	return a, nil
}
