package readiness_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/readiness"
)

// help is an item of a section, of which a level is worth 100, 85, 55, 20 or 0.
func help(id string, weight int, effects ...checklist.Effect) checklist.Item {
	return checklist.Item{ID: id, Type: checklist.TypeHelp, Weight: weight, Effects: effects}
}

// TestWhatClearsAnItemOfASection: an answer that the score wants, too, is asked whatever
// is beside it, and one that it does not want may stay where what is beside it goes. Of
// "pos" 60 are asked, which 59.5 are rounded to.
func TestWhatClearsAnItemOfASection(t *testing.T) {
	beside := func(levels ...string) []checklist.Effect {
		return raises(checklist.LimitPractise, checklist.Condition{Levels: levels, Facts: []string{"seen"}})
	}
	missed := raises(checklist.LimitPractise, checklist.Condition{Facts: []string{checklist.FactReleaseMissed}})
	for _, c := range []struct {
		name   string
		change func(*ready)
		want   []string
	}{
		{"14 at 85 are just enough of 20", func(r *ready) {
			r.add("pos", help("pos-two", 14), readiness.Head{Level: "3"})
			r.add("pos", help("pos-three", 3), readiness.Head{Level: "0"})
			r.add("pos", help("pos-four", 3, beside("0")...), readiness.Head{Level: "0", Facts: said("seen=1")})
		}, []string{"pos-four readiness.clear-either item=pos-four answer=[answer.level level=0] fact=[fact.asked fact=seen] option=[option.level-least level=1] effect=limit:practise"}},
		{"and with 20 beside them", func(r *ready) { // 20 become 55, of which 35 are new
			r.add("pos", help("pos-two", 14), readiness.Head{Level: "3"})
			r.add("pos", help("pos-three", 3), readiness.Head{Level: "0"})
			r.add("pos", help("pos-four", 3, beside("0", "1")...), readiness.Head{Level: "1", Facts: said("seen=1")})
		}, []string{"pos-four readiness.clear-either item=pos-four answer=[answer.level level=1] fact=[fact.asked fact=seen] option=[option.level-least level=2] effect=limit:practise"}},
		{"two items of one section", func(r *ready) {
			r.add("pos", help("pos-two", 14), readiness.Head{Level: "4"})
			r.add("pos", help("pos-three", 3, beside("0")...), readiness.Head{Level: "0", Facts: said("seen=1")})
			r.add("pos", help("pos-four", 3, beside("0", "1")...), readiness.Head{Level: "0", Facts: said("seen=1")})
		}, []string{
			"pos-three readiness.clear-either item=pos-three answer=[answer.level level=0] fact=[fact.asked fact=seen] option=[option.level-least level=1] effect=limit:practise",
			"pos-four readiness.clear-either item=pos-four answer=[answer.level level=0] fact=[fact.asked fact=seen] option=[option.level-least level=2] effect=limit:practise"}},
		{"90 answered of 101, of which 91 are 90 %, and a release that did not come", func(r *ready) {
			r.add("pos", help("pos-two", 90), readiness.Head{Level: "4"})
			r.add("pos", help("pos-three", 11, missed...), readiness.Head{})
			r.in.Analysis.Missed = 1
		}, []string{"pos-three readiness.clear-answer item=pos-three answer=[answer.not-tested] option=[option.any] effect=limit:practise"}},
		{"90 answered of 100", func(r *ready) {
			r.add("pos", help("pos-two", 90), readiness.Head{Level: "4"})
			r.add("pos", help("pos-three", 10, missed...), readiness.Head{})
			r.in.Analysis.Missed = 1
		}, []string{"pos-three readiness.clear-either item=pos-three answer=[answer.not-tested] fact=[fact.release-missed] option=[option.any] effect=limit:practise"}},
		// 120 of 8 beside one that is not tested and asked for any answer, and one of 3 at 0:
		// of 476 with 200 for the first, 156 are short, and level 2 brings 165.
		{"any answer to one, and one that must be better", func(r *ready) {
			for id, level := range map[string]string{"pos-two": "4", "pos-three": "1", "pos-four": "0"} {
				r.add("pos", help(id, 1), readiness.Head{Level: level})
			}
			r.add("pos", help("pos-five", 3), readiness.Head{Level: "0"})
			r.add("pos", help("pos-six", 2, raises(checklist.LimitPractise, checklist.Condition{States: []string{checklist.StateNotTested}})...), readiness.Head{})
		}, []string{"pos-six readiness.step-untested item=pos-six level=practise", "pos-five readiness.step-better item=pos-five answer=[answer.level level=0] option=[option.level-least level=2] section=pos"}},
		{"an answer of which worse ones raise nothing", func(r *ready) {
			r.add("pos", help("pos-two", 14), readiness.Head{Level: "4"})
			r.add("pos", help("pos-three", 3, beside("3")...), readiness.Head{Level: "3", Facts: said("seen=1")})
		}, []string{"pos-three readiness.clear-answer item=pos-three answer=[answer.level level=3] option=[option.any] effect=limit:practise"}},
	} {
		r := newReady()
		r.item("pos-one").Weight = 0
		c.change(r)
		if got := r.coded(); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %s\nwant %s", c.name, strings.Join(got, "\n     "), strings.Join(c.want, "\n     "))
		}
	}
}

