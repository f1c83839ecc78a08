package engine

import (
	"doorsill/internal/engine/readiness"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// Ceilings says of each item of the checklist what each answer to it allows when
// all else is at its best.
func (s *Scorer) Ceilings() model.CeilingsAnswer {
	answer := model.CeilingsAnswer{Items: make([]model.CeilingsOfItem, s.list.Len())}
	for at := range answer.Items {
		item := s.list.At(at)
		answer.Items[at] = model.CeilingsOfItem{Item: item.ID, Harmless: item.Harmless()}
		_, may := mayApply[item.ID]
		for _, one := range s.list.Ceilings(at) {
			say := one.Say()
			if may && one.State == readiness.NotApplicable {
				say = message.New("ceiling.unless-applies", message.Inner("ceiling", say))
			}
			answer.Items[at].Answers = append(answer.Items[at].Answers, model.AnswerCeiling{
				State: one.State.String(), Level: one.Level, Band: one.Band, Reason: one.Reason, Fact: one.Fact,
				Ceiling: one.Highest.String(), Message: say,
			})
		}
	}
	return answer
}
