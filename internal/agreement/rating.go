package agreement

import (
	"slices"
	"strconv"
	"strings"

	"doorsill/internal/checklist"
)

// ratings are what one visit's result says, ready to be laid beside another's.
type ratings struct {
	rating
	order  []string // items with a level, in the checklist's order
	levels map[string]level
	stops  map[string]bool
	spots  []string // of forces, in the result's order
	forces map[string]string
}

// level is a place on an item's scale: 0 is the worst of so many.
type level struct{ at, of int }

// read takes levels, stops and mean forces out of the result's text.
func (r rating) read() ratings {
	out := ratings{rating: r, levels: make(map[string]level), stops: make(map[string]bool), forces: make(map[string]string)}
	for line := range strings.Lines(r.result) {
		f := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		switch {
		case f[0] == "item" && len(f) >= 8:
			out.item(f[1], f[2], f[4], f[7])
		case f[0] == "effect" && len(f) >= 3 && strings.HasPrefix(f[1], checklist.Stop):
			out.stops[f[2]] = true
		case f[0] == "figure" && len(f) >= 6:
			out.force(f[1], f[2], f[3], f[4], f[5])
		}
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
func (r *ratings) item(id, state, grade, choice string) {
	if state != "answered" || choice != "0" || r.list == nil {
		return
	}
	item := r.list.Item(id)
	if item == nil {
		return
	}
	if at, ok := levelOf(item, grade); ok {
		r.order = append(r.order, id)
		r.levels[id] = at
	}
}

// levelOf reads a level of help or fit, a yes or no, or a band (1 is best).
func levelOf(item *checklist.Item, grade string) (level, bool) {
	switch item.Type {
	case checklist.TypeYesNo:
		at := slices.Index([]string{"no", "yes"}, grade)
		return level{at: at, of: 2}, at >= 0
	case checklist.TypeHelp:
		return numbered(grade, 0, 5)
	case checklist.TypeFit:
		return numbered(grade, 0, 4)
	case checklist.TypeNumber, checklist.TypeCount:
		bands := len(item.Bands)
		band, ok := numbered(grade, 1, bands)
		return level{at: bands - 1 - band.at, of: bands}, ok
	}
	return level{}, false
}

func numbered(text string, lowest, of int) (level, bool) {
	n, err := strconv.Atoi(text)
	at := level{at: n - lowest, of: of}
	return at, err == nil && at.at >= 0 && at.at < of
}

// force keeps a mean of repeats in gram-force.
func (r *ratings) force(name, site, direction, value, unit string) {
	state, isMean := strings.CutPrefix(name, "mean-")
	if !isMean || unit != "gf" || value == "-" {
		return
	}
	spot := site + ":" + direction + ":" + state
	r.spots = append(r.spots, spot)
	r.forces[spot] = value
}
