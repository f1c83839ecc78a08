package intake

import (
	"doorsill/internal/checklist"
	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// checklists holds the checklists that visits can be pinned to, with their scorers.
type checklists struct {
	byHash map[string]*pinnedChecklist
	all    []*pinnedChecklist
}

type pinnedChecklist struct {
	list   *checklist.Definition
	scorer scorer
}

// scorer is the engine for one checklist.
type scorer interface {
	Score(visit *model.Visit) (model.Result, error)
}

func newChecklists(lists []*checklist.Definition) checklists {
	s := checklists{byHash: make(map[string]*pinnedChecklist, len(lists))}
	for _, list := range lists {
		one := &pinnedChecklist{list: list, scorer: engine.New(list)}
		s.byHash[list.Hash()] = one
		s.all = append(s.all, one)
	}
	return s
}

// find finds the checklist that a new visit names.
func (s checklists) find(ref model.ChecklistRef) (*pinnedChecklist, *validation.Error) {
	one := s.byHash[ref.Hash]
	if one == nil {
		return nil, &validation.Error{Code: validation.CodeOtherChecklist, Path: "body.checklist.hash",
			Want: "a checklist version that the server has", Got: ref.ID + " " + ref.Version}
	}
	if one.list.ID != ref.ID || one.list.Version != ref.Version {
		return nil, &validation.Error{Code: validation.CodeOtherChecklist, Path: "body.checklist.version",
			Want: one.list.ID + " " + one.list.Version + ", whose hash it names", Got: ref.ID + " " + ref.Version}
	}
	return one, nil
}

// check checks an answer of a visit that is pinned to a checklist.
func (s checklists) check(pinned *pinnedChecklist, answer *model.AnswerGiven) *validation.Error {
	bad := pinned.list.CheckAnswer(*answer)
	if bad != nil && bad.Code == validation.CodeUnknownItem && s.elsewhere(answer.Item) {
		bad.Code = validation.CodeOtherChecklist
	}
	return bad.Within("body")
}

// elsewhere says whether another version has the item.
func (s checklists) elsewhere(item string) bool {
	for _, one := range s.all {
		if one.list.Item(item) != nil {
			return true
		}
	}
	return false
}
