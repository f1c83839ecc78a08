package readiness_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/message"
)

// coded are the steps to the next level: the item, or "-", and the message.
func (r *ready) coded() (steps []string) {
	list := readiness.Compile(r.set)
	for _, s := range r.judge().Up {
		id := "-"
		if s.Item >= 0 {
			id = list.At(s.Item).ID
		}
		steps = append(steps, id+" "+s.Say.String())
	}
	return steps
}

// timed is an item of a number that is measured, of which 30 and 10 s are the bounds.
func timed(effects ...checklist.Effect) checklist.Item {
	return checklist.Item{ID: "ctl-hold", Type: checklist.TypeNumber, Better: "high", Bands: bandsDownTo(30, 10), Unit: "s", From: checklist.FromHold, Weight: 1, Effects: effects}
}

// TestTheStepsToTheNextLevel name what it asks, and nothing that a later one asks.
func TestTheStepsToTheNextLevel(t *testing.T) {
	stop := raises(checklist.Stop, checklist.Condition{Levels: []string{"0"}})
	notTested := func(effect string) []checklist.Effect {
		return raises(effect, checklist.Condition{States: []string{checklist.StateNotTested}})
	}
	for _, c := range []struct {
		name   string
		change func(*ready)
		want   []string
	}{
		{"no stop, and nothing of what comes later", func(r *ready) {
			r.answer("mnt-stop", "no")
			r.head("hnd-teach").Number, r.in.Trial.Drives = decimal.Int(2), 1
			r.item("saf-one").Effects = stop
			r.answer("saf-one", "")
		}, []string{"mnt-stop readiness.step-stop"}},
		{"no control", func(r *ready) { r.in.Setup = nil }, []string{"- readiness.step-setup"}},
		{"what must be known before moving", func(r *ready) {
			for _, id := range []string{"mnt-stop", "saf-one", "per-one"} {
				r.item(id).BeforeMoving = true
			}
			r.answer("mnt-stop", "")
			r.answer("saf-one", "")
		}, []string{"saf-one readiness.step-before-moving item=saf-one", "mnt-stop readiness.step-stop"}},
		{"what must be known before moving and was seen to stop", func(r *ready) {
			r.item("saf-one").BeforeMoving = true
			r.item("saf-one").Effects = raises(checklist.Stop, checklist.Condition{Facts: []string{"seen"}})
			r.answer("saf-one", "")
			r.head("saf-one").Facts = said("seen=1")
		}, []string{"saf-one readiness.clear-both item=saf-one answer=[answer.not-tested] fact=[fact.asked fact=seen] option=[option.any] effect=stop"}},
		{"nothing shown back, and a run", func(r *ready) {
			r.head("hnd-teach").Number, r.in.Trial.Drives = decimal.Int(2), 1
			r.in.Analysis.Hold = measuredAs(60, false)
			r.add("ctl", timed(), readiness.Head{})
		},
			[]string{"hnd-teach readiness.step-teach least=3"}},
		{"too little shown back, which also limits the level", func(r *ready) {
			r.item("hnd-teach").Effects = raises(checklist.LimitPractise, checklist.Condition{Bands: []int{4}})
			r.head("hnd-teach").Number = decimal.Int(2)
		}, []string{"hnd-teach readiness.clear-answer item=hnd-teach answer=[value.of value=2 places=0 of=5] option=[option.least value=[value.of value=3 places=0 of=5]] effect=limit:practise"}},
		{"no limits written", func(r *ready) { r.answer("hnd-limits", "no") }, []string{"hnd-limits readiness.step-limits"}},
		{"nobody to teach in the checklist", func(r *ready) { r.without("hnd-teach") }, []string{"- readiness.no-item-teach id=hnd-teach"}},
		{"one run", func(r *ready) { r.in.Trial.Drives = 1 }, []string{"- readiness.step-drive runs=[readiness.runs-wanted drives=1 tired=1]"}},
		{"no help away from home", func(r *ready) { r.answer("out-help", "") }, []string{"out-help readiness.step-help"}},
		{"a place", func(r *ready) {
			r.in.Barriers = []readiness.Barrier{{Place: "p1", Answer: message.New("place.answer"), Say: message.New("place.say"), Clear: message.New("place.clear")}}
		}, []string{"- place.clear"}},
		{"a limit of which people differ", func(r *ready) {
			r.item("pos-one").Effects = raises(checklist.LimitPractise, checklist.Condition{Levels: []string{"4"}})
			r.in.Heads = append(r.in.Heads, readiness.Head{Item: r.head("pos-one").Item, State: readiness.Answered, Level: "3"})
		}, []string{"pos-one readiness.clear-choose item=pos-one answer=[answer.level level=4] effect=limit:practise"}},
		{"a limit with a question that is open", func(r *ready) {
			r.item("pos-one").Effects = raises(checklist.LimitPractise, checklist.Condition{Levels: []string{"4"}, Facts: []string{"loose"}})
		}, []string{"pos-one readiness.clear-question item=pos-one answer=[answer.level level=4] effect=limit:practise"}},
		{"a limit by a fact alone", func(r *ready) {
			r.item("pos-one").Effects = raises(checklist.LimitPractise, checklist.Condition{Facts: []string{"loose"}})
			r.head("pos-one").Facts = said("loose=1")
		}, []string{"pos-one readiness.clear-fact item=pos-one answer=[answer.level level=4] fact=[fact.asked fact=loose] effect=limit:practise"}},
		{"a limit by a fact alone, of the worst answer", func(r *ready) {
			r.item("pos-one").Effects = raises(checklist.LimitPractise, checklist.Condition{Facts: []string{"loose"}})
			r.item("pos-one").Weight = 0
			r.add("pos", checklist.Item{ID: "pos-two", Type: checklist.TypeHelp, Weight: 3}, readiness.Head{Level: "4"})
			r.answer("pos-one", "0")
			r.head("pos-one").Facts = said("loose=1")
		}, []string{"pos-one readiness.clear-fact item=pos-one answer=[answer.level level=0] fact=[fact.asked fact=loose] effect=limit:practise"}},
		{"what was not tested and would limit a later level", func(r *ready) {
			r.head("hnd-teach").Number = decimal.Int(2)
			for id, effect := range map[string]string{"per-one": checklist.LimitAccompanied, "out-0": checklist.LimitHomeGround} {
				r.item(id).Effects = notTested(effect)
				r.answer(id, "")
			}
		}, []string{"hnd-teach readiness.step-teach least=3"}},
		{"what was not tested", func(r *ready) {
			r.item("out-0").Effects = notTested(checklist.LimitAccompanied)
			r.answer("out-0", "")
		}, []string{"out-0 readiness.step-untested item=out-0 level=accompanied"}},
		{"what was not tested and can stop", func(r *ready) {
			r.item("out-0").Effects = append(notTested(checklist.LimitPractise), stop...)
			r.answer("out-0", "")
		}, []string{"out-0 readiness.step-known item=out-0"}},
		{"what was not measured and can stop", func(r *ready) {
			r.add("ctl", timed(raises(checklist.Stop, checklist.Condition{Bands: []int{3}})...), readiness.Head{})
			r.in.Analysis.Hold = quantity.Quantity{Say: message.New("test.no-hold")}
		}, []string{"ctl-hold readiness.step-known-computed item=ctl-hold why=[test.no-hold]"}},
		{"what was not measured", func(r *ready) {
			r.add("ctl", timed(notTested(checklist.LimitPractise)...), readiness.Head{})
			r.item("ctl-one").Weight = 20
			r.in.Analysis.Hold = quantity.Quantity{Say: message.New("test.no-hold")}
		}, []string{"ctl-hold readiness.step-untested-computed item=ctl-hold why=[test.no-hold] level=practise"}},
		{"what one tested and the other calls not applicable", func(r *ready) {
			r.item("out-0").Effects = notTested(checklist.LimitPractise)
			r.in.Heads = append(r.in.Heads, readiness.Head{Item: r.head("out-0").Item, State: readiness.NotApplicable})
		}, []string{"out-0 readiness.step-untested-choose item=out-0 level=practise"}},
		{"a control that is not known", func(r *ready) {
			r.in.Access.Indoors = access.Unknown
			r.in.Access.Reasons = []access.Reason{reason("pain", access.Marginal), reason("travel", access.Unknown)}
		}, []string{"- readiness.step-control reason=[say.travel] change=[change.travel]"}},
		{"a control whose rule goes with an item", func(r *ready) {
			r.add("ctl", timed(), readiness.Head{})
			r.item("ctl-one").Weight = 20
			rule := reason("hold", access.Marginal)
			rule.From = checklist.FromHold
			r.in.Access.Indoors, r.in.Access.Reasons = access.Marginal, []access.Reason{rule}
			r.in.Analysis.Hold = measuredAs(60, false)
		}, []string{"ctl-hold readiness.step-control reason=[say.hold] change=[change.hold]"}},
		{"a section of which nothing applies", func(r *ready) { r.head("hom-one").State = readiness.NotApplicable }, []string{"- readiness.score-nothing section=hom least=65"}},
		{"a section that the item named already lifts", func(r *ready) { // (0 + 55) / 2 is 28, at level 2 55 and at level 3 70; 60 is asked
			r.item("pos-one").Effects = raises(checklist.LimitPractise, checklist.Condition{Levels: []string{"0"}})
			r.answer("pos-one", "0")
			r.add("pos", checklist.Item{ID: "pos-two", Type: checklist.TypeHelp, Weight: 3}, readiness.Head{Level: "2"})
		}, []string{"pos-one readiness.clear-answer item=pos-one answer=[answer.level level=0] option=[option.level-least level=3] effect=limit:practise"}},
		{"a section that an open item named already lifts", func(r *ready) {
			r.item("pos-one").Effects = raises(checklist.LimitPractise, checklist.Condition{Levels: []string{"2"}})
			r.answer("pos-one", "2")
			r.in.Heads = append(r.in.Heads, readiness.Head{Item: r.head("pos-one").Item})
			r.add("pos", checklist.Item{ID: "pos-two", Type: checklist.TypeHelp, Weight: 3}, readiness.Head{Level: "2"})
		}, []string{"pos-one readiness.clear-choose item=pos-one answer=[answer.level level=2] effect=limit:practise"}},
		{"90 of 101 answered", func(r *ready) { // 91 are 90 %
			r.item("eqp-one").Weight = 90
			r.add("eqp", checklist.Item{ID: "eqp-two", Type: checklist.TypeHelp, Weight: 11}, readiness.Head{})
		}, []string{"eqp-two readiness.step-test item=eqp-two option=[option.any] section=eqp"}},
	} {
		r := newReady()
		c.change(r)
		if got := r.coded(); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %s\nwant %s", c.name, strings.Join(got, "\n     "), strings.Join(c.want, "\n     "))
		}
	}
}

