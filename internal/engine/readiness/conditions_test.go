package readiness_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/message"
)

// gateOf is the condition of a level with a code, and whether there is one.
func gateOf(r readiness.Result, code string) (readiness.Gate, bool) {
	for _, g := range r.Gates {
		if g.Code == code {
			return g, true
		}
	}
	return readiness.Gate{}, false
}

// TestTheConditionsOfEachLevel are those of TRADE.md 5.2, in its order, where nothing
// special applies.
func TestTheConditionsOfEachLevel(t *testing.T) {
	r := newReady()
	r.in.Setup.OperateGF = 0
	byLevel := map[readiness.Level][]string{}
	for _, g := range r.judge().Gates {
		byLevel[g.Level] = append(byLevel[g.Level], g.Code)
		if g.Say.Empty() || !g.Met {
			t.Errorf("%s is met %v and says %q", g.Code, g.Met, g.Say.Code)
		}
	}
	for level, want := range map[readiness.Level]string{
		readiness.Practise:    "stop stop-control control stop-shown control-chosen",
		readiness.Accompanied: "stops-answered control-known limit-practise score-pos score-ctl score-mnt score-saf score-ind score-eqp teach-back limits-written",
		readiness.HomeGround:  "limit-accompanied control-feasible score-pos score-ctl score-mnt score-saf score-per score-ind score-hom score-eqp score-hnd",
		readiness.WiderGround: "limit-home-ground runs control-outdoors score-saf score-per score-out outdoor-items outdoor-help",
	} {
		if got := strings.Join(byLevel[level], " "); got != want {
			t.Errorf("%v asks for %q, want %q", level, got, want)
		}
		delete(byLevel, level)
	}
	if len(byLevel) > 0 {
		t.Errorf("and %v", byLevel)
	}
}

// TestConditionsThatApplyAtTimes: of what must be known before moving, what was not
// tested and what carries practice alone, each at its level.
func TestConditionsThatApplyAtTimes(t *testing.T) {
	for _, c := range []struct {
		code   string
		level  readiness.Level
		change func(*ready)
	}{
		{"before-moving", readiness.Practise, func(r *ready) { r.item("saf-one").BeforeMoving = true; r.answer("saf-one", "") }},
		{"untested-practise", readiness.Accompanied, func(r *ready) { open(r, checklist.LimitPractise) }},
		{"control-practise", readiness.Accompanied, func(r *ready) { r.in.Access.PractiseOnly = true }},
		{"untested-accompanied", readiness.HomeGround, func(r *ready) { open(r, checklist.LimitAccompanied) }},
		{"untested-home-ground", readiness.WiderGround, func(r *ready) { open(r, checklist.LimitHomeGround) }},
	} {
		r := newReady()
		c.change(r)
		if g, ok := gateOf(r.judge(), c.code); !ok || g.Met || g.Level != c.level {
			t.Errorf("%s: %+v, %v; want one of %v that is not met", c.code, g, ok, c.level)
		}
	}
}

// open leaves an item open that raises an effect while it is.
func open(r *ready, effect string) {
	r.item("saf-one").Effects = []checklist.Effect{{Effect: effect, When: []checklist.Condition{{States: []string{checklist.StateNotTested}}}}}
	r.answer("saf-one", "")
}

// without takes an item out of the checklist, or a section by its code.
func (r *ready) without(id string) {
	at, place := 0, -1
	for s := range r.set.Sections {
		var kept []checklist.Item
		for _, item := range r.set.Sections[s].Items {
			if item.ID == id {
				place = at
			} else {
				kept = append(kept, item)
			}
			at++
		}
		r.set.Sections[s].Items = kept
	}
	r.in.Heads = slices.DeleteFunc(r.in.Heads, func(h readiness.Head) bool { return h.Item == place })
	for i := range r.in.Heads {
		if r.in.Heads[i].Item > place {
			r.in.Heads[i].Item--
		}
	}
}

// TestAChecklistWithoutWhatALevelAsks never gives that level, and says what it lacks.
func TestAChecklistWithoutWhatALevelAsks(t *testing.T) {
	for _, c := range []struct {
		id, code, say string
		level         readiness.Level
	}{
		{"mnt-stop", "stop-shown", "readiness.no-item-stop id=mnt-stop", readiness.None},
		{"hnd-teach", "teach-back", "readiness.no-item-teach id=hnd-teach", readiness.Practise},
		{"hnd-limits", "limits-written", "readiness.no-item-limits id=hnd-limits", readiness.Practise},
		{"out-help", "outdoor-help", "readiness.no-item-help id=out-help", readiness.HomeGround},
	} {
		r := newReady()
		r.without(c.id)
		result := r.judge()
		g, _ := gateOf(result, c.code)
		if got := g.Say.String(); g.Met || got != c.say || result.Level != c.level {
			t.Errorf("without %s: met %v, %s, %v; want %s, %v", c.id, g.Met, got, result.Level, c.say, c.level)
		}
	}
	for _, c := range []struct{ section, code, say string }{
		{"per", "score-per", "readiness.no-section section=per level=home-ground"}, {"out", "outdoor-items", "readiness.no-section-out id=out"},
	} {
		r := newReady()
		r.set.Sections[slices.Index(sections, c.section)].Code = "other"
		g, _ := gateOf(r.judge(), c.code)
		if got := g.Say.String(); g.Met || got != c.say {
			t.Errorf("without the section %s: met %v, %s, want %s", c.section, g.Met, got, c.say)
		}
	}
}

