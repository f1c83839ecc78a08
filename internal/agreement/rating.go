package agreement

import (
	"slices"
	"strconv"
	"strings"

	"doorsill/internal/checklist"
	"doorsill/internal/model"
)

// ratings are what one visit's result says, ready to be laid beside another's.
type ratings struct {
	rating
	order  []string // items with a level, in the checklist's order
	levels map[string]level
	stops  map[string]bool
	spots  []string // of forces, in the result's order
	forces map[string]float64
}

// level is a place on an item's scale: 0 is the worst of so many.
type level struct{ at, of int }

// read takes levels, stops and mean forces out of the result.
func (r rating) read() ratings {
	out := ratings{rating: r, levels: make(map[string]level), stops: make(map[string]bool), forces: make(map[string]float64)}
	for i := range r.result.Items {
		out.item(&r.result.Items[i])
	}
	for i := range r.result.Effects {
		if f := &r.result.Effects[i]; strings.HasPrefix(f.Effect, checklist.Stop) {
			out.stops[f.Item] = true
		}
	}
	for i := range r.result.Quantities {
		out.force(&r.result.Quantities[i])
	}
	return out
}

// addTitles adds the titles of the checklist's items by their ids.
func (r *ratings) addTitles(titles map[string]string) {
	if r.list == nil {
		return
	}
	for _, section := range r.list.Sections {
		for i := range section.Items {
			titles[section.Items[i].ID] = section.Items[i].Title
		}
	}
}

// item keeps an answer that stands alone; one that waits for a choice is none.
func (r *ratings) item(item *model.ItemResult) {
	if item.State != model.StateAnswered || item.Choice || r.list == nil {
		return
	}
	asked := r.list.Item(item.ID)
	if asked == nil {
		return
	}
	if at, ok := levelOf(asked, item); ok {
		r.order = append(r.order, item.ID)
		r.levels[item.ID] = at
	}
}

// levelOf is a level of help or fit, a yes or no, or a band (1 is best).
func levelOf(item *checklist.Item, result *model.ItemResult) (level, bool) {
	switch item.Type {
	case checklist.TypeYesNo:
		at := slices.Index([]string{"no", "yes"}, result.Level)
		return level{at: at, of: 2}, at >= 0
	case checklist.TypeHelp:
		return numbered(result.Level, 5)
	case checklist.TypeFit:
		return numbered(result.Level, 4)
	case checklist.TypeNumber, checklist.TypeCount:
		bands := len(item.Bands)
		return level{at: bands - result.Band, of: bands}, result.Band >= 1 && result.Band <= bands
	}
	return level{}, false
}

func numbered(text string, of int) (level, bool) {
	n, err := strconv.Atoi(text)
	return level{at: n, of: of}, err == nil && n >= 0 && n < of
}

// force keeps a mean of repeats in gram-force.
func (r *ratings) force(q *model.Quantity) {
	state, isMean := strings.CutPrefix(q.Name, "mean-")
	if !isMean || q.Unit != "gf" || q.Value == nil {
		return
	}
	spot := q.Site + ":" + q.Direction + ":" + state
	r.spots = append(r.spots, spot)
	r.forces[spot] = q.Value.Float()
}
