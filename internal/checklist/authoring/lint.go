package authoring

import (
	"slices"
	"strings"

	"doorsill/internal/checklist"
)

// lint returns what is allowed but probably not meant, in the order of the
// file: an item that can stop somebody without saying what to do, a best answer
// that raises an effect, a band that no answer can reach, a part that the
// levels rest on and that is missing.
func lint(file string, d *checklist.Definition, lines lines) []Warning {
	l := &linter{file: file, d: d, lines: lines}
	for s, section := range d.Sections {
		field := at("sections", s)
		if len(section.Items) < 3 {
			l.warn(lines["section "+section.Code], field, "fewer than three items: one answer swings the score of "+section.Code)
		}
		for i := range section.Items {
			l.item(&section.Items[i], at(join(field, "items"), i))
		}
	}
	l.levels()
	slices.SortStableFunc(l.found, func(a, b Warning) int { return a.Line - b.Line })
	return l.found
}

type linter struct {
	file  string
	d     *checklist.Definition
	lines lines
	found []Warning
}

func (l *linter) warn(line int, field, text string) {
	l.found = append(l.found, Warning{l.file, line, field, text})
}

func (l *linter) item(item *checklist.Item, field string) {
	warn := func(name, text string) { l.warn(l.lines["item "+item.ID], join(field, name), text) }
	for _, effect := range item.Effects {
		if item.IfPoor == "" {
			warn("if_poor", item.ID+" can raise "+effect.Effect+" and does not say what to do then")
		}
		if slices.ContainsFunc(effect.When, func(c checklist.Condition) bool { return best(item, c) }) {
			warn("effects", "the best answer to "+item.ID+" raises "+effect.Effect)
		}
		if effect.Effect == checklist.Stop && item.Weight == 1 {
			warn("weight", item.ID+" can stop all driving and has the lowest weight")
		}
	}
	if item.Why == "" {
		warn("why", item.ID+" does not say why it is asked")
	}
	for _, ask := range item.Asks {
		if !uses(item, ask.Fact) {
			warn("asks", ask.Fact+" is asked and no effect of "+item.ID+" depends on it")
		}
	}
	for _, text := range unreachable(item) {
		warn("bands", "no answer can be “"+text+"” between min and max")
	}
}

// best says whether the condition holds for the best answer without any fact.
func best(i *checklist.Item, c checklist.Condition) bool {
	if len(c.Facts) > 0 {
		return false
	}
	levels := checklist.Levels(i.Type)
	return slices.Contains(c.Bands, 1) || len(levels) > 0 && slices.Contains(c.Levels, levels[0])
}

func uses(i *checklist.Item, fact string) bool {
	for _, effect := range i.Effects {
		for _, when := range effect.When {
			if slices.Contains(when.Facts, fact) {
				return true
			}
		}
	}
	return false
}

// unreachable returns the bands that lie outside what can be typed.
func unreachable(i *checklist.Item) []string {
	if len(i.Bands) == 0 || i.From != "" {
		return nil
	}
	low, high := i.Range()
	if i.Sides {
		high *= 2
	}
	var texts []string
	best := high // the best value that no better band has taken
	if i.Better == "low" {
		best = low
	}
	for _, band := range i.Bands {
		if i.Better == "high" && (best < low || band.Bound != nil && *band.Bound > best) {
			texts = append(texts, band.Text)
		}
		if i.Better == "low" && (best > high || band.Bound != nil && *band.Bound < best) {
			texts = append(texts, band.Text)
		}
		if band.Bound != nil {
			best = next(i, *band.Bound, best)
		}
	}
	return texts
}

// next is the best value that is left when the band down to bound is taken.
func next(i *checklist.Item, bound, best float64) float64 {
	step := 1.0
	if i.Type == checklist.TypeNumber {
		step = 1e-6
	}
	if i.Better == "high" {
		return min(best, bound-step)
	}
	return max(best, bound+step)
}

// levels warns about what the readiness levels rest on: the sections that
// their gates read, and single items that they name.
func (l *linter) levels() {
	var codes, ids []string
	sources := map[string]string{}
	for s, section := range l.d.Sections {
		codes = append(codes, section.Code)
		for i, item := range section.Items {
			field := join(at(join(at("sections", s), "items"), i), "from")
			if other := sources[item.From]; item.From != "" && other != "" {
				l.warn(l.lines["item "+item.ID], field, item.From+" counts twice: in "+other+" and "+item.ID)
			}
			sources[item.From] = item.ID
			ids = append(ids, item.ID)
		}
	}
	if missing := without([]string{"pos", "ctl", "mnt", "saf", "per", "ind", "out", "hom", "eqp", "hnd"}, codes); missing != "" {
		l.warn(1, "sections", "the levels above Practise rest on sections that are missing: "+missing)
	}
	if missing := without([]string{"mnt-stop", "hnd-teach", "hnd-limits", "out-help"}, ids); missing != "" {
		l.warn(1, "sections", "the levels rest on items that are missing: "+missing)
	}
}

func without(wanted, have []string) string {
	return strings.Join(slices.DeleteFunc(wanted, func(w string) bool { return slices.Contains(have, w) }), ", ")
}
