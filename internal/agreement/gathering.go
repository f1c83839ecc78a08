package agreement

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"doorsill/internal/engine"
)

// gathering collects pairs and asks the engine about all of them.
type gathering struct {
	pairs []paired
	open  int
	byApp int
}

// paired are two ratings of one trial.
type paired struct{ first, second ratings }

func (g *gathering) add(first, second ratings) {
	g.pairs = append(g.pairs, paired{first, second})
}

func (g *gathering) report() (Report, error) {
	r := Report{Pairs: len(g.pairs), Open: g.open, ByApp: g.byApp, Together: []ItemAgreement{}, Items: []ItemAgreement{}, Stops: []StopApart{}, Apart: []ForceApart{}}
	var all strings.Builder
	titles := make(map[string]string)
	for i, p := range g.pairs {
		p.write(&all, strconv.Itoa(i)+":")
		p.first.addTitles(titles)
		if err := p.differences(&r, titles); err != nil {
			return Report{}, err
		}
	}
	slices.Reverse(r.Stops)
	slices.Reverse(r.Apart)
	err := ask(all.String(), func(f []string) { r.take(f, titles) })
	return r, err
}

// differences finds what the two should talk about.
func (p paired) differences(r *Report, titles map[string]string) error {
	var text strings.Builder
	p.write(&text, "")
	name := p.name()
	return ask(text.String(), func(f []string) {
		switch {
		case f[0] == "discuss" && len(f) >= 2:
			r.Stops = append(r.Stops, StopApart{RatedPair: name, Item: f[1], Title: titles[f[1]], ByFirst: p.first.stops[f[1]]})
		case f[0] == "apart" && len(f) >= 5 && f[3] == "1":
			r.Apart = append(r.Apart, apart(name, f))
		}
	})
}

func apart(name RatedPair, f []string) ForceApart {
	a := ForceApart{RatedPair: name, Percent: number(f[2]), Say: f[4]}
	spot := strings.Split(f[1], ":")
	if len(spot) == 3 {
		a.Site, a.Direction, a.State = spot[0], spot[1], spot[2]
	}
	return a
}

func (p paired) name() RatedPair {
	a, b := p.first.visit, p.second.visit
	return RatedPair{Client: b.Client, First: a.ID, Second: b.ID, FirstBy: a.Started.By, SecondBy: b.Started.By, At: b.Started.At}
}

// write adds the lines of what both rated on the same scale and both measured.
func (p paired) write(text *strings.Builder, mark string) {
	for _, id := range p.first.order {
		a, b := p.first.levels[id], p.second.levels[id]
		if a.of != b.of {
			continue
		}
		line(text, "pair", id, strconv.Itoa(a.of), strconv.Itoa(a.at), strconv.Itoa(b.at), flag(p.first.stops[id]), flag(p.second.stops[id]))
	}
	for _, spot := range p.first.spots {
		if b, both := p.second.forces[spot]; both {
			line(text, "force", mark+spot, p.first.forces[spot], b)
		}
	}
}

func line(text *strings.Builder, fields ...string) {
	text.WriteString(strings.Join(fields, "\t"))
	text.WriteByte('\n')
}

func flag(b bool) string {
	if b {
		return "1"
	}
	return "0"
}

// ask hands every line of the engine's answer on.
func ask(text string, take func(fields []string)) error {
	if text == "" {
		return nil
	}
	answer := engine.Agreement(text)
	if said, failed := strings.CutPrefix(answer, "error\t"); failed {
		return errors.New("compare raters: " + said)
	}
	for line := range strings.Lines(answer) {
		take(strings.Split(strings.TrimSuffix(line, "\n"), "\t"))
	}
	return nil
}

// take reads a line about all pairs together.
func (r *Report) take(f []string, titles map[string]string) {
	switch {
	case f[0] == "item" && len(f) >= 19:
		cell := cellOf(f, titles)
		if cell.Item == "" {
			r.Together = append(r.Together, cell)
		} else {
			r.Items = append(r.Items, cell)
		}
	case f[0] == "icc" && len(f) >= 6:
		r.Force = forceOf(f)
	}
}

func cellOf(f []string, titles map[string]string) ItemAgreement {
	c := ItemAgreement{Item: f[1], Title: titles[f[1]], Levels: int(number(f[2])), N: int(number(f[3]))}
	if c.Item == "all" {
		c.Item = ""
	}
	if c.Few = c.N < FewPairs; c.Few {
		return c
	}
	c.Same, c.Within = interval(f[4:7]), interval(f[7:10])
	c.Kappa, c.Weighted = interval(f[10:13]), interval(f[13:16])
	if f[16] != "-" {
		c.Word = f[16]
	}
	c.Met, c.Say = f[17] == "1", f[18]
	return c
}

func forceOf(f []string) *ForceAgreement {
	force := &ForceAgreement{N: int(number(f[1]))}
	if force.Few = force.N < FewPairs; !force.Few {
		force.ICC, force.Say = interval(f[2:5]), f[5]
	}
	return force
}

// interval reads a value and its bounds; nil when there is no value.
func interval(f []string) *Interval {
	if f[0] == "-" {
		return nil
	}
	one := Interval{Value: number(f[0])}
	if f[1] != "-" && f[2] != "-" {
		low, high := number(f[1]), number(f[2])
		one.Low, one.High = &low, &high
	}
	return &one
}

// number reads a decimal that the engine wrote.
func number(text string) float64 {
	value, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0
	}
	return value
}
