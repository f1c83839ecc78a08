package tablet

import (
	"doorsill/internal/engine"
	"doorsill/internal/engine/advice"
	"doorsill/internal/model"
	"doorsill/internal/passphrase"
	"doorsill/internal/phrase"
	"doorsill/internal/record"
	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// The questions below need nothing that stays between them but the catalogue and
// what was loaded.

func (p *Program) foldClient(q *model.EntriesQuestion) (answer, *validation.Error) {
	client, err := record.FoldClient(q.Entries)
	if err != nil {
		return nil, asInput(err).Within("entries")
	}
	return &client, nil
}

func (p *Program) foldControl(q *model.EntriesQuestion) (answer, *validation.Error) {
	control, err := record.FoldControl(q.Entries)
	if err != nil {
		return nil, asInput(err).Within("entries")
	}
	if control.ID == "" {
		return nil, nil
	}
	return &control, nil
}

func (p *Program) plausible(q *model.PlausibleQuestion) (answer, *validation.Error) {
	judged := engine.Plausible(q)
	return inWords(p, &judged)
}

func (p *Program) rose(q *model.RoseQuestion) (answer, *validation.Error) {
	rose, err := engine.RoseOf(q)
	if err != nil {
		return nil, err
	}
	return inWords(p, &rose)
}

func (p *Program) summariseSeries(q *model.SeriesQuestion) (answer, *validation.Error) {
	list, err := engine.SummariseSeries(q.Series)
	if err != nil {
		return nil, err
	}
	return inWords(p, &model.SeriesAnswer{Summaries: list})
}

func (p *Program) runQuantities(q *model.RunTimed) (answer, *validation.Error) {
	list, err := engine.RunQuantities(q)
	if err != nil {
		return nil, err
	}
	return inWords(p, &model.QuantitiesAnswer{Quantities: list})
}

func (p *Program) convert(q *model.ConvertQuestion) (answer, *validation.Error) {
	values, err := engine.Convert(q.Values, q.From, q.To)
	if err != nil {
		return nil, err
	}
	return &model.ConvertAnswer{Values: values}, nil
}

func (p *Program) advice(q *model.AdviceQuestion) (answer, *validation.Error) {
	tips, err := advice.Of(q.Problem)
	if err != nil {
		return nil, asInput(err)
	}
	return inWords(p, &tips)
}

func (p *Program) plan(q *model.PlanQuestion) (answer, *validation.Error) {
	if err := validation.First(q.Chair.Check().Within("chair"), q.Place.Check().Within("place")); err != nil {
		return nil, err
	}
	drawing := engine.Draw(&q.Chair, &q.Place)
	return inWords(p, &drawing)
}

func (p *Program) trend(q *model.TrendQuestion) (answer, *validation.Error) {
	trend, err := engine.TrendOf(q)
	if err != nil {
		return nil, asInput(err)
	}
	return inWords(p, &trend)
}

func (p *Program) thresholds(*model.NoQuestion) (answer, *validation.Error) {
	return inWords(p, &model.ThresholdsAnswer{Thresholds: engine.ThresholdList()})
}

// ceilings says what the answers of a checklist that was loaded allow.
func (p *Program) ceilings(q *model.CeilingsQuestion) (answer, *validation.Error) {
	by := p.checklists[q.Checklist]
	if by == nil {
		return nil, &validation.Error{Code: validation.CodeRequired, Path: "checklist", Want: "a checklist that was loaded", Got: validation.Quote(q.Checklist)}
	}
	if p.catalogue == nil {
		return nil, noCatalogue()
	}
	ceilings := by.scorer.Ceilings()
	p.words.fill(&ceilings, phrase.NewWriter(p.catalogue, by.list))
	return &ceilings, nil
}

// checkBody says what the server would say of a body by itself.
func (p *Program) checkBody(q *model.CheckBodyQuestion) (answer, *validation.Error) {
	if model.KindOf(q.Kind) == nil {
		return nil, &validation.Error{Code: validation.CodeWrongType, Path: "kind", Want: "a kind of event", Got: validation.Quote(q.Kind)}
	}
	bad := strictjson.CheckRepeats(q.Body).Within("body")
	if bad == nil {
		var body model.Body
		if body, bad = record.ReadKind(q.Kind, q.Body); bad == nil {
			bad = record.CheckNew(body)
		}
	}
	return told(bad)
}

func (p *Program) checkPassword(q *model.PasswordQuestion) (answer, *validation.Error) {
	return told(passphrase.Check(q.Password, q.Context...))
}

// told answers with what is wrong, or with nothing.
func told(bad *validation.Error) (answer, *validation.Error) {
	if bad == nil {
		return nil, nil
	}
	input := badInput(bad)
	return &input, nil
}
