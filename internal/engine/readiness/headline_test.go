package readiness_test

import (
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/message"
)

// raises makes an answer to an item raise an effect, with facts.
func (r *ready) raises(id, effect string, facts ...string) {
	r.item(id).Effects = append(r.item(id).Effects, checklist.Effect{Effect: effect, When: []checklist.Condition{{Levels: []string{"4"}, Facts: facts}}})
}

// reason is what a rule says against a control.
func reason(rule string, verdict access.Verdict) access.Reason {
	return access.Reason{Rule: rule, Verdict: verdict, Say: message.New("say." + rule), Change: message.New("change." + rule)}
}

// TestTheHeadline names what decides and what would do, and to the client what it is
// about.
func TestTheHeadline(t *testing.T) {
	const answered = "headline.why found=[headline.answer answer=[readiness.answered item=pos-one answer=[answer.level level=4]]] change="
	grave := []checklist.Effect{{Effect: checklist.Stop, When: []checklist.Condition{{Levels: []string{"0"}}}}}
	for _, c := range []struct {
		name        string
		change      func(*ready)
		want, aloud string
	}{
		{"nothing", func(*ready) {}, "headline.top", "aloud.why why=top"},
		{"a STOP", func(r *ready) { r.raises("pos-one", checklist.Stop) }, answered + "[headline.nobody]", "aloud.why why=stop"},
		{"a STOP for this control", func(r *ready) { r.raises("pos-one", checklist.StopControl) }, answered + "[headline.not-used]", "aloud.why why=stop-control"},
		{"a STOP for this control with a fact beside", func(r *ready) {
			r.raises("pos-one", checklist.StopControl, "loose")
			r.head("pos-one").Facts = said("loose=1")
		}, answered + "[headline.not-used]", "aloud.why why=stop-control"},
		{"a STOP for this control beside a rule of no quantity", func(r *ready) {
			r.raises("pos-one", checklist.StopControl)
			r.in.Access.Reasons = []access.Reason{reason("pain", access.NotFeasible)}
		}, answered + "[headline.not-used]", "aloud.why why=stop-control"},
		{"a limit to Practise", func(r *ready) { r.raises("pos-one", checklist.LimitPractise) }, answered + "[headline.stays level=practise]", "aloud.why why=limit-practise"},
		{"a limit to Accompanied", func(r *ready) { r.raises("pos-one", checklist.LimitAccompanied) }, answered + "[headline.stays level=accompanied]", "aloud.why why=limit-accompanied"},
		{"a limit to Home ground", func(r *ready) { r.raises("pos-one", checklist.LimitHomeGround) }, answered + "[headline.stays level=home-ground]", "aloud.why why=limit-home-ground"},
		{"the second of two effects", func(r *ready) {
			r.raises("ctl-one", checklist.StopVehicle)
			r.raises("pos-one", checklist.LimitPractise)
		},
			answered + "[headline.stays level=practise]", "aloud.why why=limit-practise"},
		{"a limit with a fact beside", func(r *ready) {
			r.raises("pos-one", checklist.LimitPractise, "loose")
			r.head("pos-one").Facts = said("loose=1")
		}, "readiness.raised-with item=pos-one answer=[answer.level level=4] fact=[fact.asked fact=loose] effect=limit:practise", "aloud.why why=limit-practise"},
		{"a limit with a question that is open", func(r *ready) { r.raises("pos-one", checklist.LimitPractise, "loose") },
			"readiness.raised-assumed item=pos-one answer=[answer.level level=4] effect=limit:practise", "aloud.why why=limit-practise"},
		{"a place", func(r *ready) {
			r.in.Barriers = []readiness.Barrier{{Place: "p1", Answer: message.New("place.answer"), Say: message.New("place.say"), Clear: message.New("place.clear")}}
		}, "headline.why found=[headline.answer answer=[place.answer]] change=[headline.stays level=accompanied]", "aloud.why why=limit-accompanied"},
		{"a control that is refused", func(r *ready) {
			r.in.Access.Indoors = access.NotFeasible
			wet, rough := reason("wet", access.NotFeasible), reason("rough-head", access.NotFeasible)
			wet.Advisory, rough.OutdoorsOnly = true, true
			r.in.Access.Reasons = []access.Reason{reason("pain", access.Marginal), wet, rough, reason("release", access.NotFeasible), reason("noise", access.NotFeasible)}
		}, "headline.why found=[say.release] change=[change.release]", "aloud.why why=release"},
		{"a control that is not known", func(r *ready) {
			r.in.Access.Indoors = access.Unknown
			rough := reason("rough-head", access.Unknown)
			rough.OutdoorsOnly = true
			r.in.Access.Reasons = []access.Reason{rough, reason("travel", access.Unknown)}
		}, "headline.why found=[say.travel] change=[change.travel]", "aloud.why why=open"},
		{"a control that only just works", func(r *ready) {
			r.in.Access.Indoors = access.Marginal
			rough := reason("rough-head", access.Marginal)
			rough.OutdoorsOnly = true
			r.in.Access.Reasons = []access.Reason{rough, reason("hold", access.Marginal)}
		}, "headline.why found=[say.hold] change=[change.hold]", "aloud.why why=hold"},
		{"a control that only just works outdoors", func(r *ready) {
			r.in.Access.Outdoors = access.Marginal
			rough := reason("rough-head", access.Marginal)
			rough.OutdoorsOnly = true
			r.in.Access.Reasons = []access.Reason{rough}
		}, "headline.why found=[say.rough-head] change=[change.rough-head]", "aloud.why why=rough-head"},
		{"a stop that nobody looked at", func(r *ready) { r.answer("mnt-stop", "") }, "headline.stop-first", "aloud.why why=open"},
		{"no stop", func(r *ready) { r.answer("mnt-stop", "no") },
			"readiness.stop-not-shown item=mnt-stop answer=[answer.yes-no answer=no]", "aloud.why why=stop-shown"},
		{"one thing before moving", func(r *ready) { r.item("saf-one").BeforeMoving = true; r.answer("saf-one", "") },
			"headline.first-only first=[headline.item item=saf-one]", "aloud.why why=open"},
		{"two things before moving", func(r *ready) {
			for _, id := range []string{"pos-one", "saf-one", "per-one"} {
				r.item(id).BeforeMoving = true
			}
			for _, id := range []string{"saf-one", "per-one", "hom-one"} { // of which the last may wait
				r.answer(id, "")
			}
		}, "headline.first first=[headline.item item=saf-one] others=1", "aloud.why why=open"},
		{"something that is measured before moving", func(r *ready) {
			r.item("ctl-one").BeforeMoving, r.item("ctl-one").From = true, checklist.FromHold
			r.item("ctl-one").Type, r.item("ctl-one").Bands = checklist.TypeNumber, bandsDownTo(30)
			r.in.Analysis.Hold = quantity.Quantity{Say: message.New("strength.breath")}
		}, "headline.first-only first=[headline.breath]", "aloud.why why=open"},
		{"no control chosen", func(r *ready) { r.in.Setup = nil }, "headline.control-first", "aloud.why why=open"},
		{"what can stop is open", func(r *ready) {
			r.item("saf-one").Effects, r.item("per-one").Effects = grave, grave
			r.answer("saf-one", "")
			r.answer("per-one", "")
		}, "headline.stops-first first=[headline.item item=saf-one] open=2", "aloud.why why=stops-answered"},
		{"a score", func(r *ready) { r.answer("hom-one", "0") }, "readiness.score section=hom score=0 least=65", "aloud.section section=hom"},
		{"a run", func(r *ready) { r.in.Trial.Drives = 1 }, "readiness.runs-wanted drives=1 tired=1", "aloud.why why=runs"},
	} {
		r := newReady()
		c.change(r)
		got := r.judge()
		if got.Headline.String() != c.want || got.Aloud.String() != c.aloud {
			t.Errorf("%s:\n got %s; %s\nwant %s; %s", c.name, got.Headline.String(), got.Aloud.String(), c.want, c.aloud)
		}
	}
}

