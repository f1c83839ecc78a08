package access

import (
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// The rules of controls that give commands of all or nothing, read only: whether
// commands come when they are asked, come when nobody asked, how many presses
// one takes, and whether the breath reaches what a breath control asks. The time
// to the stop command and whether it comes is the release rule.
var (
	hitsRule = rule{
		id: "hits", better: "high", good: strength.CommandsSure, just: strength.CommandsMost,
		measure: "access.hits-measure",
		improve: "access.hits-improve",
	}
	unaskedRule = rule{
		id: "unasked", better: "low", good: strength.UnaskedFew, just: strength.UnaskedMost,
		measure: "access.unasked-measure",
		improve: "access.unasked-improve",
	}
	stepsRule = rule{
		id: "steps", better: "low", good: strength.StepsFew, just: strength.StepsMost, gentle: true,
		measure: "access.steps-measure",
		improve: "access.steps-improve",
		mend:    "access.steps-mend",
	}
	breathRule = rule{
		id: "breath", better: "high", good: strength.ReserveWorkable, just: strength.ReserveTight,
		measure: "access.breath-measure",
		improve: "access.breath-improve",
	}
)

func hits(c *candidate) (Reason, bool) { return ruled(&hitsRule, &c.analysis.Hits) }

func unasked(c *candidate) (Reason, bool) { return ruled(&unaskedRule, &c.analysis.Unasked) }

// steps is asked of scanning alone; of others it counts once it was counted.
func steps(c *candidate) (Reason, bool) {
	r, says := ruled(&stepsRule, &c.analysis.Steps)
	return r, says && (r.Verdict != Unknown || c.setup.Class == "scanning")
}

// ruled judges a quantity, and says nothing where it has no meaning.
func ruled(r *rule, f *quantity.Quantity) (Reason, bool) {
	if f.Origin == quantity.NotAsked || f.Name == "" {
		return Reason{}, false
	}
	return r.judge(f), true
}

// breath also asks whether air escapes and how the person breathes: through an
// opening in the throat there may be no breath at the mouth at another setting
// of the ventilator.
func breath(c *candidate) (Reason, bool) {
	r, says := ruled(&breathRule, &c.analysis.Breath)
	if !says {
		return r, false
	}
	n := &c.in.Needs
	worse := func(v Verdict, say message.Message, change string) {
		r.Say = message.New("access.breath-also", message.Inner("found", r.Say), message.Inner("also", say))
		if v > r.Verdict {
			r.Verdict, r.Change = v, message.New(change)
		}
	}
	switch {
	case n.BreathLeak == nil || n.Tracheostomy == nil:
		worse(Unknown, message.New("access.breath-open"), "access.breath-ask")
	case *n.Tracheostomy:
		worse(Marginal, message.New("access.breath-tracheostomy"), "access.breath-team")
	}
	if answered(n.BreathLeak, true) {
		worse(Marginal, message.New("access.breath-leak"), "access.breath-seal")
	}
	return r, true
}

// latched judges how the control drives. Letting go is no brake of a control that
// drives on, so the driver needs a stop beside it; whether that one comes is what
// the release rule looks at.
func latched(c *candidate) (Reason, bool) {
	r := Reason{Rule: "latched"}
	switch {
	case c.setup.Mode == model.DriveLatched && !c.setup.SeparateStop:
		r.Verdict, r.Say, r.Change = NotFeasible, message.New("access.latched-no-stop"), message.New("access.latched-mend")
	case c.setup.Mode == model.DriveLatched:
		r.Say = message.New("access.latched-stop")
	case c.setup.Mode == "" && strength.Switched(c.setup.Class):
		r.Verdict, r.Say, r.Change = Unknown, message.New("access.mode-open"), message.New("access.mode-ask")
	default:
		return r, false
	}
	return r, true
}
