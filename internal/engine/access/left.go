package access

import (
	"slices"
	"strings"

	"doorsill/internal/message"
	"doorsill/internal/strictjson"
)

// left says what remains when no stick fits at any measured site, what was
// tried, and which sites were ruled out and why. It is nil while one may fit at
// a site that is not ruled out.
func left(in *Input, list []Choice) *Reason {
	refused := ""
	for i := range list {
		c := &list[i]
		switch {
		case c.RuledOut || c.Indoors != NotFeasible && !proportional(c.control):
		case c.Indoors != NotFeasible:
			return nil
		case !proportional(c.control):
			refused += " " + c.control.Class
		}
	}
	tried, rejected := triedSticks(list), in.rejected()
	if len(list) == 0 || len(tried)+len(rejected) == 0 {
		return nil
	}
	return &Reason{Rule: "none-left", Verdict: NotFeasible, Say: noneLeft(tried, rejected),
		Change: message.New("access.left-to-try", message.Words("open", alternatives(refused)))}
}

func noneLeft(tried, rejected []message.Message) message.Message {
	switch {
	case len(tried) == 0:
		return message.New("access.all-ruled-out", message.List("rejected", rejected))
	case len(rejected) == 0:
		return message.New("access.none-left", message.List("tried", tried))
	}
	return message.New("access.none-left-and-ruled-out", message.List("tried", tried), message.List("rejected", rejected))
}

// triedSticks names the sticks by the force that they ask, site by site and each
// force once. Choices at the same site follow each other.
func triedSticks(list []Choice) []message.Message {
	var sites []message.Message
	for i := 0; i < len(list); {
		var forces []float64
		var sticks []message.Message
		site := list[i].Site
		for ; i < len(list) && list[i].Site == site; i++ {
			c := &list[i]
			if !c.RuledOut && proportional(c.control) && !slices.Contains(forces, c.OperateGF) {
				forces = append(forces, c.OperateGF)
				sticks = append(sticks, message.New("access.tried-stick", message.Number("operate", c.OperateGF)))
			}
		}
		if len(sticks) > 0 {
			sites = append(sites, message.New("access.tried-at", message.Word("site", site), message.List("sticks", sticks)))
		}
	}
	return sites
}

// rejected names every site that was ruled out, with why.
func (in *Input) rejected() []message.Message {
	var list []message.Message
	for _, site := range strictjson.SortedKeys(in.Needs.Rejected) {
		why, _ := in.ruledOut(site)
		list = append(list, message.New("access.rejected-site", message.Word("site", site), message.Word("why", why)))
	}
	return list
}

// alternatives lists what is left to try, without what the refused classes of
// control stand for.
func alternatives(refused string) []string {
	var open []string
	for _, a := range [...]struct{ class, id string }{
		{"-", "site"}, {"switched", "switches"}, {"switched", "head-pads"}, {"non-contact", "non-contact"},
		{"breath", "breath"}, {"attendant", "attendant"},
	} {
		if !strings.Contains(refused, a.class) {
			open = append(open, a.id)
		}
	}
	return open
}