// TestAStopOfAControlIsSaidByItsFigures: what the rule about the same quantity says, in
// plain words, and what it asks.
func TestAStopOfAControlIsSaidByItsFigures(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*ready, *access.Reason)
		would  string
		aloud  string
	}{
		{"the rule refuses", func(*ready, *access.Reason) {}, "change.hold", "aloud.why why=hold"},
		{"the rule warns", func(_ *ready, r *access.Reason) { r.Advisory = true }, "headline.not-used", "aloud.why why=stop-control"},
		{"the rule only just holds", func(_ *ready, r *access.Reason) { r.Verdict = access.Marginal }, "headline.not-used", "aloud.why why=stop-control"},
		{"another quantity's rule", func(_ *ready, r *access.Reason) { r.From = checklist.FromNoise }, "headline.not-used", "aloud.why why=stop-control"},
		{"a STOP for every control", func(r *ready, _ *access.Reason) { r.item("ctl-one").Effects[0].Effect = checklist.Stop }, "headline.nobody", "aloud.why why=stop"},
	} {
		r := newReady()
		it := r.item("ctl-one")
		it.From, it.Type, it.Better, it.Bands = checklist.FromHold, checklist.TypeNumber, "high", bandsDownTo(30)
		it.Effects = []checklist.Effect{{Effect: checklist.StopControl, When: []checklist.Condition{{Bands: []int{2}}}}}
		r.in.Analysis.Hold = quantity.Quantity{Origin: quantity.Measured, Value: decimal.Int(3), Say: message.New("strength.breath", message.Inner("why", message.New("access.force-thin")), message.Count("n", 3),
			message.List("all", []message.Message{message.New("strength.reserve")}))}
		rule := reason("hold", access.NotFeasible)
		rule.From = checklist.FromHold
		c.change(r, &rule)
		r.in.Access.Reasons = []access.Reason{reason("wet", access.NotFeasible), rule}
		got := r.judge()
		want := "headline.why found=[headline.breath why=[headline.force-thin] n=3 all=[headline.force]] change=[" + c.would + "]"
		if got.Headline.String() != want || got.Aloud.String() != c.aloud {
			t.Errorf("%s:\n got %s; %s\nwant %s; %s", c.name, got.Headline.String(), got.Aloud.String(), want, c.aloud)
		}
	}
}

