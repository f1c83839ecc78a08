package readiness_test

import (
	"fmt"
	"slices"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
)

// ready is a checklist with one item in every section that a level asks for,
// and answers with which nothing holds the level down (TRADE.md 5.2).
type ready struct {
	set *checklist.Definition
	in  readiness.Input
}

var sections = []string{"pos", "ctl", "mnt", "saf", "per", "ind", "out", "hom", "eqp", "hnd"}

func newReady() *ready {
	r := &ready{set: &checklist.Definition{}, in: readiness.Input{
		Setup: &strength.Setup{Site: "hand-right", OperateGF: 50}, Analysis: &strength.Analysis{},
		Trial: &trial.Findings{Drives: 2, Tired: 1}, Access: &access.Result{},
	}}
	for _, code := range sections {
		r.set.Sections = append(r.set.Sections, checklist.Section{Code: code, Title: code})
	}
	for _, code := range sections {
		r.add(code, checklist.Item{ID: code + "-one", Type: checklist.TypeHelp, Weight: 3}, readiness.Head{Level: "4"})
	}
	r.add("mnt", checklist.Item{ID: "mnt-stop", Type: checklist.TypeYesNo, Weight: 3}, readiness.Head{Level: "yes"})
	r.add("hnd", checklist.Item{ID: "hnd-teach", Type: checklist.TypeCount, Better: "high", Bands: bandsDownTo(5, 4, 3), Of: 5, Weight: 3, NA: true}, readiness.Head{Number: decimal.Int(5)})
	r.add("hnd", checklist.Item{ID: "hnd-limits", Type: checklist.TypeYesNo, Weight: 3}, readiness.Head{Level: "yes"})
	r.add("out", checklist.Item{ID: "out-help", Type: checklist.TypeHelp, Weight: 3}, readiness.Head{Level: "4"})
	for i := range 3 {
		r.add("out", checklist.Item{ID: fmt.Sprintf("out-%d", i), Type: checklist.TypeHelp, Weight: 1, NA: true}, readiness.Head{Level: "4"})
	}
	return r
}

// add puts an item at the end of its section; the heads keep their items.
func (r *ready) add(code string, item checklist.Item, head readiness.Head) {
	at, s := 0, slices.Index(sections, code)
	item.Title = item.ID
	for i := range s + 1 {
		at += len(r.set.Sections[i].Items)
	}
	for i := range r.in.Heads {
		if r.in.Heads[i].Item >= at {
			r.in.Heads[i].Item++
		}
	}
	r.set.Sections[s].Items = append(r.set.Sections[s].Items, item)
	head.Item = at
	if head.State == readiness.NotTested && (head.Level != "" || head.Number != 0) {
		head.State = readiness.Answered
	}
	r.in.Heads = append(r.in.Heads, head)
}

// head is the answer to an item.
func (r *ready) head(id string) *readiness.Head {
	place, ok := readiness.Compile(r.set).Find(id)
	if !ok {
		panic(id)
	}
	for i := range r.in.Heads {
		if r.in.Heads[i].Item == place {
			return &r.in.Heads[i]
		}
	}
	panic(id)
}

// item is an item of the checklist.
func (r *ready) item(id string) *checklist.Item {
	for s := range r.set.Sections {
		for i := range r.set.Sections[s].Items {
			if it := &r.set.Sections[s].Items[i]; it.ID == id {
				return it
			}
		}
	}
	panic(id)
}

func (r *ready) judge() readiness.Result { return readiness.Compile(r.set).Judge(r.in) }

// answer gives an item another level, or leaves it open when that is empty.
func (r *ready) answer(id, level string) {
	h := r.head(id)
	h.Level, h.State = level, readiness.Answered
	if level == "" {
		h.State = readiness.NotTested
	}
}

// failed is the code of the first gate of the next level that is not met.
func failed(result readiness.Result) string {
	for _, g := range result.Gates {
		if g.Level == max(result.Level+1, readiness.Practise) && !g.Met {
			return g.Code
		}
	}
	return ""
}

