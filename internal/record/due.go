package record

import "slices"

// DueAgain returns those of RetestItems that must be tried again: everything
// that was said of them is from before a change of a setting. Of releases only
// those at the site of the set-up count, where one was chosen.
func (v *Visit) DueAgain() []string {
	var items []string
	if v.releaseDue() {
		items = append(items, ItemRelease)
	}
	if slices.ContainsFunc(v.Answers, stopCallDue) {
		items = append(items, ItemStopCall)
	}
	return items
}

func (v *Visit) releaseDue() bool {
	fresh := make(map[string]bool)
	for i := range v.Readings {
		r := &v.Readings[i]
		if r.What != ReadRelease || r.Slip != "" || v.Setup != nil && r.Site != v.Setup.Site {
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

func stopCallDue(answer Answer) bool {
	due := func(g Given) bool { return g.Due }
	stands := func(g Given) bool { return g.State == StateAnswered && !g.Due }
	return slices.ContainsFunc(answer.Heads, due) && !slices.ContainsFunc(answer.Heads, stands)
}
