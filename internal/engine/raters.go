package engine

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/fields"

	"doorsill/internal/engine/trend"
)

// Agreement says how far two raters agree: on each item, on all items with the
// same number of levels, and on forces. Text in, text out, as WIRE.md has it;
// an answer that begins with "error" and a TAB says in a sentence what was
// wrong.
func Agreement(text string) string {
	var r raters
	for line := 1; text != ""; line++ {
		var row string
		row, text, _ = fields.Cut(text, '\n')
		f := reader{rest: row, line: line}
		if r.read(&f); f.err != nil {
			return errorWord + f.err.Error()
		}
	}
	r.levels()
	r.compareForces()
	for _, item := range r.discuss {
		r.line("discuss", item)
	}
	return string(r.out)
}

// raters is what two raters said of the same trials.
type raters struct {
	items, together []*rated
	discuss         []string
	keys            []string
	forces          [][]float64
	out             []byte
}

// rated are the pairs of one item, or of all items with so many levels.
type rated struct {
	name   string
	levels int
	pairs  []trend.Pair
}

const mostLevels = 20

// allItems stands for every item with the same number of levels.
const allItems = "all"

func (r *raters) read(f *reader) {
	switch kind := f.next("kind"); kind {
	case "pair":
		item, levels := f.next("item"), f.whole("levels", 2, mostLevels)
		p := trend.Pair{Item: item, A: f.whole("a", 0, max(levels-1, 0)), B: f.whole("b", 0, max(levels-1, 0)), StopA: f.flag("stop a"), StopB: f.flag("stop b")}
		if f.err == nil {
			r.add(p, levels)
		}
	case "force":
		r.keys = append(r.keys, f.next("key"))
		r.forces = append(r.forces, []float64{f.number("a", 0, mostForce), f.number("b", 0, mostForce)})
	default:
		f.fail("kind", "pair or force", kind)
	}
	f.end()
}

func (r *raters) add(p trend.Pair, levels int) {
	if p.StopA != p.StopB {
		r.discuss = append(r.discuss, p.Item)
	}
	put(&r.items, p.Item, p, levels)
	put(&r.together, allItems, p, levels)
}

// put adds a pair to the list of its name and levels.
func put(list *[]*rated, name string, p trend.Pair, levels int) {
	for _, one := range *list {
		if one.name == name && one.levels == levels {
			one.pairs = append(one.pairs, p)
			return
		}
	}
	*list = append(*list, &rated{name: name, levels: levels, pairs: []trend.Pair{p}})
}

func (r *raters) line(first string, more ...string) { r.out = appendLine(r.out, first, more) }

func (r *raters) levels() {
	for _, list := range [...][]*rated{r.items, r.together} {
		for _, one := range list {
			// The levels were checked when they were read.
			a, err := trend.Agree(one.pairs, one.levels)
			if err != nil {
				continue
			}
			r.item(one, &a)
		}
	}
}

func (r *raters) item(one *rated, a *trend.Agreement) {
	line := []string{one.name, provenance.Whole(one.levels), provenance.Whole(a.N)}
	line = append(line, share(a.Same)...)
	line = append(line, share(a.WithinOne)...)
	word, met := "-", a.SameMet && a.WithinMet
	if a.Enough && a.KappaErr == nil {
		line = append(append(line, coefficient(a.Plain)...), coefficient(a.Linear)...)
		word, met = sentence(a.Linear.Word), met && a.KappaMet
	} else {
		line = append(line, "-", "-", "-", "-", "-", "-")
	}
	r.line("item", append(line, word, fields.Flag(met), sentence(a.Say))...)
}

func share(p trend.Proportion) []string {
	return []string{plain(p.Percent), plain(p.Low), plain(p.High)}
}

func coefficient(c trend.Coefficient) []string {
	return []string{plain(c.Kappa), plain(c.Low), plain(c.High)}
}

func (r *raters) compareForces() {
	if len(r.forces) == 0 {
		return
	}
	icc, low, high, said := "-", "-", "-", ""
	switch c, err := trend.ICC(r.forces); {
	case err != nil:
		said = sentence(provenance.MessageOf(err))
	default:
		icc, said = plain(c.ICC), sentence(c.Say)
		if c.Bounded {
			low, high = plain(c.Low), plain(c.High)
		}
	}
	r.line("icc", provenance.Whole(len(r.forces)), icc, low, high, said)
	for i, pair := range r.forces {
		// Two that found nothing are not apart; a mean of 0 has no percentage.
		if apart, err := trend.ForcesApart(pair[:1], pair[1:]); err == nil {
			r.line("apart", r.keys[i], plain(apart.Percent), fields.Flag(apart.Check), sentence(apart.Say))
		}
	}
}
