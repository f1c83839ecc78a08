package record

import (
	"slices"

	"doorsill/internal/model"
)

// DueAgain returns those of RetestItems that must be tried again: everything
// that was said of them is from before a change of a setting. Of releases and
// stop commands only those at the site of the set-up count, where one was chosen.
func DueAgain(v *model.Visit) []string {
	var items []string
	if releaseDue(v) {
		items = append(items, model.ItemRelease)
	}
	if slices.ContainsFunc(v.Answers, stopCallDue) {
		items = append(items, model.ItemStopCall)
	}
	return items
}

func releaseDue(v *model.Visit) bool {
	fresh := make(map[string]bool)
	for i := range v.Readings {
		r := &v.Readings[i]
		if !model.Stops(r.What) || r.Slip != "" || v.Setup != nil && !(r.Site == v.Setup.Site && r.InUse().Same(v.Setup.InUse())) {
			continue
		}
		fresh[r.Site] = fresh[r.Site] || !r.Due
	}
	for _, timed := range fresh {
		if !timed {
			return true
		}
	}
	return false
}

func stopCallDue(answer model.Answer) bool {
	due := func(g model.Given) bool { return g.Due }
	stands := func(g model.Given) bool { return g.State == model.StateAnswered && !g.Due }
	return slices.ContainsFunc(answer.Heads, due) && !slices.ContainsFunc(answer.Heads, stands)
}
