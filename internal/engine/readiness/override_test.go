package readiness

import (
	"reflect"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
	"doorsill/internal/message"
)

// at judges a checklist that asks only for the separate stop, so that the
// calculated level is Pause without and Practise with it, with an override.
func at(stopShown bool, o Override) Ruling {
	list := &checklist.Definition{Sections: []checklist.Section{{Code: "mnt", Title: "Switches", Items: []checklist.Item{
		{ID: "mnt-stop", Title: "Separate stop", Type: checklist.TypeYesNo, Weight: 3, Effects: []checklist.Effect{
			{Effect: checklist.Stop, When: []checklist.Condition{{Levels: []string{"no"}}}}}},
	}}}}
	h := Head{State: Answered, Level: "yes"}
	if !stopShown {
		h.Level = "no"
	}
	result := Compile(list).Judge(Input{Heads: []Head{h}, Setup: &strength.Setup{}, Analysis: &strength.Analysis{}, Trial: &trial.Findings{},
		Access: &access.Result{Indoors: access.Unknown}, Override: &o})
	return *result.Ruling
}

func TestOverrideLimits(t *testing.T) {
	full := Override{Level: Accompanied, Reason: "other", TextLength: 20, Mitigation: true, Agreed: true, From: 20000, Until: 20028}
	change := func(f func(*Override)) Override { o := full; f(&o); return o }
	calculated := map[bool]string{true: "practise", false: "pause"}
	for _, c := range []struct {
		name string
		stop bool
		o    Override
		want message.Message // empty when accepted, else why not
	}{
		{"one level up, complete", true, full, message.Message{}},
		{"lower, with nothing but a reason", true, Override{Level: Pause, Reason: "fluctuating", From: NoDay, Until: NoDay}, message.Message{}},
		{"the same level", true, Override{Level: Practise, Reason: "other", From: NoDay, Until: NoDay}, message.Message{}},
		{"lower without a reason", true, Override{Level: Pause}, message.New("readiness.refuse-reason")},
		{"two levels up", true, change(func(o *Override) { o.Level = HomeGround }), message.New("readiness.refuse-far", message.Word("level", "accompanied"))},
		{"nineteen characters", true, change(func(o *Override) { o.TextLength = 19 }), message.New("readiness.refuse-text", message.Count("least", 20), message.Count("length", 19))},
		{"no mitigation", true, change(func(o *Override) { o.Mitigation = false }), message.New("readiness.refuse-mitigation")},
		{"nobody agreed", true, change(func(o *Override) { o.Agreed = false }), message.New("readiness.refuse-agreed")},
		{"no start", true, change(func(o *Override) { o.From = NoDay }), message.New("readiness.refuse-from")},
		{"no end", true, change(func(o *Override) { o.Until = NoDay }), message.New("readiness.refuse-until")},
		{"29 days", true, change(func(o *Override) { o.Until = 20029 }), message.New("readiness.refuse-days", message.Count("most", 28), message.Count("days", 29))},
		{"ends before it starts", true, change(func(o *Override) { o.Until = 19999 }), message.New("readiness.refuse-order")},
		{"over a STOP", false, change(func(o *Override) { o.Level = Practise }), message.New("readiness.refuse-stop",
			message.Inner("items", message.New("readiness.items", message.Words("items", []string{"mnt-stop"}))))},
	} {
		r := at(c.stop, c.o)
		want := message.New("readiness.decision", message.Word("decided", c.o.Level.String()), message.Word("level", calculated[c.stop]))
		if !c.want.Empty() {
			want.Code = "readiness.decision-refused"
			want.Args = append(want.Args, message.Inner("why", c.want))
		}
		if r.Accepted != c.want.Empty() || !reflect.DeepEqual(r.Say, want) {
			t.Errorf("%s: accepted %v, %+v; want %+v", c.name, r.Accepted, r.Say, want)
		}
	}
}

// TestRefusalsInWords: each says what was expected, with the numbers.
func TestRefusalsInWords(t *testing.T) {
	const start = "The decision for Accompanied does not stand. Calculated: Practise. "
	full := Override{Level: Accompanied, Reason: "other", TextLength: 20, Mitigation: true, Agreed: true, From: 20000, Until: 20028}
	for want, change := range map[string]func(*Override){
		start + "Choose a reason from the list.":                                                  func(o *Override) { o.Reason = "" },
		start + "Explain in at least 20 characters; there are 19.":                                func(o *Override) { o.TextLength = 19 },
		start + "Say what makes it safe meanwhile.":                                               func(o *Override) { o.Mitigation = false },
		start + "Say who agreed.":                                                                 func(o *Override) { o.Agreed = false },
		start + "Give the date from which it holds.":                                              func(o *Override) { o.From = NoDay },
		start + "Give an end date within four weeks.":                                             func(o *Override) { o.Until = NoDay },
		start + "The end date lies before the start.":                                             func(o *Override) { o.Until = 19999 },
		start + "The end date may lie at most four weeks (28 days) after the start, not 29 days.": func(o *Override) { o.Until = 20029 },
		"Therapist decision: Accompanied; calculated level: Practise.":                            func(*Override) {},
		"The decision for Home ground does not stand. Calculated: Practise. Choose at most one level above the calculated one, Accompanied.": func(o *Override) { o.Level = HomeGround },
	} {
		o := full
		change(&o)
		if got := english(nil, at(true, o).Say); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
