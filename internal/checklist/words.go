package checklist

import (
	"strconv"

	"doorsill/internal/checklist/rules"
	"doorsill/internal/validation"
)

// checkWords refuses a definition with a word that this program does not know.
// A checklist for a newer program must not be scored as if what the word says
// were not there.
func (d *Definition) checkWords() *validation.Error {
	if err := validation.OneOf("format", d.Format, []string{Format}); err != nil {
		return err
	}
	for s := range d.Sections {
		for i := range d.Sections[s].Items {
			if err := d.Sections[s].Items[i].checkWords(); err != nil {
				return err.Within(at("items", i)).Within(at("sections", s))
			}
		}
	}
	return nil
}

func (i *Item) checkWords() *validation.Error {
	err := validation.OneOf("type", i.Type, rules.Types())
	if err == nil && i.From != "" {
		err = validation.OneOf("from", i.From, rules.Sources())
	}
	for e := range i.Effects {
		if err == nil {
			err = validation.OneOf("effect", i.Effects[e].Effect, rules.Effects()).Within(at("effects", e))
		}
	}
	return err
}

func at(list string, place int) string { return list + "[" + strconv.Itoa(place) + "]" }
