// Package access answers whether a control fits: the chosen one at the chosen
// site, and every control of the kit and every usual kind at every site that
// was measured. It goes rule by rule with the numbers and with what would
// change the verdict, indoors and outdoors apart, and puts what is left into an
// order of choice.
package access

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// Verdict on a control. They are in order: the worst of several counts.
type Verdict uint8

const (
	Feasible Verdict = iota
	Marginal
	Unknown // something that the verdict needs was not measured
	NotFeasible
)

// verdicts is read only.
var verdicts = [...]string{"feasible", "marginal", "unknown", "not-feasible"}

// String returns the id of the verdict.
func (v Verdict) String() string { return verdicts[v] }

// Reason is what one rule says.
type Reason struct {
	Rule    string
	Verdict Verdict
	// OutdoorsOnly rules do not count indoors.
	OutdoorsOnly bool
	// Advisory reasons are shown and do not count: something else stands in
	// for the reading, nobody asked, or the rule is a note and no bar.
	Advisory bool
	// Caution marks an advisory reason that counts in the order of choice.
	Caution bool
	// From is the source of the computed item that goes with the rule, and
	// Item an item id; either may be empty.
	From, Item string
	// Say is what the rule found, with the numbers.
	Say message.Message
	// Change says what would change the verdict; empty when it is Feasible.
	Change message.Message
}

// Input is what the rules look at.
type Input struct {
	// Setup is the chosen control, or nil.
	Setup    *strength.Setup
	Analysis *strength.Analysis
	// Rough is unmeant commands per 20 m of rough ground.
	Rough quantity.Quantity
	// Pain is pain at the driving site after ten minutes, 0 to 10; PainAsked
	// says whether there is an answer.
	Pain      decimal.Micro
	PainAsked bool
	// Alarm reports numbness, new weakness, a locking jaw or pain at night,
	// Strain an ache into the next day.
	Alarm, Strain bool
	// Grade is how much help small, middle and full commands take, 4 (none) to
	// 0 (not yet); GradeAsked says whether there is an answer.
	Grade      int
	GradeAsked bool
	// Others is what was found with other controls or at other sites.
	Others []Found
	// Kit are the controls that were packed.
	Kit   []model.PackedControl
	Needs model.NeedsNoted
	// Asked are the directions that the driver must be able to give, before a
	// proven key takes reverse off them. Nil stands for those of the set-up.
	Asked []strength.Direction
}

// Found is what driving with a control at a site showed, as in Input.
type Found struct {
	Use           model.InUse
	Rough         quantity.Quantity
	Pain          decimal.Micro
	PainAsked     bool
	Alarm, Strain bool
	Grade         int
	GradeAsked    bool
}

// candidate is a control at a site that is judged.
type candidate struct {
	in *Input
	// setup is how it is set, analysis what was measured against that.
	setup    *strength.Setup
	analysis *strength.Analysis
	control  *model.PackedControl
	// elsewhere: it is another site than the chosen one; untried: it is another
	// control or site.
	elsewhere, untried bool
}

// chosen is the chosen control at the chosen site.
func (in *Input) chosen() *candidate {
	return &candidate{in: in, setup: in.Setup, analysis: in.Analysis, control: in.own()}
}

// found is what driving with the candidate showed. Of one that nobody drove with,
// pain and grading at the chosen site stand in; rough ground must be driven with
// the very control.
func (c *candidate) found() Found {
	in := c.in
	chosen := Found{Rough: in.Rough, Pain: in.Pain, PainAsked: in.PainAsked, Alarm: in.Alarm, Strain: in.Strain, Grade: in.Grade, GradeAsked: in.GradeAsked}
	if !c.untried {
		return chosen
	}
	f := c.foundElsewhere()
	if !c.elsewhere && !f.PainAsked && !f.Alarm {
		f.Pain, f.PainAsked, f.Alarm, f.Strain = in.Pain, in.PainAsked, in.Alarm, in.Strain
	}
	if !c.elsewhere && !f.GradeAsked {
		f.Grade, f.GradeAsked = in.Grade, in.GradeAsked
	}
	return f
}

// foundElsewhere is what was found with this control before another was chosen.
func (c *candidate) foundElsewhere() Found {
	use := model.InUse{Class: c.control.Class, Control: c.control.Name, Site: c.setup.Site}
	for i := range c.in.Others {
		if f := &c.in.Others[i]; f.Use.Class != "" && f.Use.Site != "" && f.Use.Control != "" && f.Use.Same(use) {
			return *f
		}
	}
	return Found{Rough: quantity.Quantity{Say: message.New("access.rough-untried")}}
}

