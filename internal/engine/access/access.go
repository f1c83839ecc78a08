// Package access answers whether a control fits: the chosen one at the chosen
// site, indoors and outdoors, rule by rule with the numbers and with what would
// change the verdict, and the usual kinds of control at the same site.
package access

import (
	"doorsill/internal/checklist/rules"
	"doorsill/internal/engine/decimal"
	"doorsill/internal/engine/figure"
	"doorsill/internal/engine/strength"
)

// Verdict on a control. They are in order: the worst of several counts.
type Verdict uint8

const (
	Feasible Verdict = iota
	Marginal
	Unknown // something that the verdict needs was not measured
	NotFeasible
)

// String returns the id of the verdict.
func (v Verdict) String() string {
	return [...]string{"feasible", "marginal", "unknown", "not-feasible"}[v]
}

// Words returns the verdict as a person would say it.
func (v Verdict) Words() string {
	return [...]string{"feasible", "marginal", "not known yet", "not feasible"}[v]
}

// Reason is what one rule says.
type Reason struct {
	Rule    string
	Verdict Verdict
	// OutdoorsOnly rules do not count indoors.
	OutdoorsOnly bool
	// Advisory rules are not counted while their verdict is Unknown: something
	// else stands in for the reading.
	Advisory bool
	// From is the source of the computed item that goes with the rule, and
	// Item an item id; either may be empty.
	From, Item string
	Say        string
	// Change says what would change the verdict; empty when it is Feasible.
	Change string
}

// Input is what the rules look at.
type Input struct {
	// Setup is the chosen control, or nil.
	Setup    *strength.Setup
	Analysis *strength.Analysis
	// Rough is unmeant commands per 20 m of rough ground.
	Rough figure.Figure
	// Pain is pain at the driving site after ten minutes, 0 to 10; PainAsked
	// says whether there is an answer.
	Pain      decimal.Micro
	PainAsked bool
	// Alarm reports numbness, new weakness, a locking jaw or pain at night.
	Alarm bool
}

// Result is the verdict on the chosen control.
type Result struct {
	Indoors, Outdoors Verdict
	// PractiseOnly says that the control carries practice but no more.
	PractiseOnly bool
	Say          string
	// Reasons are in the order of the rules.
	Reasons []Reason
	// Classes are the usual kinds of control at the chosen site.
	Classes []ClassVerdict
	// Notes are further cautions, one sentence each.
	Notes []string
}

// Judge applies every rule. Without a set-up both verdicts are Unknown.
func Judge(in Input) Result {
	if in.Setup == nil {
		return Result{Indoors: Unknown, Outdoors: Unknown, Say: "No control and site chosen yet, so there is no verdict."}
	}
	var r Result
	r.Reasons = append(make([]Reason, 0, 9),
		force(in), travel(in), noise(in), release(in), pain(in), fading(in), hold(in))
	if reason, applies := rough(in); applies {
		r.Reasons = append(r.Reasons, reason)
	}
	r.count()
	r.PractiseOnly = in.Analysis.Hold.Has() && in.Analysis.Hold.Value < micro(strength.HoldBrief)
	r.Classes = classes(in)
	r.Say = r.sentence(in.Setup)
	r.note(in)
	return r
}

func (r *Result) count() {
	for _, reason := range r.Reasons {
		if reason.Advisory && reason.Verdict == Unknown {
			continue
		}
		r.Outdoors = max(r.Outdoors, reason.Verdict)
		if !reason.OutdoorsOnly {
			r.Indoors = max(r.Indoors, reason.Verdict)
		}
	}
}

// sentence names the verdicts and the rules that decide them.
func (r *Result) sentence(setup *strength.Setup) string {
	say := "At the " + strength.SiteWords(setup.Site) + ": indoors " + r.Indoors.Words() + ", outdoors " + r.Outdoors.Words()
	because := ""
	for _, reason := range r.Reasons {
		if reason.Verdict == Feasible || reason.Verdict != r.Indoors && reason.Verdict != r.Outdoors || reason.Advisory && reason.Verdict == Unknown {
			continue
		}
		if because != "" {
			because += ", "
		}
		because += ruleWords(reason.Rule)
	}
	if because == "" {
		return say + "."
	}
	return say + "; decided by: " + because + "."
}

func ruleWords(rule string) string {
	switch rule {
	case "noise":
		return "unintended force"
	case "rough-head", "rough-light":
		return "rough ground"
	case "hold":
		return "holding forward"
	}
	return rule
}

func (r *Result) note(in Input) {
	reserve := in.Analysis.Reserve
	if r.Outdoors != NotFeasible && reserve.Has() && reserve.Value >= micro(strength.ReserveWorkable) && reserve.Value < micro(strength.ReserveRoomy) {
		r.Notes = append(r.Notes, "Outdoors, holding a command for more than two minutes without a break asks for a reserve of 7, or for rest points; the reserve is "+reserve.Value.Down(1).Short(1)+".")
	}
	if len(r.Classes) == 0 {
		return
	}
	for _, c := range r.Classes {
		if c.Verdict != NotFeasible {
			return
		}
	}
	r.Notes = append(r.Notes, "No usual stick fits this site. Before anybody concludes that the person cannot drive, try another site, switches, head pads, a control without touch, breath control, and an attendant control, and list what was tried.")
}

func micro(x float64) decimal.Micro {
	m, _ := decimal.Of(x)
	return m
}

// from names the computed items that go with the rules.
const (
	fromForce   = rules.FromForceReserve
	fromTravel  = rules.FromTravelReserve
	fromNoise   = rules.FromNoise
	fromRelease = rules.FromRelease
	fromFading  = rules.FromTiredRatio
	fromHold    = rules.FromHold
	fromRough   = rules.FromRough
)
