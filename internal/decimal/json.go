package decimal

import "errors"

// AppendJSON appends the number as JSON with as many decimals as it has.
func (m Micro) AppendJSON(b []byte) []byte { return m.AppendShort(b, Places) }

// MarshalJSON writes the number with as many decimals as it has.
func (m Micro) MarshalJSON() ([]byte, error) { return m.AppendJSON(nil), nil }

// UnmarshalJSON reads what MarshalJSON writes.
func (m *Micro) UnmarshalJSON(data []byte) error {
	value, ok := Parse(string(data))
	if !ok {
		return errors.New("expected a number of at most six decimals, got " + string(data))
	}
	*m = value
	return nil
}

// Parse reads a number of at most six decimals, without an exponent, exactly. It
// reports false for another text and for a number that does not fit.
func Parse(text string) (Micro, bool) {
	digits := text
	negative := text != "" && text[0] == '-'
	if negative {
		digits = text[1:]
	}
	var value Micro
	decimals := -1 // before the point
	for i := 0; i < len(digits); i++ {
		c := digits[i]
		switch {
		case c == '.' && decimals < 0 && i > 0:
			decimals = 0
		case c < '0' || c > '9' || decimals == Places || value > most*One/10:
			return 0, false
		default:
			value = value*10 + Micro(c-'0')
			if decimals >= 0 {
				decimals++
			}
		}
	}
	if digits == "" || decimals == 0 {
		return 0, false
	}
	unit := step(max(decimals, 0))
	if value > most*One/unit {
		return 0, false
	}
	if negative {
		unit = -unit
	}
	return value * unit, true
}