// Result is the verdict on the chosen control, and on the others.
type Result struct {
	Indoors, Outdoors Verdict
	// PractiseOnly says that the control carries practice but no more.
	PractiseOnly bool
	// Say names the verdicts and the rules that decide them.
	Say message.Message
	// Reasons are in the order of the rules.
	Reasons []Reason
	// Classes are the usual kinds of control at the chosen site.
	Classes []ClassVerdict
	// Windows are the verdicts rested and tired, when they differ.
	Windows []Window
	// Choices are all controls at all sites that were measured, Left is what
	// remains when no stick fits anywhere, or nil.
	Choices []Choice
	Left    *Reason
	// Notes are further cautions, one sentence each.
	Notes []message.Message
}

// Judge applies every rule. Without a set-up both verdicts on the chosen
// control are Unknown.
func Judge(in Input) Result {
	r := Result{Indoors: Unknown, Outdoors: Unknown, Say: message.New("access.not-chosen")}
	if in.Setup != nil {
		r.chosen(in.chosen())
	}
	r.Choices = choices(&in)
	r.Left = left(&in, r.Choices)
	return r
}

func (r *Result) chosen(c *candidate) {
	in := c.in
	r.Reasons = reasons(c)
	if why, out := in.ruledOut(in.Setup.Site); out {
		r.Reasons = append(r.Reasons, Reason{Rule: "ruled-out", Verdict: Unknown,
			Say: message.New("access.chosen-ruled-out", message.Word("site", in.Setup.Site), message.Word("why", why)), Change: message.New("access.chosen-ruled-out-mend")})
	}
	r.Indoors, r.Outdoors = count(r.Reasons)
	r.Say = sentence(in.Setup.Site, r.Indoors, r.Outdoors, r.Reasons)
	r.Windows = windows(in, r.Reasons)
	r.PractiseOnly = in.Analysis.Hold.Has() && in.Analysis.Hold.Value < micro(strength.HoldBrief)
	if in.Needs.Base != baseMoves {
		r.Classes = classes(c)
	}
	r.note(in)
	kept := r.Reasons[:0]
	for _, reason := range r.Reasons {
		if !reason.Unasked() {
			kept = append(kept, reason)
		}
	}
	r.Reasons = kept
}

// Unasked reports whether nobody asked what a rule looks at.
func (r *Reason) Unasked() bool { return r.Advisory && r.Verdict == Unknown && r.From == "" }

// count returns the worst of the reasons that count.
func count(reasons []Reason) (indoors, outdoors Verdict) {
	for i := range reasons {
		r := &reasons[i]
		if r.Advisory {
			continue
		}
		outdoors = max(outdoors, r.Verdict)
		if !r.OutdoorsOnly {
			indoors = max(indoors, r.Verdict)
		}
	}
	return indoors, outdoors
}

// sentence names the verdicts and the rules that decide them.
func sentence(site string, indoors, outdoors Verdict, reasons []Reason) message.Message {
	var because []string
	for i := range reasons {
		r := &reasons[i]
		if r.Verdict != Feasible && !r.Advisory && (r.Verdict == indoors || r.Verdict == outdoors) {
			because = append(because, r.Rule)
		}
	}
	if len(because) == 0 {
		return message.New("access.verdict",
			message.Word("site", site), message.Word("indoors", indoors.String()), message.Word("outdoors", outdoors.String()))
	}
	return message.New("access.verdict-because",
		message.Word("site", site), message.Word("indoors", indoors.String()), message.Word("outdoors", outdoors.String()), message.Words("rules", because))
}

func (r *Result) note(in *Input) {
	reserve := &in.Analysis.Reserve
	if r.Outdoors != NotFeasible && reserve.Has() && reserve.Value >= micro(strength.ReserveWorkable) && reserve.Value < micro(strength.ReserveRoomy) {
		r.Notes = append(r.Notes, message.New("access.long-hold-outdoors", message.Number("asked", strength.ReserveRoomy), message.Exact("reserve", reserve.Value)))
	}
	if len(r.Classes) == 0 {
		return
	}
	for _, c := range r.Classes {
		if c.Verdict != NotFeasible {
			return
		}
	}
	r.Notes = append(r.Notes, message.New("access.no-usual-stick"))
}

func micro(x float64) decimal.Micro {
	m, _ := decimal.Of(x)
	return m
}