// TestAPauseStaysAPause beside a stop that nobody looked at: the refused control forbids.
func TestAPauseStaysAPause(t *testing.T) {
	r := newReady()
	r.answer("mnt-stop", "")
	r.in.Access.Indoors = access.NotFeasible
	result := r.judge()
	if result.Level != readiness.Pause || result.Say.Arg("why").Messages[0].Code != "readiness.control" {
		t.Errorf("%v: %s", result.Level, result.Say.String())
	}
}

// TestWhatTheConditionsAskIsSaid with the figures of TRADE.md 5.2.
func TestWhatTheConditionsAskIsSaid(t *testing.T) {
	for _, c := range []struct {
		code   string
		change func(*ready)
		met    bool
		want   string
	}{
		{"teach-back", func(*ready) {}, true, "readiness.taught answer=[value.of value=5 places=0 of=5] least=3"},
		{"teach-back", func(r *ready) { r.head("hnd-teach").Number = decimal.Int(2) }, false, "readiness.not-taught item=hnd-teach answer=[value.of value=2 places=0 of=5] least=3"},
		{"outdoor-help", func(*ready) {}, true, "readiness.outdoor-help item=out-help answer=[answer.level level=4]"},
		{"outdoor-help", func(r *ready) { r.answer("out-help", "") }, false, "readiness.outdoor-help item=out-help answer=[answer.not-tested]"},
		{"score-hom", func(*ready) {}, true, "readiness.score section=hom score=100 least=65"},
		{"score-hom", func(r *ready) { r.answer("hom-one", "0") }, false, "readiness.score section=hom score=0 least=65"},
		{"score-hom", func(r *ready) { r.answer("hom-one", "") }, false, "readiness.score-range section=hom low=0 high=100 least=65 covered=0 asked=90"},
		{"score-hom", func(r *ready) { r.head("hom-one").State = readiness.NotApplicable }, false, "readiness.score-nothing section=hom least=65"},
		{"score-hom", func(r *ready) { // 85 of 100 answered, and those at their best
			r.item("hom-one").Weight = 85
			r.add("hom", checklist.Item{ID: "hom-two", Type: checklist.TypeHelp, Weight: 15}, readiness.Head{})
		}, false, "readiness.score-thin section=hom score=100 least=65 covered=85 asked=90"},
		{"score-hom", func(r *ready) { // 95 of 100 answered, of which 62 are well: 62 with what is open, and 65.3 without
			r.item("hom-one").Weight = 62
			r.add("hom", checklist.Item{ID: "hom-two", Type: checklist.TypeHelp, Weight: 33}, readiness.Head{Level: "0"})
			r.add("hom", checklist.Item{ID: "hom-three", Type: checklist.TypeHelp, Weight: 5}, readiness.Head{})
		}, false, "readiness.score-untested section=hom low=62 least=65"},
		{"score-hom", func(r *ready) { // 60 of 95: 63.2
			r.item("hom-one").Weight = 60
			r.add("hom", checklist.Item{ID: "hom-two", Type: checklist.TypeHelp, Weight: 35}, readiness.Head{Level: "0"})
			r.add("hom", checklist.Item{ID: "hom-three", Type: checklist.TypeHelp, Weight: 5}, readiness.Head{})
		}, false, "readiness.score section=hom score=63 least=65"},
	} {
		r := newReady()
		c.change(r)
		g, _ := gateOf(r.judge(), c.code)
		if got := g.Say.String(); g.Met != c.met || got != c.want {
			t.Errorf("%s: met %v, %s; want %v, %s", c.code, g.Met, got, c.met, c.want)
		}
	}
}

