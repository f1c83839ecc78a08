package access

import (
	"slices"

	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// reasons applies every rule that has something to say about the control. While
// the base moves none speaks for a control, but what refuses one without asking for
// force still does: a base that moves makes nothing better.
func reasons(c *candidate) []Reason {
	steady, says := base(c)
	if c.in.Needs.Base == baseMoves {
		list := []Reason{steady}
		for _, rule := range [...]func(*candidate) (Reason, bool){latched, hits, unasked, breath, wet, helper} {
			if reason, applies := rule(c); applies && reason.Verdict == NotFeasible {
				list = append(list, reason)
			}
		}
		return list
	}
	var room [20]Reason
	list := append(room[:0],
		force(c), travel(c), noise(c), release(c), pain(c), fading(c), hold(c))
	for _, rule := range [...]func(*candidate) (Reason, bool){odd, idea, everyWay, latched, hits, unasked, steps, breath, rough, wet, helper, balance, grading} {
		if reason, applies := rule(c); applies {
			list = append(list, reason)
		}
	}
	if says {
		list = append(list, steady)
	}
	return slices.Clone(list)
}

// term is a rule that is about a word or a kind and not about a quantity. The
// changes are the codes for Marginal, Unknown and NotFeasible.
type term struct {
	id, item string
	change   [NotFeasible]string
}

// The terms, read only. Moisture is rule 6, the helper rule 9, balance rule 10,
// grading rule 13 and the base rule 14.
var (
	wetTerm = term{id: "wet", item: "ctl-wet", change: [...]string{
		"access.wet-improve",
		"access.wet-measure",
		"access.wet-mend",
	}}
	helperTerm = term{id: "helper", change: [...]string{
		"access.helper-improve",
		"access.helper-measure",
		"access.helper-mend",
	}}
	gradingTerm = term{id: "grading", item: "ctl-grade", change: [...]string{
		"access.grading-improve",
		"access.grading-measure",
		"access.grading-mend",
	}}
	baseTerm = term{id: "base", change: [...]string{
		"access.base-improve",
		"access.base-measure",
		"",
	}}
)

func (t *term) reason(v Verdict, sentence message.Message) Reason {
	r := Reason{Rule: t.id, Item: t.item, Verdict: v, Say: sentence}
	if v != Feasible {
		r.Change = message.New(t.change[v-1])
	}
	return r
}

// wet counts a control as sealed from the second digit of its code that stands
// for splashing water.
func wet(c *candidate) (Reason, bool) {
	how, site := c.in.Needs.Moisture[c.setup.Site], message.Word("site", c.setup.Site)
	switch how {
	case "":
		r := wetTerm.reason(Unknown, message.New("access.wet-open", site))
		r.Item, r.Advisory = "", true
		return r, true
	case "dry":
		return wetTerm.reason(Feasible, message.New("access.wet-dry", site)), true
	}
	v, moisture := Marginal, message.Word("how", how)
	if how == "wet" {
		v = NotFeasible
	}
	digit, known := sealOf(c.control.Sealing)
	seal, asked := message.Count("seal", digit), message.Count("asked", strength.SealSplash)
	switch {
	case !known:
		return wetTerm.reason(v, message.New("access.wet-seal-unknown", moisture, site)), true
	case digit >= strength.SealSplash:
		return wetTerm.reason(Feasible, message.New("access.wet-sealed", moisture, site, seal, asked)), true
	}
	return wetTerm.reason(v, message.New("access.wet-not-sealed", moisture, site, seal, asked)), true
}

// attendant is the helper's own control of the kit, or nil: one that suits a
// hand.
func (in *Input) attendant() *model.PackedControl {
	for i := range in.Kit {
		if c := &in.Kit[i]; c.Class == "attendant" && micro(c.OperateGF) > micro(strength.LightControl) {
			return c
		}
	}
	return nil
}

// helper asks what a helper's hand needs, of the helper's own control where the
// kit has one and else of the driver's, which both then work.
func helper(c *candidate) (Reason, bool) {
	if !answered(c.in.Needs.HelperDrives, true) {
		return Reason{}, false
	}
	if own := c.in.attendant(); own != nil {
		return helperTerm.reason(Feasible, message.New("access.helper-own", message.Number("operate", own.OperateGF))), true
	}
	operate := c.setup.OperateGF
	asked := message.Number("operate", operate)
	switch {
	case operate == 0 && proportional(c.control):
		return helperTerm.reason(Unknown, message.New("access.helper-force-unknown")), true
	case operate == 0:
		return helperTerm.reason(NotFeasible, message.New("access.helper-no-force")), true
	case micro(operate) > micro(strength.HelperHand):
		return helperTerm.reason(Feasible, message.New("access.helper-suits", asked)), true
	case micro(operate) <= micro(strength.LightControl):
		return helperTerm.reason(NotFeasible, message.New("access.helper-too-light", asked)), true
	case c.control.Attendant:
		return helperTerm.reason(Feasible, message.New("access.helper-listed", asked)), true
	}
	return helperTerm.reason(Marginal, message.New("access.helper-light", asked)), true
}

// grades are the ids of how much help grading took, by level; read only.
var grades = [...]string{"not-yet", "hands", "words", "slowly", "alone"}

// gradeVerdicts are what grading with that help means for the control; read only.
var gradeVerdicts = [len(grades)]Verdict{NotFeasible, Marginal, Marginal, Feasible, Feasible}

// grading only matters for a control that answers to how far it is moved, and
// is only known of the site that was driven with.
func grading(c *candidate) (Reason, bool) {
	f := c.found()
	if !proportional(c.control) || c.elsewhere && !f.GradeAsked {
		return Reason{}, false
	}
	if !f.GradeAsked {
		r := gradingTerm.reason(Unknown, message.New("access.grading-open"))
		r.Item, r.Advisory = "", true
		return r, true
	}
	return gradingTerm.reason(gradeVerdicts[f.Grade], message.New("access.grading", message.Word("grade", grades[f.Grade]))), true
}

// idea marks a usual kind of control: its figures are common practice, and what
// starts it is not known before one was measured.
func idea(c *candidate) (Reason, bool) {
	if !c.idea() {
		return Reason{}, false
	}
	return Reason{Rule: "idea", Verdict: Unknown,
		Say:    message.New("access.idea", message.Number("operate", c.setup.OperateGF)),
		Change: message.New("access.idea-measure")}, true
}

// idea reports whether a usual kind stands for no control that anybody has.
func (c *candidate) idea() bool { return usual(c.control) && !isSetUp(c.control, c.in.Setup) }

func base(c *candidate) (Reason, bool) {
	switch c.in.Needs.Base {
	case "stable":
		return baseTerm.reason(Feasible, message.New("access.base-stable")), true
	case "adjustable":
		return baseTerm.reason(Marginal, message.New("access.base-adjusted")), true
	case baseMoves:
		return baseTerm.reason(Unknown, message.New("access.base-moves")), true
	}
	return Reason{}, false
}
