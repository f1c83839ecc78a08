package engine

import (
	"math"

	"doorsill/internal/message"
	"doorsill/internal/model"
)

// itemClear is the item that the time on the mounting sheet answers too.
const itemClear = "mnt-clear"

// MeasuredAnswers says which items of the checklist were measured elsewhere in the
// visit, and what the answer comes to, so that nobody has to find it out twice. They
// are offered, not given: the person looks at them.
func (s *Scorer) MeasuredAnswers(visit *model.Visit) (model.MeasuredAnswers, error) {
	v, bad := inputOf(s.list, visit)
	if bad != nil {
		return model.MeasuredAnswers{}, bad
	}
	v.checkPlaces()
	answer := model.MeasuredAnswers{Items: []model.MeasuredAnswer{}}
	for _, id := range [...]string{itemDoor, itemTurn, itemSill, itemRamp, itemLoad} {
		at, ok := s.list.Find(id)
		if !ok || s.list.At(at).Type != typeOf(id) {
			continue
		}
		if found, ok := v.measuredFor(id); ok {
			one := model.MeasuredAnswer{Item: id, Level: found.level, Place: found.place.Place}
			is := levelMessage(found.level)
			if found.level == "" {
				one.Number = typable(id, found.number)
				is = s.list.Shown(at, *micro(*one.Number))
			}
			if id == itemRamp {
				one.Facts = v.overLimitFact()
			}
			one.Message = message.New("measured.place", message.Inner("place", placeMessage(found.place)), message.Inner("answer", is))
			answer.Items = append(answer.Items, one)
		}
	}
	if m := visit.Mount; m != nil && m.ClearS > 0 {
		if at, ok := s.list.Find(itemClear); ok {
			answer.Items = append(answer.Items, model.MeasuredAnswer{Item: itemClear, Number: &m.ClearS,
				Message: message.New("measured.mount", message.Inner("answer", s.list.Shown(at, *micro(m.ClearS))))})
		}
	}
	return answer, nil
}

// typable rounds a number to what can be typed, towards the worse side: one decimal
// of a slope, whole millimetres.
func typable(id string, number float64) *float64 {
	switch id {
	case itemSill:
		number = math.Ceil(number)
	case itemDoor:
		number = math.Floor(number)
	default:
		number = math.Floor(number*10) / 10
	}
	return &number
}

// overLimitFact answers the question beside the steepest ramp where the chair's limit
// is known and a ramp was measured.
func (v *visit) overLimitFact() map[string]bool {
	if v.chair.SlopeDeg == 0 {
		return nil
	}
	return map[string]bool{factRampOverLimit: v.overLimit() != nil}
}
