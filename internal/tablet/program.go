// Package tablet is the program that the page asks: it checks what is entered,
// folds the record, scores visits and words what they mean, the same on every
// tablet as on the server. It takes and gives JSON and is pure: no clock, no disk,
// no network. Questions and answers stand in package model.
//
// A visit is opened with all its entries and then takes them one by one. Answers
// are whole, so that who asks has nothing to put together.
package tablet

import (
	"slices"

	"doorsill/internal/model"
	"doorsill/internal/phrase"
	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// Program holds what stays between questions: the catalogue, checklists by hash
// and open visits by id. It answers one question at a time.
type Program struct {
	catalogue  *phrase.Catalogue
	checklists map[string]*scoring
	visits     map[string]*visit
	words      wording
	out        []byte
}

// New returns a program that holds nothing.
func New() *Program {
	return &Program{checklists: make(map[string]*scoring), visits: make(map[string]*visit)}
}

// op answers one kind of question.
type op func(p *Program, question []byte) (answer, *validation.Error)

// answer writes its JSON; nil is the answer null.
type answer interface{ AppendJSON(b []byte) []byte }

// ops are all that can be asked. A mistake in one of them is a panic that ends the
// program: who asks starts another and opens its visits anew.
var ops = map[string]op{
	"load-catalogue":   ask((*Program).loadCatalogue),
	"load-checklist":   ask((*Program).loadChecklist),
	"open-visit":       kept((*Program).openVisit),
	"add-entries":      kept((*Program).addEntries),
	"close-visit":      ask((*Program).closeVisit),
	"canonical":        ask((*Program).canonical),
	"fold-client":      ask((*Program).foldClient),
	"fold-control":     ask((*Program).foldControl),
	"check-body":       ask((*Program).checkBody),
	"check-password":   ask((*Program).checkPassword),
	"plausible":        ask((*Program).plausible),
	"rose":             ask((*Program).rose),
	"summarise-series": ask((*Program).summariseSeries),
	"run-quantities":   ask((*Program).runQuantities),
	"convert":          ask((*Program).convert),
	"advice":           ask((*Program).advice),
	"plan":             ask((*Program).plan),
	"trend":            ask((*Program).trend),
	"thresholds":       ask((*Program).thresholds),
	"measured-answers": ask((*Program).measuredAnswers),
	"ceilings":         ask((*Program).ceilings),
}

// Ask answers one question. The answer stands until the next one.
func (p *Program) Ask(name string, question []byte) []byte {
	answer, bad := p.ask(name, question)
	p.out = p.out[:0]
	switch {
	case bad != nil:
		failed := model.FailedAnswer{Error: badInput(bad)}
		p.out = failed.AppendJSON(p.out)
	case answer == nil:
		p.out = append(p.out, "null"...)
	default:
		p.out = answer.AppendJSON(p.out)
	}
	return p.out
}

func (p *Program) ask(name string, question []byte) (answer, *validation.Error) {
	op := ops[name]
	if op == nil {
		return nil, &validation.Error{Code: model.CodeFault, Want: "no such question: " + validation.Quote(name)}
	}
	return op(p, question)
}

// question is a struct with a generated reader.
type question[Q any] interface {
	*Q
	ReadField(r *strictjson.Reader, key []byte) *validation.Error
}

// ask makes an op of a method. What the method takes may point into the question
// and is not to be kept.
func ask[Q any, R question[Q]](method func(*Program, R) (answer, *validation.Error)) op {
	return func(p *Program, text []byte) (answer, *validation.Error) {
		q := R(new(Q))
		r := strictjson.NewReader(text)
		err := r.Object(func(key []byte) *validation.Error { return q.ReadField(r, key) })
		if err == nil {
			err = r.End()
		}
		if err != nil {
			return nil, err
		}
		return method(p, q)
	}
}

// kept is ask for a method that keeps what it takes.
func kept[Q any, R question[Q]](method func(*Program, R) (answer, *validation.Error)) op {
	passing := ask(method)
	return func(p *Program, text []byte) (answer, *validation.Error) { return passing(p, slices.Clone(text)) }
}

// badInput is an error in the form that answers have.
func badInput(err *validation.Error) model.BadInput {
	return model.BadInput{Code: err.Code, Path: err.Path, Want: err.Want, Got: err.Got}
}
