package access

import (
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// reverseReserve is the switch reserve of the key that gives reverse.
func (in *Input) reverseReserve() *quantity.Quantity {
	if in.Analysis == nil {
		return new(quantity.Quantity)
	}
	return &in.Analysis.Own[strength.ModeSwitch]
}

// reverseSwitched reports whether a proven key takes reverse off the needed
// directions.
func (in *Input) reverseSwitched() bool {
	f := in.reverseReserve()
	return answered(in.Needs.ReverseKey, true) && in.control.ModeJack && f.Has() && f.Value >= micro(strength.SwitchProven)
}

// reverseKey says why reverse is off the needed directions or why it is not,
// once a key for it was shown.
func (in *Input) reverseKey() message.Message {
	f := in.reverseReserve()
	switch {
	case !answered(in.Needs.ReverseKey, true):
		return message.Message{}
	case !in.control.ModeJack:
		return message.New("access.reverse-no-jack")
	case !f.Has():
		return message.New("access.reverse-not-measured")
	case !in.reverseSwitched():
		return message.New("access.reverse-needed", message.Exact("reserve", f.Value), message.Number("proven", strength.SwitchProven))
	}
	return message.New("access.reverse-switched", message.Exact("reserve", f.Value))
}

// Needed returns the directions that the chosen control must be given by the
// driver: those of the set-up, without reverse when a proven key gives it.
func (in *Input) Needed() []strength.Direction {
	own := *in
	own.control = in.own()
	return own.needed()
}

func (in *Input) needed() []strength.Direction {
	asked := in.Asked
	if asked == nil && in.Setup != nil {
		asked = in.Setup.Needed
	}
	if asked == nil {
		asked = []strength.Direction{strength.Forward, strength.Reverse, strength.Left, strength.Right}
	}
	if !in.reverseSwitched() {
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
