package access_test

import (
	"slices"
	"testing"

	"doorsill/internal/engine/access"
	"doorsill/internal/engine/strength"
	"doorsill/internal/model"
)

// balanceOf is what the rule says of a control of 50 gf at the right hand, and whether
// it says anything.
func balanceOf(who *client) (access.Reason, bool) {
	for _, r := range who.judged().Reasons {
		if r.Rule == "balance" {
			return r, true
		}
	}
	return access.Reason{}, false
}

// TestBalanceNamesTheDirections: of directions alike the first is named, and what is
// pressed is no way to push a stick.
func TestBalanceNamesTheDirections(t *testing.T) {
	for _, c := range []struct {
		name   string
		forces [4]float64 // forward, reverse, left, right
		want   string
	}{
		{"two weakest alike", [4]float64{170, 170, 400, 300}, "access.balance weak=forward least=170 strong=left most=400 share=0.425"},
		{"two strongest alike", [4]float64{170, 400, 400, 300}, "access.balance weak=forward least=170 strong=reverse most=400 share=0.425"},
		{"the last is the strongest", [4]float64{170, 200, 300, 400}, "access.balance weak=forward least=170 strong=right most=400 share=0.425"},
		{"the last is the weakest", [4]float64{400, 300, 200, 170}, "access.balance weak=right least=170 strong=forward most=400 share=0.425"},
		{"all alike", alike(400), "access.balance-alike force=400"},
	} {
		who := measured("hand-right", c.forces, c.forces).chose("small", "hand-right", 20, 50, 4)
		who.readings = append(who.readings, strength.Reading{What: strength.Force, Site: "hand-right", Direction: strength.Press, Value: 900})
		r, _ := balanceOf(who)
		if got := r.Say.String(); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestBalanceOfWhatWasNotMeasured says nothing, nor of a control that asks no force.
func TestBalanceOfWhatWasNotMeasured(t *testing.T) {
	who := measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 20, 50, 4)
	who.readings = slices.DeleteFunc(who.readings, func(r strength.Reading) bool { return r.What == strength.Force && r.Direction == strength.Left })
	if r, says := balanceOf(who); says {
		t.Errorf("left was not measured: %s", said(r.Say))
	}
	who = measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 0, 0, 4)
	if r, says := balanceOf(who); says {
		t.Errorf("the force that the control asks is not entered: %s", said(r.Say))
	}
	who = measured("hand-right", alike(400), alike(400)).chose("small", "hand-right", 0.5, 1, 4)
	if _, says := balanceOf(who); !says {
		t.Error("a control of 1 gf asks for force")
	}
}

// TestWhatMakesDirectionsMoreAlike: a key is a way for reverse alone, and the axes are
// turned where the strongest is not forward already. One that cannot be given at all is
// a bar (TRADE.md 4.3, 10).
func TestWhatMakesDirectionsMoreAlike(t *testing.T) {
	for _, c := range []struct {
		name   string
		forces [4]float64
		jack   bool
		want   []string
	}{
		{"weak left, strong forward", [4]float64{400, 300, 160, 300}, true, []string{"access.shorter-throw"}},
		{"weak reverse, strong forward", [4]float64{400, 160, 300, 300}, true, []string{"access.shorter-throw-or-key"}},
		{"weak reverse, and no key can be plugged in", [4]float64{400, 160, 300, 300}, false, []string{"access.shorter-throw"}},
		{"weak forward, strong right", [4]float64{160, 300, 300, 400}, true, []string{"access.turned-axes", "access.shorter-throw"}},
	} {
		who := measured("hand-right", c.forces, c.forces).chose("small", "hand-right", 20, 50, 4)
		k := kitOf("k1", "small", 20, 50, 4)
		k.ModeJack = c.jack
		who.in.Kit = []model.PackedControl{k}
		r, _ := balanceOf(who)
		ways := r.Change.Arg("ways")
		if r.Change.Code != "access.balance-improve" || !r.Advisory || ways == nil || !slices.Equal(codes(ways.Messages), c.want) {
			t.Errorf("%s: %s, want %v", c.name, r.Change.String(), c.want)
		}
	}
	none := [4]float64{400, 300, 0, 300}
	r, _ := balanceOf(measured("hand-right", none, none).chose("small", "hand-right", 20, 50, 4))
	if r.Verdict != bad || r.Advisory || r.Change.Code != "access.balance-mend" {
		t.Errorf("nothing to the left: %v, a note %v, %s", r.Verdict, r.Advisory, r.Change.String())
	}
}