// TestWhatEachLevelAsks takes one thing away at a time (TRADE.md 5.2).
func TestWhatEachLevelAsks(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*ready)
		level  readiness.Level
		failed string
	}{
		{"nothing", func(*ready) {}, readiness.WiderGround, ""},
		{"a stop that is not shown", func(r *ready) { r.answer("mnt-stop", "no") }, readiness.Pause, "stop-shown"},
		{"a stop that is not tested", func(r *ready) { r.answer("mnt-stop", "") }, readiness.None, "stop-shown"},
		{"a stop that was shown and holds something down", func(r *ready) {
			r.item("mnt-stop").Effects = []checklist.Effect{{Effect: checklist.LimitHomeGround, When: []checklist.Condition{{Levels: []string{"yes"}}}}}
		}, readiness.Pause, "stop-shown"},
		{"a control that is refused", func(r *ready) { r.in.Access.Indoors = access.NotFeasible }, readiness.Pause, "control"},
		{"a control that is not judged", func(r *ready) { r.in.Access.Indoors = access.Unknown }, readiness.Practise, "control-known"},
		{"a marginal control", func(r *ready) { r.in.Access.Indoors = access.Marginal }, readiness.Accompanied, "control-feasible"},
		{"marginal outdoors", func(r *ready) { r.in.Access.Outdoors = access.Marginal }, readiness.HomeGround, "control-outdoors"},
		{"no control chosen", func(r *ready) { r.in.Setup = nil }, readiness.None, "control-chosen"},
		{"a control for practice", func(r *ready) { r.in.Access.PractiseOnly = true }, readiness.Practise, "control-practise"},
		{"two things shown back", func(r *ready) { r.head("hnd-teach").Number = decimal.Int(2) }, readiness.Practise, "teach-back"},
		{"three things shown back", func(r *ready) { r.head("hnd-teach").Number = decimal.Int(3) }, readiness.WiderGround, ""},
		{"nobody to teach", func(r *ready) {
			r.head("hnd-teach").State = readiness.NotApplicable
		}, readiness.WiderGround, ""},
		{"limits not written", func(r *ready) { r.answer("hnd-limits", "no") }, readiness.Practise, "limits-written"},
		{"one run", func(r *ready) { r.in.Trial.Drives = 1 }, readiness.HomeGround, "runs"},
		{"no tired run", func(r *ready) { r.in.Trial.Tired = 0 }, readiness.HomeGround, "runs"},
		{"four outdoor items answered", func(r *ready) { r.head("out-0").State = readiness.NotApplicable }, readiness.HomeGround, "outdoor-items"},
		{"no help away from home", func(r *ready) { r.answer("out-help", "") }, readiness.HomeGround, "score-out"},
	} {
		r := newReady()
		c.change(r)
		result := r.judge()
		if result.Level != c.level || failed(result) != c.failed {
			t.Errorf("%s: %v, because of %q; want %v, %q", c.name, result.Level, failed(result), c.level, c.failed)
		}
	}
}

// gates are the least scores of TRADE.md 5.2. They add up from level to level.
var gates = map[string][3]int{
	"pos": {60, 70, 70}, "ctl": {55, 70, 70}, "mnt": {60, 75, 75}, "saf": {60, 80, 85}, "per": {0, 75, 80},
	"ind": {50, 80, 80}, "out": {0, 0, 80}, "hom": {0, 65, 65}, "eqp": {70, 80, 80}, "hnd": {0, 75, 75},
}

