package readiness_test

import (
	"slices"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/readiness"
)

// TestNoLevelYet: what must be known before moving and is not known gives no
// level, and whatever forbids driving stays a pause beside it.
func TestNoLevelYet(t *testing.T) {
	asked := func(r *ready) { r.item("saf-one").BeforeMoving = true }
	open := func(r *ready) { asked(r); r.answer("saf-one", "") }
	for _, c := range []struct {
		name   string
		change func(*ready)
		level  readiness.Level
		failed string
	}{
		{"all is answered", asked, readiness.WiderGround, ""},
		{"one is open", open, readiness.None, "before-moving"},
		{"one waits for a choice with not tested", func(r *ready) {
			asked(r)
			r.in.Heads = append(r.in.Heads, readiness.Head{Item: r.head("saf-one").Item})
		}, readiness.None, "before-moving"},
		{"one that limits waits for a choice with not tested", func(r *ready) {
			asked(r)
			r.raises("saf-one", checklist.LimitAccompanied)
			r.in.Heads = append(r.in.Heads, readiness.Head{Item: r.head("saf-one").Item})
		}, readiness.None, "before-moving"},
		{"not tested waits for a choice with one that limits", func(r *ready) {
			asked(r)
			r.raises("saf-one", checklist.LimitAccompanied)
			r.in.Heads = append([]readiness.Head{{Item: r.head("saf-one").Item}}, r.in.Heads...)
		}, readiness.None, "before-moving"},
		{"one does not apply", func(r *ready) {
			asked(r)
			r.head("saf-one").State = readiness.NotApplicable
			r.add("saf", checklist.Item{ID: "saf-two", Type: checklist.TypeHelp, Weight: 3}, readiness.Head{Level: "4"})
		}, readiness.WiderGround, ""},
		{"one is open and there is no stop", func(r *ready) { open(r); r.answer("mnt-stop", "no") }, readiness.Pause, "stop-shown"},
		{"one is open and the control is refused", func(r *ready) { open(r); r.in.Access.Indoors = access.NotFeasible }, readiness.Pause, "control"},
		{"one is open beside a STOP", func(r *ready) {
			open(r)
			r.item("pos-one").Effects = []checklist.Effect{{Effect: checklist.Stop, When: []checklist.Condition{{Levels: []string{"4"}}}}}
		}, readiness.Pause, "stop"},
		{"nothing at all", func(r *ready) { r.in.Heads, r.in.Setup = nil, nil }, readiness.None, "stop-shown"},
	} {
		r := newReady()
		c.change(r)
		result := r.judge()
		if result.Level != c.level || failed(result) != c.failed {
			t.Errorf("%s: %v, because of %q; want %v, %q", c.name, result.Level, failed(result), c.level, c.failed)
		}
	}
}

// TestWhatIsOpenBeforeMovingIsListedFirst: in what is missing, on the way up, and
// in the sentence.
func TestWhatIsOpenBeforeMovingIsListedFirst(t *testing.T) {
	r := newReady()
	for _, id := range []string{"pos-one", "saf-one"} {
		r.item(id).BeforeMoving = true
		r.answer(id, "")
	}
	r.answer("eqp-one", "")
	r.in.Setup = nil
	result := r.judge()
	if got, want := r.missing(result)[:3], []string{"first setup ", "first pos-one", "first saf-one"}; !slices.Equal(got, want) {
		t.Errorf("missing %q, want first %q", got, want)
	}
	var steps []string
	for _, s := range result.Up {
		steps = append(steps, english(s.Say))
	}
	want := []string{
		"Answer “pos-one”. It must be known before anybody drives.", "Answer “saf-one”. It must be known before anybody drives.", "Choose a control and a site.",
	}
	if !slices.Equal(steps, want) {
		t.Errorf("steps %q, want %q", steps, want)
	}
	const say = "No level yet: too little is known to say how much support driving needs, and nobody drives yet. Not answered yet, and asked before anybody drives: pos-one, saf-one."
	if got := english(result.Say); got != say {
		t.Errorf("%q, want %q", got, say)
	}
}

// TestNobodyDecidesWhereThereIsNoLevel: but for a pause, which can always be
// decided.
func TestNobodyDecidesWhereThereIsNoLevel(t *testing.T) {
	for level, want := range map[readiness.Level]bool{readiness.Pause: true, readiness.Practise: false, readiness.Accompanied: false} {
		r := newReady()
		r.answer("mnt-stop", "")
		r.in.Override = &readiness.Override{Level: level, Reason: "other", TextLength: 20, Mitigation: true, Agreed: true, From: 20_000, Until: 20_001}
		if got := r.judge().Ruling; got.Accepted != want {
			t.Errorf("%v: accepted %v, want %v: %s", level, got.Accepted, want, english(got.Say))
		}
	}
}
