package tablet

import (
	"errors"
	"strconv"

	"doorsill/internal/checklist"
	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
	"doorsill/internal/record"
	"doorsill/internal/validation"
)

// scoring is a checklist, whose titles its results are worded with, and its scorer.
type scoring struct {
	list   *checklist.Definition
	scorer *engine.Scorer
}

// visit is an open visit: its entries and how far they are folded and scored.
type visit struct {
	checklist string
	logs      model.Logs
	log       record.Log
	fold      *record.VisitFold
	// state is what was answered last. Its messages may have texts.
	state model.OpenVisit
	// result is what state.Result points to.
	result model.Result
}

func (p *Program) loadCatalogue(q *model.CatalogueQuestion) (answer, *validation.Error) {
	c, err := phrase.Parse(q.Language, q.Text)
	if err != nil {
		return nil, &validation.Error{Code: validation.CodeWrongType, Path: "text", Want: "a catalogue of this program", Got: err.Error()}
	}
	p.catalogue = c
	return nil, nil
}

func (p *Program) loadChecklist(q *model.ChecklistQuestion) (answer, *validation.Error) {
	if q.Hash == "" {
		return nil, &validation.Error{Code: validation.CodeRequired, Path: "hash", Want: "the SHA-256 of the definition"}
	}
	list, err := checklist.Read(q.Definition, q.Hash)
	if err != nil {
		return nil, err.Within("definition")
	}
	p.checklists[q.Hash] = &scoring{list: list, scorer: engine.New(list)}
	return nil, nil
}

func (p *Program) openVisit(q *model.OpenVisitQuestion) (answer, *validation.Error) {
	if q.Visit == "" {
		return nil, &validation.Error{Code: validation.CodeRequired, Path: "visit", Want: "the visit's id"}
	}
	v := &visit{checklist: q.Checklist, logs: q.Logs}
	if err := p.take(v, q.Entries); err != nil {
		return nil, err
	}
	p.visits[q.Visit] = v
	return &v.state, nil
}

func (p *Program) addEntries(q *model.AddEntriesQuestion) (answer, *validation.Error) {
	v := p.visits[q.Visit]
	if v == nil {
		return nil, notOpen(q.Visit)
	}
	if q.After != v.log.Len() {
		return nil, &validation.Error{Code: model.CodeNotOpen, Path: "after", Want: strconv.Itoa(v.log.Len()) + " entries, as the program holds", Got: strconv.Itoa(q.After)}
	}
	if err := p.take(v, q.Entries); err != nil {
		return nil, err
	}
	return &v.state, nil
}

func notOpen(id string) *validation.Error {
	return &validation.Error{Code: model.CodeNotOpen, Path: "visit", Want: "a visit that is open", Got: validation.Quote(id)}
}

// take folds new entries and scores the visit. Entries that come after all others
// are added to the fold; else it begins anew.
func (p *Program) take(v *visit, entries []model.Entry) *validation.Error {
	if p.catalogue == nil {
		return noCatalogue()
	}
	same, _ := v.log.Add(entries) // what is no event is counted
	if v.fold == nil || same == 0 {
		v.fold, same = record.NewVisitFold(v.logs), 0
	}
	v.log.Each(same, v.fold.Add)
	v.state.Visit = v.fold.Visit()
	v.state.Visit.Unknown += v.log.Broken()
	v.state.Count, v.state.Newer = v.log.Len(), v.log.Newer()
	p.score(v)
	return nil
}

// score scores the visit and fills in the texts, or says why it cannot be scored.
func (p *Program) score(v *visit) {
	v.state.Result, v.state.Unscored = nil, nil
	by, err := p.scoringOf(v)
	if err == nil {
		v.result, err = by.scorer.Score(&v.state.Visit)
	}
	if err != nil {
		bad := badInput(asInput(err))
		v.state.Unscored = &bad
		return
	}
	v.state.Result = &v.result
	p.words.fill(&v.result, phrase.NewWriter(p.catalogue, by.list))
}

// scoringOf finds the checklist that a visit was opened with. A visit that names
// another is not scored by it.
func (p *Program) scoringOf(v *visit) (*scoring, error) {
	by := p.checklists[v.checklist]
	if by == nil {
		return nil, &validation.Error{Code: validation.CodeOtherChecklist, Path: "checklist", Want: "the hash of a checklist that was loaded", Got: validation.Quote(v.checklist)}
	}
	if named := v.state.Visit.Checklist.Hash; named != v.checklist {
		return nil, &validation.Error{Code: validation.CodeOtherChecklist, Path: "checklist", Want: validation.Quote(named) + ", which the visit names", Got: validation.Quote(v.checklist)}
	}
	return by, nil
}

// asInput is an error that some function returns as error but makes as a
// validation.Error.
func asInput(err error) *validation.Error {
	if bad, ok := errors.AsType[*validation.Error](err); ok {
		return bad
	}
	return &validation.Error{Code: model.CodeFault, Want: err.Error()}
}

func (p *Program) closeVisit(q *model.VisitQuestion) (answer, *validation.Error) {
	if p.visits[q.Visit] == nil {
		return nil, notOpen(q.Visit)
	}
	delete(p.visits, q.Visit)
	return nil, nil
}

// measuredAnswers says which items of an open visit were measured elsewhere in it.
func (p *Program) measuredAnswers(q *model.VisitQuestion) (answer, *validation.Error) {
	v := p.visits[q.Visit]
	if v == nil {
		return nil, notOpen(q.Visit)
	}
	by, err := p.scoringOf(v)
	if err != nil {
		return nil, asInput(err)
	}
	found, err := by.scorer.MeasuredAnswers(&v.state.Visit)
	if err != nil {
		return nil, asInput(err)
	}
	p.words.fill(&found, phrase.NewWriter(p.catalogue, by.list))
	return &found, nil
}

// canonical answers with the bytes that are hashed and signed, which hold no
// texts.
func (p *Program) canonical(q *model.VisitQuestion) (answer, *validation.Error) {
	v := p.visits[q.Visit]
	if v == nil {
		return nil, notOpen(q.Visit)
	}
	if bad := v.state.Unscored; bad != nil {
		return nil, &validation.Error{Code: bad.Code, Path: bad.Path, Want: bad.Want, Got: bad.Got}
	}
	clearTexts(&v.result)
	return &v.result, nil
}
