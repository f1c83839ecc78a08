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

// isSetUp reports whether a set-up is about this control.
func isSetUp(c *model.PackedControl, s *strength.Setup) bool {
	return s != nil && c.Class == s.Class && c.OperateGF == s.OperateGF && c.TravelMM == s.TravelMM && (c.StartGF == s.StartGF || usual(c))
}

// kind is a usual kind of control. Whether one has jacks depends on the make.
func kind(c *strength.Class) model.PackedControl {
	return model.PackedControl{ID: Generic + c.ID, Class: c.ID, OperateGF: c.OperateGF, TravelMM: c.TravelMM, PowerJack: true, ModeJack: true}
}

// own is the chosen control: the one of the kit with the same quantities, or one
// of which no more is known than the set-up says.
func (in *Input) own() *model.PackedControl {
	s := in.Setup
	for i := range in.Kit {
		if isSetUp(&in.Kit[i], s) {
			return &in.Kit[i]
		}
	}
	return &model.PackedControl{Class: s.Class, StartGF: s.StartGF, OperateGF: s.OperateGF, TravelMM: s.TravelMM, PowerJack: true, ModeJack: true}
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