// TestScoresThatLevelsAsk gives one section each possible score around its
// gates: a hundred weights of items that are worth all or nothing.
func TestScoresThatLevelsAsk(t *testing.T) {
	for code, least := range gates {
		for _, score := range []int{0, least[0] - 1, least[0], least[1] - 1, least[1], least[2] - 1, least[2], 100} {
			if score < 0 {
				continue
			}
			r := newReady()
			items := &r.set.Sections[slices.Index(sections, code)].Items
			for i := range *items {
				(*items)[i].Weight = 0 // what the level needs by name stays, and does not count
			}
			for i := range 100 {
				level := "no"
				if i < score {
					level = "yes"
				}
				r.add(code, checklist.Item{ID: fmt.Sprintf("%s-x%d", code, i), Type: checklist.TypeYesNo, Weight: 1}, readiness.Head{Level: level})
			}
			want := readiness.WiderGround
			for l := len(least) - 1; l >= 0; l-- {
				if score < least[l] {
					want = readiness.Practise + readiness.Level(l)
				}
			}
			if got := r.judge().Level; got != want {
				t.Errorf("%s at %d: %v, want %v", code, score, got, want)
			}
		}
	}
}

// TestCoverageThatLevelsAsk: a gate asks for 90 % of the weight, a score by
// itself for 80 % (TRADE.md 5.1 and 5.2).
func TestCoverageThatLevelsAsk(t *testing.T) {
	for answered, want := range map[int]struct {
		level readiness.Level
		score bool
	}{100: {readiness.WiderGround, true}, 90: {readiness.WiderGround, true}, 89: {readiness.Practise, true}, 80: {readiness.Practise, true}, 79: {readiness.Practise, false}} {
		r := newReady()
		r.item("eqp-one").Weight = 0
		for i := range 100 {
			level := "yes"
			if i >= answered {
				level = ""
			}
			r.add("eqp", checklist.Item{ID: fmt.Sprintf("eqp-x%d", i), Type: checklist.TypeYesNo, Weight: 1}, readiness.Head{Level: level})
		}
		result := r.judge()
		d := result.Domains[slices.Index(sections, "eqp")]
		if result.Level != want.level || d.HasScore != want.score || d.Coverage != answered || d.Low != answered || d.High != 100 {
			t.Errorf("%d %% answered: %v, %+v", answered, result.Level, d)
		}
	}
}

// TestBandsOfAnyNumber: what the standard checklist does not use is spaced
// evenly.
func TestBandsOfAnyNumber(t *testing.T) {
	for bounds, want := range map[int][]int{1: {100, 0}, 5: {100, 80, 60, 40, 20, 0}, 10: {100, 90, 80, 70, 60, 50, 40, 30, 20, 10, 0}} {
		item := checklist.Item{ID: "ind-one", Title: "One", Type: checklist.TypeCount, Better: "low", Weight: 1}
		var list []float64
		for b := range bounds {
			list = append(list, float64(b))
		}
		item.Bands = bandsDownTo(list...)
		for value, points := range want {
			r := judged("ind", []checklist.Item{item}, []readiness.Head{{State: readiness.Answered, Number: decimal.Int(value)}})
			if a := r.Answers[0]; a.Points != points || a.Band != value+1 {
				t.Errorf("%d of %d bands: worth %d in band %d, want %d", value+1, bounds+1, a.Points, a.Band, points)
			}
		}
	}
}

// TestValuesAsTheyAreShown: with "of", a unit, or none.
func TestValuesAsTheyAreShown(t *testing.T) {
	for _, c := range []struct {
		of   int
		unit string
		want string
	}{{6, "", "5 of 6"}, {1, "", "5 of 1"}, {0, "", "5"}, {0, "ratio", "5"}, {0, "mm", "5 mm"}, {0, "s", "5 s"}, {0, "1 in x", "1 in 5"}, {0, "times", "5 times"}, {0, "0-10", "5 of 10"}} {
		set := &checklist.Definition{Sections: []checklist.Section{{Code: "ind", Items: []checklist.Item{{ID: "ind-one", Type: checklist.TypeCount, Of: c.of, Unit: c.unit, Bands: bandsDownTo(1), Weight: 1}}}}}
		if got := english(readiness.Compile(set).Shown(0, decimal.Int(5))); got != c.want {
			t.Errorf("%+v: %q", c, got)
		}
	}
}

