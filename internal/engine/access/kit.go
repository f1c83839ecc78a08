package access

import (
	"strings"

	"doorsill/internal/engine/strength"
	"doorsill/internal/model"
)

// Generic begins the id of a usual kind of control, as against one of the kit.
const Generic = "class:"

// baseMoves is the base on which no verdict rests.
const baseMoves = "moves"

// answered reports whether somebody was asked and gave this answer.
func answered(question *bool, answer bool) bool { return question != nil && *question == answer }

// usual reports whether a control is a kind, and not one that is at hand.
func usual(c *model.PackedControl) bool { return strings.HasPrefix(c.ID, Generic) }

// proportional reports whether the control answers to how far it is moved.
func proportional(c *model.PackedControl) bool { return !strength.Forceless(c.Class) }

// isSetUp reports whether a set-up is about this control. A name that one of them
// lacks agrees with any.
func isSetUp(c *model.PackedControl, s *strength.Setup) bool {
	return s != nil && c.Class == s.Class && c.OperateGF == s.OperateGF && c.TravelMM == s.TravelMM && (c.StartGF == s.StartGF || usual(c)) &&
		(c.Name == s.Control || c.Name == "" || s.Control == "")
}

// kind is a usual kind of control. Whether one has jacks depends on the make.
func kind(c *strength.Class) model.PackedControl {
	return model.PackedControl{ID: Generic + c.ID, Class: c.ID, OperateGF: c.OperateGF, TravelMM: c.TravelMM, PowerJack: true, ModeJack: true}
}

// own is the chosen control: the one of the kit with the same name and quantities,
// or one of which no more is known than the set-up says. Of several that a set-up
// without a name may mean, it has only what all of them have.
func (in *Input) own() *model.PackedControl {
	s := in.Setup
	var own *model.PackedControl
	for i := range in.Kit {
		c := &in.Kit[i]
		switch {
		case !isSetUp(c, s):
		case own == nil:
			own = c
		default:
			both := *own
			both.PowerJack, both.ModeJack, both.Attendant = own.PowerJack && c.PowerJack, own.ModeJack && c.ModeJack, own.Attendant && c.Attendant
			if digit, known := sealOf(c.Sealing); !known || digit < sealDigit(own) {
				both.Sealing = c.Sealing
			}
			own = &both
		}
	}
	if own != nil {
		return own
	}
	return &model.PackedControl{Class: s.Class, StartGF: s.StartGF, OperateGF: s.OperateGF, TravelMM: s.TravelMM, PowerJack: true, ModeJack: true}
}

// sealDigit is the second digit of a control's code, 0 for one that is not known.
func sealDigit(c *model.PackedControl) int {
	digit, _ := sealOf(c.Sealing)
	return digit
}

// sealOf is what a code of IEC 60529 such as IP54 says of water, its second
// digit; false for one that has an X there, or no code.
func sealOf(code string) (digit int, known bool) {
	if len(code) < 4 || code[3] == 'X' {
		return digit, false
	}
	return int(code[3] - '0'), true
}

// ruledOut reports whether a site is not to drive, and why.
func (in *Input) ruledOut(site string) (why string, out bool) {
	why, out = in.Needs.Rejected[site]
	return insideSentence(why), out
}

// insideSentence makes of a therapist's words what can stand inside a sentence:
// without line ends and tabs, and without spaces and full stops at the end.
func insideSentence(text string) string {
	text = strings.Map(func(r rune) rune {
		if r < ' ' {
			return ' '
		}
		return r
	}, text)
	return strings.TrimRight(text, ". ")
}
