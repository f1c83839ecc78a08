package server

import (
	"encoding/json"
	"fmt"
	"net/http"

	"doorsill/internal/caseload"
	"doorsill/internal/checklist"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
	"doorsill/internal/store"
)

// wordings hold a writer for each checklist, by its hash.
type wordings map[string]*phrase.Writer

func prepareWordings(definitions []*checklist.Definition) wordings {
	w := make(wordings, len(definitions))
	for _, d := range definitions {
		w[d.Hash()] = phrase.NewWriter(phrase.English(), d)
	}
	return w
}

// rescored has the results of visits that are damaged computed anew, and says
// whether any was. What can not be mended is shown as it is.
func (s *server) rescored(r *http.Request, visits ...caseload.VisitView) bool {
	mended := false
	for _, v := range visits {
		if !v.Damaged {
			continue
		}
		if err := s.deps.Intake.Rescore(r.Context(), v.Visit.ID); err != nil {
			s.deps.Log.Warn("a damaged result could not be computed anew", "id", traceOf(r).id, "error", err)
			continue
		}
		mended = true
	}
	return mended
}

// visitAnswer words a visit's result. The error says that a stored result cannot
// be read.
func (w wordings) visitAnswer(v caseload.VisitView) (VisitAnswer, error) {
	a := VisitAnswer{Visit: v.Visit, Blind: v.Blind, Unscored: v.Damaged}
	if v.Result == nil {
		return a, nil
	}
	a.Mismatch = v.Result.Brief.Mismatch
	// A result of an earlier format is still there where it could not be computed
	// anew.
	if a.Unscored = len(v.Result.Body) == 0 || v.Result.Format != model.ResultFormat; a.Unscored {
		return a, nil
	}
	scored, err := w.scored(v.Result)
	a.Scored = scored
	return a, err
}

func (w wordings) scored(stored *store.Result) (*ScoredResult, error) {
	scored := ScoredResult{SHA256: stored.SHA256}
	if err := json.Unmarshal(stored.Body, &scored.Result); err != nil {
		return nil, fmt.Errorf("read result of visit %s: %w", stored.Visit, err)
	}
	writer := w[stored.Rules]
	if writer == nil {
		writer = phrase.NewWriter(phrase.English(), nil)
	}
	scored.Result.EachMessage(func(m *message.Message) { writer.Fill(m) })
	return &scored, nil
}