// TestTheLeastAnswerThatIsAsked by each rule where it applies, and by none where it does
// not.
func TestTheLeastAnswerThatIsAsked(t *testing.T) {
	fact := func(effect, id string) checklist.Effect {
		return raises(effect, checklist.Condition{Facts: []string{id}})[0]
	}
	at := func(effect string, levels ...string) checklist.Effect {
		return raises(effect, checklist.Condition{Levels: levels})[0]
	}
	band := func(effect string, n int) []checklist.Effect {
		return raises(effect, checklist.Condition{Bands: []int{n}})
	}
	for _, c := range []struct {
		name   string
		change func(*ready)
		want   []string
	}{
		{"a fact alone that limits a later level", func(r *ready) {
			r.item("out-0").Effects = []checklist.Effect{at(checklist.LimitPractise, "0"), fact(checklist.LimitAccompanied, "loose")}
			r.answer("out-0", "0")
			r.head("out-0").Facts = said("loose=1")
		}, []string{"out-0 readiness.clear-answer item=out-0 answer=[answer.level level=0] option=[option.level-least level=1] effect=limit:practise"}},
		{"a fact alone that is not so", func(r *ready) {
			r.item("out-0").Effects = []checklist.Effect{at(checklist.LimitPractise, "0"), fact(checklist.LimitPractise, "loose")}
			r.answer("out-0", "0")
			r.head("out-0").Facts = said("loose=0")
		}, []string{"out-0 readiness.clear-answer item=out-0 answer=[answer.level level=0] option=[option.level-least level=1] effect=limit:practise"}},
		{"every answer raises, in a section that is not asked for", func(r *ready) {
			r.item("out-0").Effects = []checklist.Effect{at(checklist.LimitPractise, "4", "3", "2", "1", "0")}
			r.answer("out-0", "3")
		}, []string{"out-0 readiness.clear-answer item=out-0 answer=[answer.level level=3] option=[option.level level=4] effect=limit:practise"}},
		{"a control that is in the way for another reason", func(r *ready) {
			r.add("ctl", checklist.Item{ID: "ctl-pain", Type: checklist.TypeNumber, Better: "low", Bands: bandsDownTo(1, 3, 6), Unit: "0-10",
				Effects: band(checklist.LimitAccompanied, 4)}, readiness.Head{Number: decimal.Int(8)})
			r.in.Access.Indoors, r.in.Access.Outdoors, r.in.Access.Reasons = access.Marginal, access.Marginal, []access.Reason{reason("travel", access.Marginal)}
		}, []string{"ctl-pain readiness.clear-answer item=ctl-pain answer=[value.of value=8 places=0 of=10] option=[option.most value=[value.of value=6 places=0 of=10]] effect=limit:accompanied",
			"- readiness.step-control reason=[say.travel] change=[change.travel]"}},
		{"the limits, before they are asked for", func(r *ready) {
			it := r.item("hnd-limits")
			it.Type, it.Effects = checklist.TypeFit, []checklist.Effect{at(checklist.Stop, "0")}
			r.answer("hnd-limits", "0")
		}, []string{"hnd-limits readiness.clear-answer item=hnd-limits answer=[answer.level level=0] option=[option.level-least level=1] effect=stop"}},
		{"what is taught, before it is asked for", func(r *ready) {
			it := r.item("hnd-teach")
			it.Bands, it.Effects = bandsDownTo(5, 3, 1), band(checklist.Stop, 4)
			r.head("hnd-teach").Number = 0
		}, []string{"hnd-teach readiness.clear-answer item=hnd-teach answer=[value.of value=0 places=0 of=5] option=[option.least value=[value.of value=1 places=0 of=5]] effect=stop"}},
		{"what is taught, where four of five raise something", func(r *ready) {
			r.item("hnd-teach").Effects = band(checklist.LimitPractise, 2)
			r.head("hnd-teach").Number = decimal.Int(4)
		}, []string{"hnd-teach readiness.clear-answer item=hnd-teach answer=[value.of value=4 places=0 of=5] option=[option.least value=[value.of value=3 places=0 of=5]] effect=limit:practise"}},
		{"what is taught, in levels", func(r *ready) {
			it := r.item("hnd-teach")
			*it = help("hnd-teach", 3, at(checklist.LimitPractise, "0"))
			it.Title = it.ID
			r.head("hnd-teach").Level, r.head("hnd-teach").HasNumber, r.head("hnd-teach").Number = "0", false, 0
		}, []string{"hnd-teach readiness.clear-answer item=hnd-teach answer=[answer.level level=0] option=[option.level-least level=1] effect=limit:practise"}},
		{"another count, of which one is enough", func(r *ready) {
			r.add("out", checklist.Item{ID: "out-count", Type: checklist.TypeCount, Better: "high", Bands: bandsDownTo(2, 1), Of: 5, Weight: 1,
				Effects: band(checklist.LimitPractise, 3)}, readiness.Head{State: readiness.Answered, HasNumber: true})
		}, []string{"out-count readiness.clear-answer item=out-count answer=[value.of value=0 places=0 of=5] option=[option.least value=[value.of value=1 places=0 of=5]] effect=limit:practise"}},
	} {
		r := newReady()
		c.change(r)
		if got := r.coded(); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %s\nwant %s", c.name, strings.Join(got, "\n     "), strings.Join(c.want, "\n     "))
		}
	}
}
