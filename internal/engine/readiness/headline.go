package readiness

import (
	"slices"
	"strings"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// headline says in one or two plain sentences why the level is not a higher one,
// with the figures that decide and what would do, and the same to the client in
// words that hold no figures.
func (j *judge) headline() {
	failed := j.failed()
	if failed == nil {
		j.Headline, j.Aloud = message.New("headline.top"), aloud("top")
		return
	}
	j.Headline, j.Aloud = failed.Say, aloud(failed.Code)
	switch failed.Code {
	case "stop":
		j.raisedHeadline(checklist.Stop, message.New("headline.nobody"))
	case "stop-control":
		j.raisedHeadline(checklist.StopControl, message.New("headline.not-used"))
	case "limit-practise", "limit-accompanied", "limit-home-ground":
		effect := "limit:" + strings.TrimPrefix(failed.Code, "limit-")
		j.raisedHeadline(effect, message.New("headline.stays", message.Word("level", limitOf(effect).String())))
	case "control":
		j.controlHeadline(access.NotFeasible, false)
	case "control-known":
		j.controlHeadline(access.Unknown, false)
	case "control-feasible":
		j.controlHeadline(j.in.Access.Indoors, false)
	case "control-outdoors":
		j.controlHeadline(j.in.Access.Outdoors, true)
	case stopShown:
		if failed.open {
			j.Headline = message.New("headline.stop-first")
		}
	case "before-moving":
		var open []int
		for i := range j.items {
			if j.items[i].BeforeMoving && j.Answers[i].unanswered() {
				open = append(open, i)
			}
		}
		j.Headline = j.first("headline.first", open)
	case "control-chosen":
		j.Headline = message.New("headline.control-first")
	case "stops-answered":
		j.Headline = j.first("headline.stops-first", j.unansweredGrave())
	}
	if failed.open {
		j.Aloud = aloud("open")
	}
	if section := j.sectionOf(failed); section != "" {
		j.Aloud = message.New("aloud.section", message.Word("section", section))
	}
}

// aloud is what is said to the client of a condition or of a rule about controls.
func aloud(why string) message.Message { return message.New("aloud.why", message.Word("why", why)) }

// sectionOf returns the section whose score a condition asks for, or nothing.
func (j *judge) sectionOf(g *Gate) string {
	for i := range j.sections {
		if g.Code == "score-"+j.sections[i].code {
			return j.sections[i].code
		}
	}
	return ""
}

// first names the first of what is open, and how much there is.
func (j *judge) first(code string, open []int) message.Message {
	if len(open) == 0 {
		return message.Message{}
	}
	name := message.New("headline.item", message.Word("item", j.items[open[0]].ID))
	if why := j.computedFrom(open[0]); !why.Empty() {
		name = plainly(why)
	}
	first, others := message.Inner("first", name), message.Count("others", len(open)-1)
	switch {
	case code == "headline.stops-first":
		return message.New("headline.stops-first", first, message.Count("open", len(open)))
	case len(open) == 1:
		return message.New("headline.first-only", first)
	}
	return message.New("headline.first", first, others)
}

// raisedHeadline names the first answer that raises an effect, or what was
// measured where that is the answer, and what that forbids. Where the answer
// would not raise it without a fact beside it, the fact decides and is named; what
// keeps a control from being used is said by its figures.
func (j *judge) raisedHeadline(effect string, forbids message.Message) {
	for i := range j.Effects {
		r := &j.Effects[i]
		if r.Effect != effect {
			continue
		}
		found := message.New("headline.answer", message.Inner("answer", j.standing(r)))
		if r.Item >= 0 {
			if effect != checklist.StopControl && j.byFact(r) {
				j.Headline = r.Say
				return
			}
			if why := j.computedFrom(r.Item); !why.Empty() {
				found = plainly(why)
			}
			if reason := j.reasonFor(r.Item); reason != nil && effect == checklist.StopControl {
				forbids, j.Aloud = j.wouldDo(reason), aloud(reason.Rule)
			}
		}
		j.Headline = message.New("headline.why", message.Inner("found", found), message.Inner("change", forbids))
		return
	}
}

// byFact says that an answer raises an effect only with a fact beside it, or with
// a question that is open and counts as the more cautious answer.
func (j *judge) byFact(r *Raised) bool {
	fact := j.factBehind(r.Item, r.Effect)
	return r.Assumed || !fact.Empty()
}

// reasonFor returns what the rules say against the control by the quantity of an
// item, or nil.
func (j *judge) reasonFor(item int) *access.Reason {
	for i := range j.in.Access.Reasons {
		r := &j.in.Access.Reasons[i]
		if r.From != "" && r.From == j.items[item].From && r.Verdict == access.NotFeasible && !r.Advisory {
			return r
		}
	}
	return nil
}

// controlHeadline names the first reason of the control's verdict.
func (j *judge) controlHeadline(worst access.Verdict, outdoors bool) {
	for i := range j.in.Access.Reasons {
		r := &j.in.Access.Reasons[i]
		if r.Verdict != worst || r.Advisory || r.OutdoorsOnly && !outdoors {
			continue
		}
		j.Aloud = aloud(r.Rule)
		if worst == access.Unknown {
			j.Aloud = aloud("open")
		}
		j.Headline = message.New("headline.why", message.Inner("found", plainly(r.Say)), message.Inner("change", j.wouldDo(r)))
		return
	}
}

// plainCodes are the codes that say the same without the name of the figure that
// is compared. Read only.
var plainCodes = [...]struct{ code, plain string }{
	{"strength.reserve", "headline.force"},
	{"strength.reserve-assumed", "headline.force-assumed"},
	{"strength.travel-reserve", "headline.travel"},
	{"strength.travel-reserve-throw", "headline.travel"},
	{"strength.switch-reserve", "headline.switch"},
	{"strength.switch-reserve-assumed", "headline.switch-assumed"},
	{"strength.breath", "headline.breath"},
	{"strength.breath-assumed", "headline.breath"},
	{"access.force-thin", "headline.force-thin"},
}

// plainly says what a rule found in plain words, within other messages too.
func plainly(say message.Message) message.Message {
	plain := message.Message{Code: say.Code, Args: slices.Clone(say.Args)}
	for _, c := range plainCodes {
		if c.code == say.Code {
			plain.Code = c.plain
		}
	}
	for i := range plain.Args {
		a := &plain.Args[i]
		if a.Kind != message.KindMessage && a.Kind != message.KindMessages {
			continue
		}
		inner := make([]message.Message, len(a.Messages))
		for n := range a.Messages {
			inner[n] = plainly(a.Messages[n])
		}
		a.Lists = &message.Lists{Messages: inner}
	}
	return plain
}

// wouldDo is the least sensitive usual kind of control that leaves a workable
// reserve, where force is what is missing; else what would change the verdict.
func (j *judge) wouldDo(r *access.Reason) message.Message {
	if r.Rule != access.ForceRule || r.Say.Code == "access.force-thin" || j.in.Setup == nil {
		return r.Change
	}
	for i := range j.in.Access.Classes {
		c := &j.in.Access.Classes[i]
		if c.ID != j.in.Setup.Class && c.HasReserve && c.Verdict != access.NotFeasible && c.Reserve >= decimal.Int(strength.ReserveWorkable) {
			return message.New("headline.lighter", message.Word("class", c.ID))
		}
	}
	return r.Change
}
