package readiness

import (
	"strings"
	"testing"

	"doorsill/internal/checklist/rules"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
)

// at judges a checklist that asks only for the separate stop, so that the
// calculated level is Pause without and Practise with it, with an override.
func at(stopShown bool, o Override) Ruling {
	set := rules.Set{Sections: []rules.Section{{Code: "mnt", Title: "Switches", Items: []rules.Item{
		{ID: "mnt-stop", Title: "Separate stop", Type: rules.YesNo, Weight: 3, Effects: []rules.Effect{
			{Effect: rules.Stop, When: []rules.Condition{{Levels: []string{"no"}}}}}},
	}}}}
	h := Head{State: Answered, Level: "yes"}
	if !stopShown {
		h.Level = "no"
	}
	result := Compile(set).Judge(Input{Heads: []Head{h}, Analysis: &strength.Analysis{}, Trial: &trial.Findings{},
		Access: &access.Result{Indoors: access.Unknown}, Override: &o})
	return *result.Ruling
}

func TestOverrideLimits(t *testing.T) {
	full := Override{Level: Accompanied, Reason: "other", TextLength: 20, Mitigation: true, Agreed: true, From: 20000, Until: 20028}
	change := func(f func(*Override)) Override { o := full; f(&o); return o }
	for _, c := range []struct {
		name string
		stop bool
		o    Override
		want string // "" when accepted, else part of the refusal
	}{
		{"one level up, complete", true, full, ""},
		{"lower, with nothing but a reason", true, Override{Level: Pause, Reason: "fluctuating", From: NoDay, Until: NoDay}, ""},
		{"the same level", true, Override{Level: Practise, Reason: "other", From: NoDay, Until: NoDay}, ""},
		{"lower without a reason", true, Override{Level: Pause}, "a reason from the list"},
		{"two levels up", true, change(func(o *Override) { o.Level = HomeGround }), "at most one level above the calculated one, Accompanied"},
		{"nineteen characters", true, change(func(o *Override) { o.TextLength = 19 }), "at least 20 characters, got 19"},
		{"no mitigation", true, change(func(o *Override) { o.Mitigation = false }), "what makes it safe"},
		{"nobody agreed", true, change(func(o *Override) { o.Agreed = false }), "who agreed"},
		{"no start", true, change(func(o *Override) { o.From = NoDay }), "date from which"},
		{"no end", true, change(func(o *Override) { o.Until = NoDay }), "end date within four weeks"},
		{"29 days", true, change(func(o *Override) { o.Until = 20029 }), "got 29 days"},
		{"ends before it starts", true, change(func(o *Override) { o.Until = 19999 }), "not before the start"},
		{"over a STOP", false, change(func(o *Override) { o.Level = Practise }), "A STOP cannot be overridden"},
	} {
		r := at(c.stop, c.o)
		if r.Accepted != (c.want == "") || !strings.Contains(r.Say, c.want) {
			t.Errorf("%s: accepted %v, %q; want %q", c.name, r.Accepted, r.Say, c.want)
		}
	}
}
