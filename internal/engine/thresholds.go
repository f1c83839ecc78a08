package engine

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/endurance"
	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trend"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// ThresholdList returns every number that results depend on.
func ThresholdList() []model.Threshold {
	var list []model.Threshold
	add := func(t *provenance.Threshold) {
		list = append(list, model.Threshold{ID: t.ID, Value: exact(t), Unit: unitMessage(t.Unit), Source: t.Source, Status: t.Status.Message(false)})
	}
	strength.EachThreshold(add)
	endurance.EachThreshold(add)
	passage.EachThreshold(add)
	trend.EachThreshold(add)
	return list
}

// unitMessage states a unit by itself, and nothing of none.
func unitMessage(unit string) message.Message {
	if unit == "" {
		return message.Message{}
	}
	return message.New("engine.unit", message.Word("unit", unit))
}

// exact writes a threshold's value; sizes of units keep all their digits.
func exact(t *provenance.Threshold) string {
	if t.ID == "gram-force" || t.ID == "ounce-force" {
		return validation.Number(t.Value)
	}
	value, _ := decimal.Of(t.Value)
	return value.Text()
}
