package engine

import "doorsill/internal/model"

// Ceilings says of each item of the checklist what each answer to it allows when
// all else is at its best.
func (s *Scorer) Ceilings() model.CeilingsAnswer {
	answer := model.CeilingsAnswer{Items: make([]model.CeilingsOfItem, s.list.Len())}
	for at := range answer.Items {
		item := s.list.At(at)
		answer.Items[at] = model.CeilingsOfItem{Item: item.ID, Harmless: item.Harmless()}
		for _, one := range s.list.Ceilings(at) {
			answer.Items[at].Answers = append(answer.Items[at].Answers, model.AnswerCeiling{
				State: one.State.String(), Level: one.Level, Band: one.Band, Reason: one.Reason, Fact: one.Fact,
				Ceiling: one.Highest.String(), Message: one.Say(),
			})
		}
	}
	return answer
}