// TestOfSetsOfOneSizeTheOneThatTestsMostAnew: six items at 55, four at 0 and one open come
// to 330 of 1100, and 60 % are 660: four of those that are worth nothing yet.
func TestOfSetsOfOneSizeTheOneThatTestsMostAnew(t *testing.T) {
	_, steps := withSection(1, append(times(6, "2"), times(4, "0")...)...).steps(t)
	anew := 0
	for _, s := range steps {
		if strings.Contains(s, ": Test ") {
			anew++
		}
	}
	if len(steps) != 4 || anew != 1 {
		t.Errorf("%d steps, %d of them new: %s", len(steps), anew, strings.Join(steps, "\n"))
	}
}

// TestWhatAnOptionAsks of a number: none or nothing above 0, and 0 or more.
func TestWhatAnOptionAsks(t *testing.T) {
	for _, c := range []struct{ kind, better, want string }{
		{checklist.TypeCount, "low", "option.none"}, {checklist.TypeNumber, "low", "option.most"}, {checklist.TypeCount, "high", "option.least"},
	} {
		r := newReady()
		r.add("pos", checklist.Item{ID: "pos-two", Type: c.kind, Better: c.better, Bands: bandsDownTo(0), Weight: 1,
			Effects: raises(checklist.LimitPractise, checklist.Condition{Bands: []int{2}})}, readiness.Head{State: readiness.Answered, HasNumber: true, Number: map[string]decimal.Micro{"low": 1, "high": -1}[c.better]})
		r.item("pos-one").Weight = 50
		for _, s := range r.judge().Up {
			if option := s.Say.Arg("option"); option == nil || option.Messages[0].Code != c.want {
				t.Errorf("%s, better %s: %s, want %s", c.kind, c.better, s.Say.String(), c.want)
			}
		}
	}
}