// TestUpToFourItemsAreNamed, and how many more there are.
func TestUpToFourItemsAreNamed(t *testing.T) {
	for n, want := range map[int]string{
		0: "readiness.stops-answered",
		1: "readiness.stops-open open=1 items=[readiness.items items=saf-x0]",
		4: "readiness.stops-open open=4 items=[readiness.items items=saf-x0,saf-x1,saf-x2,saf-x3]",
		5: "readiness.stops-open open=5 items=[readiness.items-more items=saf-x0,saf-x1,saf-x2,saf-x3 more=1]",
		6: "readiness.stops-open open=6 items=[readiness.items-more items=saf-x0,saf-x1,saf-x2,saf-x3 more=2]",
	} {
		r := newReady()
		for i := range n {
			r.add("saf", checklist.Item{ID: fmt.Sprintf("saf-x%d", i), Type: checklist.TypeYesNo, Weight: 1,
				Effects: []checklist.Effect{{Effect: checklist.Stop, When: []checklist.Condition{{Levels: []string{"no"}}}}}}, readiness.Head{})
		}
		g, _ := gateOf(r.judge(), "stops-answered")
		if got := g.Say.String(); got != want || g.Met != (n == 0) {
			t.Errorf("%d open: met %v, %s, want %s", n, g.Met, got, want)
		}
	}
}

// TestALevelIsInterimAloneWithTooFewRuns: from Home ground on (TRADE.md 5.2), and what
// is said of a level names the next one's condition that fails.
func TestALevelIsInterimAloneWithTooFewRuns(t *testing.T) {
	for _, c := range []struct {
		name    string
		change  func(*ready)
		level   readiness.Level
		interim bool
		say     string
	}{
		{"all", func(*ready) {}, readiness.WiderGround, false, "readiness.level-top"},
		{"one run", func(r *ready) { r.in.Trial.Drives = 1 }, readiness.HomeGround, true, "readiness.level-interim"},
		{"one run, and marginal", func(r *ready) { r.in.Trial.Drives, r.in.Access.Indoors = 1, access.Marginal }, readiness.Accompanied, false, "readiness.level"},
		{"two runs, and marginal outdoors", func(r *ready) { r.in.Access.Outdoors = access.Marginal }, readiness.HomeGround, false, "readiness.level"},
		{"no control", func(r *ready) { r.in.Setup = nil }, readiness.None, false, "readiness.level-none"},
		{"no stop", func(r *ready) { r.answer("mnt-stop", "no") }, readiness.Pause, false, "readiness.level"},
		{"no stop and no control", func(r *ready) { r.answer("mnt-stop", "no"); r.in.Setup = nil }, readiness.Pause, false, "readiness.level"},
	} {
		r := newReady()
		c.change(r)
		result := r.judge()
		if result.Level != c.level || result.Interim != c.interim || result.Say.Code != c.say {
			t.Errorf("%s: %v, interim %v, %s; want %v, %v, %s", c.name, result.Level, result.Interim, result.Say.Code, c.level, c.interim, c.say)
		}
		if next := result.Say.Arg("next"); next != nil && next.Word != max(result.Level+1, readiness.Practise).String() {
			t.Errorf("%s: next is %s", c.name, next.Word)
		}
	}
}

// TestWhyADecisionIsRefused, in this order (TRADE.md 5.4).
func TestWhyADecisionIsRefused(t *testing.T) {
	grave := func(r *ready) {
		r.item("saf-one").Effects = []checklist.Effect{{Effect: checklist.Stop, When: []checklist.Condition{{Levels: []string{"0"}}}}}
	}
	for _, c := range []struct {
		name   string
		level  readiness.Level
		change func(*ready)
		want   string
	}{
		{"a pause", readiness.Practise, func(r *ready) { r.answer("mnt-stop", "no") }, "readiness.refuse-pause"},
		{"no level yet", readiness.Practise, func(r *ready) { r.in.Setup = nil }, "readiness.refuse-none"},
		{"a pause where there is no level yet", readiness.Pause, func(r *ready) { r.in.Setup = nil }, ""},
		{"a STOP", readiness.Practise, func(r *ready) { grave(r); r.answer("saf-one", "0") }, "readiness.refuse-stop"},
		{"a STOP that is open", readiness.Accompanied, func(r *ready) { grave(r); r.answer("saf-one", "") }, "readiness.refuse-open"},
		{"two levels", readiness.WiderGround, func(r *ready) { r.in.Access.Indoors = access.Marginal }, "readiness.refuse-far"},
		{"one level", readiness.HomeGround, func(r *ready) { r.in.Access.Indoors = access.Marginal }, ""},
		{"lower", readiness.Pause, func(*ready) {}, ""},
		{"without a reason", readiness.Pause, func(r *ready) { r.in.Override.Reason = "" }, "readiness.refuse-reason"},
	} {
		r := newReady()
		r.in.Override = &readiness.Override{Level: c.level, Reason: "other", TextLength: 20, Mitigation: true, Agreed: true, From: 20_000, Until: 20_028}
		c.change(r)
		ruling := r.judge().Ruling
		var why message.Message
		if arg := ruling.Say.Arg("why"); arg != nil {
			why = arg.Messages[0]
		}
		if ruling.Accepted != (c.want == "") || why.Code != c.want {
			t.Errorf("%s: accepted %v, %s; want %q", c.name, ruling.Accepted, why.String(), c.want)
		}
	}
}