// TestALighterKindIsNamedWhereForceIsMissing: the first that is not refused, of another
// kind than the chosen one, and leaves 3 times what it asks (TRADE.md 4.1).
func TestALighterKindIsNamedWhereForceIsMissing(t *testing.T) {
	kind := func(id string, verdict access.Verdict, has bool, reserve decimal.Micro) access.ClassVerdict {
		return access.ClassVerdict{ID: id, Verdict: verdict, HasReserve: has, Reserve: reserve}
	}
	const unknown = access.Unknown
	three := decimal.Int(3)
	for _, c := range []struct {
		name  string
		kinds []access.ClassVerdict
		rule  func(*access.Reason)
		want  string
	}{
		{"one with 3 times", []access.ClassVerdict{kind("small", unknown, true, three)}, nil, "headline.lighter class=small"},
		{"the first of two", []access.ClassVerdict{kind("small", unknown, true, three), kind("very-light", unknown, true, 9*three)}, nil, "headline.lighter class=small"},
		{"one with less", []access.ClassVerdict{kind("small", unknown, true, three-1)}, nil, "change.force"},
		{"one that is refused", []access.ClassVerdict{kind("small", access.NotFeasible, true, three)}, nil, "change.force"},
		{"the chosen kind", []access.ClassVerdict{kind("standard", unknown, true, three)}, nil, "change.force"},
		{"one without readings", []access.ClassVerdict{kind("small", unknown, false, three)}, nil, "change.force"},
		{"measured too thinly", []access.ClassVerdict{kind("small", unknown, true, three)}, func(r *access.Reason) { r.Say = message.New("access.force-thin") }, "change.force"},
		{"none is chosen", []access.ClassVerdict{kind("small", unknown, true, three)}, nil, "change.force"},
		{"another rule", []access.ClassVerdict{kind("small", unknown, true, three)}, func(r *access.Reason) { r.Rule = "hold" }, "change.force"},
	} {
		r := newReady()
		r.in.Setup.Class = "standard"
		rule := reason(access.ForceRule, access.NotFeasible)
		if c.rule != nil {
			c.rule(&rule)
		}
		if c.name == "none is chosen" {
			r.in.Setup = nil
		}
		r.in.Access.Indoors, r.in.Access.Classes, r.in.Access.Reasons = access.NotFeasible, c.kinds, []access.Reason{rule}
		headline := r.judge().Headline
		if got := headline.Arg("change").Messages[0]; got.String() != c.want {
			t.Errorf("%s: %s, want %s", c.name, got.String(), c.want)
		}
	}
}