// TestHowMuchWhatIsMissingIsNeeded: first what nobody drives without, then what can stop,
// then what the next level asks.
func TestHowMuchWhatIsMissingIsNeeded(t *testing.T) {
	small := func(id string, effects ...checklist.Effect) checklist.Item {
		return checklist.Item{ID: id, Type: checklist.TypeHelp, Weight: 1, Effects: effects, NA: true}
	}
	untested := func(effect string) checklist.Effect {
		return raises(effect, checklist.Condition{States: []string{checklist.StateNotTested}})[0]
	}
	heavy := func(r *ready, codes ...string) {
		for _, code := range codes {
			r.item(code + "-one").Weight = 50
		}
	}
	for _, c := range []struct {
		name   string
		change func(*ready)
		want   []string
	}{
		{"parts beside the checklist", func(r *ready) {
			r.in.Blank = []string{readiness.BlankSettings, readiness.BlankHome, readiness.BlankConsent}
		},
			[]string{"first consent ", "needed home ", "useful settings "}},
		{"the stop", func(r *ready) { r.answer("mnt-stop", "") }, []string{"first mnt-stop"}},
		{"of a section that the next level asks, and of one that a later one asks", func(r *ready) {
			r.head("hnd-teach").Number = decimal.Int(2)
			heavy(r, "pos", "hom")
			r.add("pos", small("pos-two"), readiness.Head{})
			r.add("hom", small("hom-two"), readiness.Head{})
		}, []string{"needed pos-two", "useful hom-two"}},
		{"the same one level higher", func(r *ready) {
			r.in.Access.Indoors = access.Marginal
			heavy(r, "pos", "hom")
			r.add("pos", small("pos-two"), readiness.Head{})
			r.add("hom", small("hom-two"), readiness.Head{})
		}, []string{"needed pos-two", "needed hom-two"}},
		{"before any level", func(r *ready) {
			r.in.Setup = nil
			heavy(r, "pos", "hom")
			r.add("pos", small("pos-two"), readiness.Head{})
			r.add("hom", small("hom-two"), readiness.Head{})
		}, []string{"first setup ", "needed pos-two", "useful hom-two"}},
		{"what limits below the next level, and what does not", func(r *ready) {
			r.head("hnd-teach").Number = decimal.Int(2)
			r.add("per", small("per-two", untested(checklist.LimitPractise)), readiness.Head{})
			r.add("per", small("per-three", untested(checklist.LimitAccompanied)), readiness.Head{})
			r.add("per", small("per-four"), readiness.Head{})
		}, []string{"needed per-two", "useful per-three", "useful per-four"}},
	} {
		r := newReady()
		c.change(r)
		if got := r.missing(r.judge()); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// TestWhyAnItemIsMissing: of several reasons the one that says what to do.
func TestWhyAnItemIsMissing(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*ready)
		want   string
	}{
		{"nobody tested it", func(*ready) {}, "readiness.lack-item item=ctl-hold"},
		{"a setting was changed", func(r *ready) { r.in.Due = []string{"ctl-hold"} }, "readiness.due item=ctl-hold"},
		{"it is about another control", func(r *ready) { r.in.Unchosen = []string{"ctl-hold"} }, "readiness.lack-chosen item=ctl-hold"},
		{"it is measured", func(r *ready) { r.item("ctl-hold").From = checklist.FromHold }, "readiness.lack-computed item=ctl-hold why=[test.no-hold]"},
		{"people differ", func(r *ready) {
			at := r.head("ctl-hold").Item
			r.head("ctl-hold").State = readiness.NotApplicable
			r.in.Heads = append(r.in.Heads, readiness.Head{Item: at})
		}, "readiness.lack-disagreed item=ctl-hold"},
	} {
		r := newReady()
		item := timed()
		item.From, item.NA = "", true
		r.add("ctl", item, readiness.Head{})
		r.add("ctl", checklist.Item{ID: "ctl-two", Type: checklist.TypeHelp, Weight: 1}, readiness.Head{})
		r.in.Analysis.Hold = quantity.Quantity{Say: message.New("test.no-hold")}
		c.change(r)
		got := map[string]string{}
		for _, m := range r.judge().Missing {
			if m.Item >= 0 {
				got[readiness.Compile(r.set).At(m.Item).ID] = m.Say.String()
			}
		}
		if got["ctl-hold"] != c.want || got["ctl-two"] != "readiness.lack-item item=ctl-two" {
			t.Errorf("%s: %v, want %s", c.name, got, c.want)
		}
	}
}
