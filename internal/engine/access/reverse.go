package access

import (
	"slices"

	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// reverseReserve is the switch reserve of the key that gives reverse.
func (c *candidate) reverseReserve() *quantity.Quantity {
	if c.analysis == nil {
		return new(quantity.Quantity)
	}
	return &c.analysis.Own[strength.ModeSwitch]
}

// reverseSwitched reports whether a proven key takes reverse off the needed
// directions.
func (c *candidate) reverseSwitched() bool {
	f := c.reverseReserve()
	return answered(c.in.Needs.ReverseKey, true) && c.control.ModeJack && f.Has() && f.Value >= micro(strength.SwitchProven)
}

// reverseKey says why reverse is off the needed directions or why it is not,
// once a key for it was shown.
func (c *candidate) reverseKey() message.Message {
	f := c.reverseReserve()
	switch {
	case !answered(c.in.Needs.ReverseKey, true):
		return message.Message{}
	case !c.control.ModeJack:
		return message.New("access.reverse-no-jack")
	case !f.Has():
		return message.New("access.reverse-not-measured")
	case !c.reverseSwitched():
		return message.New("access.reverse-needed", message.Exact("reserve", f.Value), message.Number("proven", strength.SwitchProven))
	}
	return message.New("access.reverse-switched", message.Exact("reserve", f.Value))
}

// Needed returns the directions that the chosen control must be given by the
// driver: those of the set-up, without reverse when a proven key gives it.
func (in *Input) Needed() []strength.Direction { return in.chosen().needed() }

func (c *candidate) needed() []strength.Direction {
	asked := c.in.Asked
	if asked == nil && c.in.Setup != nil {
		asked = c.in.Setup.Needed
	}
	if asked == nil {
		asked = []strength.Direction{strength.Forward, strength.Reverse, strength.Left, strength.Right}
	}
	if !c.reverseSwitched() {
		return asked
	}
	kept := make([]strength.Direction, 0, len(asked))
	for _, d := range asked {
		if d != strength.Reverse {
			kept = append(kept, d)
		}
	}
	if len(kept) == 0 {
		return asked
	}
	return kept
}

// everyWay is about directions that the set-up does not ask of a stick. A chair is
// driven and steered each way, so only reverse may be left out, to a proven key;
// whether the driver can give another one was not judged.
func everyWay(c *candidate) (Reason, bool) {
	if !proportional(c.control) || c.setup.Needed == nil {
		return Reason{}, false
	}
	var left []string
	for d := strength.Forward; d <= strength.Right; d++ {
		if !slices.Contains(c.setup.Needed, d) && !(d == strength.Reverse && c.reverseSwitched()) {
			left = append(left, d.String())
		}
	}
	if len(left) == 0 {
		return Reason{}, false
	}
	return Reason{Rule: "every-way", Verdict: Unknown,
		Say:    message.New("access.way-left-out", message.Words("directions", left)),
		Change: message.New("access.way-left-out-mend", message.Number("proven", strength.SwitchProven))}, true
}
