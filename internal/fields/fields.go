// Package fields takes apart the texts that travel between server, tablet and
// engine: lines of fields, and lists in a field. It reads only plain numbers,
// and so stands in the browser for parts of the standard library that read
// everything and weigh accordingly.
package fields

// Cut parts text at the first mark. Without one, before is all of it. Pieces are
// short: looking at each byte here is quicker than calling the library's search,
// which in the browser would bring all of package strings with it.
func Cut(text string, mark byte) (before, after string, found bool) {
	for i := range len(text) {
		if text[i] == mark {
			return text[:i], text[i+1:], true
		}
	}
	return text, "", false
}

// Split parts text at every mark, into one more piece than there are marks.
func Split(text string, mark byte) []string {
	var list []string
	for more := true; more; {
		var piece string
		piece, text, more = Cut(text, mark)
		list = append(list, piece)
	}
	return list
}

// Flag is how yes and no stand in a field: "1" or "0".
func Flag(yes bool) string {
	if yes {
		return "1"
	}
	return "0"
}

// OrDash is text, or the "-" that stands for an empty field.
func OrDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

// mostDigits is how many digits a float64 keeps whatever they are.
const mostDigits = 15

// Whole reads a whole number of up to 15 digits, with a minus in front when it
// is below zero. It reports false for everything else, a plus among it.
func Whole(text string) (int, bool) {
	digits, minus := unsigned(text)
	value, ok := number(digits, 0)
	if minus {
		value = -value
	}
	return int(value), ok && digits != "" && len(digits) <= mostDigits
}

// Decimal reads digits with at most one point and a minus in front. Exponents,
// plus signs, NaN and the infinities are refused. Up to 15 digits give the same
// float64 as the standard library; later ones are dropped, which the rounding
// to six decimals does anyway.
func Decimal(text string) (float64, bool) {
	digits, minus := unsigned(text)
	whole, part, point := Cut(digits, '.')
	if whole == "" || point && part == "" || len(whole) > mostDigits {
		return 0, false
	}
	value, ok := number(whole, 0)
	_, okPart := number(part, 0)
	scale := 1.0
	for i := 0; i < len(part) && value < 1e14; i++ {
		value = value*10 + int64(part[i]-'0')
		scale *= 10 // exact up to 10^22
	}
	if minus {
		value = -value
	}
	return float64(value) / scale, ok && okPart
}

func unsigned(text string) (digits string, minus bool) {
	if text != "" && text[0] == '-' {
		return text[1:], true
	}
	return text, false
}

// number reads digits and nothing else.
func number(text string, value int64) (int64, bool) {
	for i := range len(text) {
		if text[i] < '0' || text[i] > '9' {
			return 0, false
		}
		value = value*10 + int64(text[i]-'0')
	}
	return value, true
}