// TestAShortDecisionMayEndOnItsFirstDay (TRADE.md 5.4 only asks for an end
// within four weeks).
func TestAShortDecisionMayEndOnItsFirstDay(t *testing.T) {
	for until, want := range map[int]bool{19_999: false, 20_000: true, 20_028: true, 20_029: false} {
		r := newReady()
		r.in.Access.Indoors = access.Marginal
		r.in.Override = &readiness.Override{Level: readiness.HomeGround, Reason: "other", TextLength: 20, Mitigation: true, Agreed: true, From: 20_000, Until: until}
		if got := r.judge().Ruling.Accepted; got != want {
			t.Errorf("until day %d: accepted %v, want %v", until, got, want)
		}
	}
}

// missing names what is missing: items by id, readings by what they are of.
func (r *ready) missing(result readiness.Result) []string {
	list := readiness.Compile(r.set)
	var names []string
	for _, m := range result.Missing {
		switch {
		case m.Item >= 0 && m.Reading == nil:
			names = append(names, m.Group+" "+list.At(m.Item).ID)
		case m.Item == -1 && m.Reading != nil:
			names = append(names, m.Group+" "+m.Reading.What+" "+m.Reading.Direction)
		default:
			names = append(names, fmt.Sprintf("item %d and reading %v", m.Item, m.Reading))
		}
	}
	return names
}

// TestWhatIsMissing: either an item or a reading, sorted by how much it is
// needed.
func TestWhatIsMissing(t *testing.T) {
	r := newReady()
	r.in.Setup = nil
	r.in.Trial.Tired = 0
	r.item("eqp-one").Effects = []checklist.Effect{{Effect: checklist.Stop, When: []checklist.Condition{{Levels: []string{"0"}}}}}
	for _, id := range []string{"eqp-one", "per-one", "hom-one", "hnd-teach", "hnd-limits"} {
		r.answer(id, "")
		r.head(id).Number = 0
	}
	r.item("hom-one").Group = checklist.GroupNeed
	result := r.judge()
	want := []string{"first setup ", "stop eqp-one", "needed hom-one", "needed hnd-teach", "needed hnd-limits", "useful per-one", "useful run "}
	if got := r.missing(result); result.Level != readiness.None || !slices.Equal(got, want) {
		t.Errorf("%v; missing %q\nwant %q", result.Level, got, want)
	}
}

// TestReadingsThatAreMissing: a needed direction without any, and the weakest
// without tired ones; tired ones are not asked of the others.
func TestReadingsThatAreMissing(t *testing.T) {
	r := newReady()
	setup := &strength.Setup{Class: "small", Site: "hand-right", OperateGF: 50, Needed: []strength.Direction{strength.Forward, strength.Reverse, strength.Left, strength.Right}}
	var readings []strength.Reading
	take := func(d strength.Direction, tired bool, n int) {
		for range n {
			readings = append(readings, strength.Reading{What: strength.Force, Site: "hand-right", Direction: d, Tired: tired, Supported: true, Value: 200})
		}
	}
	take(strength.Forward, false, 3)
	take(strength.Forward, true, 3)
	take(strength.Reverse, false, 3)
	take(strength.Left, false, 3)
	take(strength.Left, true, 2)
	analysis := strength.Analyse(readings, setup)
	r.in.Setup, r.in.Analysis = setup, &analysis
	want := []string{"needed force reverse", "needed force right"}
	if got := r.missing(r.judge()); !slices.Equal(got, want) {
		t.Errorf("missing %q\nwant %q", got, want)
	}
	setup.OperateGF = 0
	if got := r.missing(r.judge()); len(got) != 0 {
		t.Errorf("a control that asks for no force: missing %q", got)
	}
}

// TestLevelsByTheirID: what is no level can not lift anybody above a pause.
func TestLevelsByTheirID(t *testing.T) {
	for id, want := range map[string]readiness.Level{"none": readiness.None, "pause": readiness.Pause, "practise": readiness.Practise, "accompanied": readiness.Accompanied,
		"home-ground": readiness.HomeGround, "wider-ground": readiness.WiderGround, "fast": readiness.Pause, "": readiness.Pause} {
		if got := readiness.LevelOf(id); got != want {
			t.Errorf("%q: %v, want %v", id, got, want)
		}
	}
}
