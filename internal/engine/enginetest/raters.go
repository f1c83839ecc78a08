package enginetest

import (
	"strconv"
	"strings"

	"doorsill/internal/engine"
	"doorsill/internal/model"
)

// Agreement is RatersOf as text, as lines; an answer that begins with
// "error" and a TAB says in a sentence what was wrong.
func Agreement(text string) string {
	var q model.RatersQuestion
	for line := 1; text != ""; line++ {
		var row string
		row, text, _ = strings.Cut(text, "\n")
		f := reader{rest: row, line: line}
		if readRaters(&f, &q); f.err != nil {
			return failed(f.err)
		}
	}
	r, err := engine.RatersOf(&q)
	if err != nil {
		return failed(err)
	}
	return string(ratersText(&r))
}

func readRaters(f *reader, q *model.RatersQuestion) {
	switch kind := f.next("kind"); kind {
	case "pair":
		p := model.RatedPair{Item: f.next("item"), Levels: f.whole("levels", 2, most)}
		most := max(p.Levels-1, 0)
		p.A, p.B = f.whole("a", 0, most), f.whole("b", 0, most)
		p.StopA, p.StopB = f.flag("stop a"), f.flag("stop b")
		q.Pairs = append(q.Pairs, p)
	case "force":
		q.Forces = append(q.Forces, model.ForcePair{Key: f.next("key"), A: f.number("a", 0, most), B: f.number("b", 0, most)})
	default:
		f.fail("kind", "pair or force", kind)
	}
	f.end()
}

func ratersText(r *model.Raters) (l lines) {
	for i := range r.Items {
		item := &r.Items[i]
		row := []string{item.Item, strconv.Itoa(item.Levels), strconv.Itoa(item.Pairs)}
		for _, in := range [...]*model.Interval{&item.Same, &item.WithinOne, item.Kappa, item.WeightedKappa} {
			row = append(row, interval(in)...)
		}
		l.add("item", append(row, orDash(sentence(item.Word)), flag(item.Met), sentence(item.Message))...)
	}
	if f := r.Forces; f != nil {
		l.add("icc", append(append([]string{strconv.Itoa(f.Forces)}, interval(f.ICC)...), sentence(f.Message))...)
	}
	for i := range r.Apart {
		a := &r.Apart[i]
		l.add("apart", a.Key, a.Percent.Text(), flag(a.Check), sentence(a.Message))
	}
	for _, item := range r.Discuss {
		l.add("discuss", item)
	}
	return l
}

// interval writes a number and its bounds, with "-" for what is missing.
func interval(in *model.Interval) []string {
	if in == nil {
		return []string{"-", "-", "-"}
	}
	return []string{in.Value.Text(), number(in.Low), number(in.High)}
}
