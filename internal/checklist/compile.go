package checklist

import "doorsill/internal/checklist/rules"

// Rules returns the part of the checklist that the engine computes with.
func (d *Definition) Rules() rules.Set {
	set := rules.Set{Hash: d.hash}
	for _, section := range d.Sections {
		compiled := rules.Section{Code: section.Code, Title: section.Title}
		for _, item := range section.Items {
			compiled.Items = append(compiled.Items, item.rule())
		}
		set.Sections = append(set.Sections, compiled)
	}
	return set
}

func (i Item) rule() rules.Item {
	rule := rules.Item{
		ID: i.ID, Type: i.Type, Title: i.Title, Weight: i.Weight, NA: i.NA, Needed: i.Group == GroupNeed,
		Unit: i.Unit, From: i.From, Better: i.Better, Decimals: i.Decimals, Sides: i.Sides, Of: i.Of,
	}
	for _, band := range i.Bands {
		if band.Bound != nil {
			rule.Bounds = append(rule.Bounds, *band.Bound)
		}
	}
	for _, effect := range i.Effects {
		compiled := rules.Effect{Effect: effect.Effect}
		for _, when := range effect.When {
			compiled.When = append(compiled.When, rules.Condition(when))
		}
		rule.Effects = append(rule.Effects, compiled)
	}
	return rule
}
