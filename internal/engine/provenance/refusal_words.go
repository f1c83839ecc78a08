package provenance

// refusedWords is a refusal in words, as packages passage and trend make it
// until they state messages too.
type refusedWords struct {
	// Field names the input, in words.
	Field string
	// Want says what was expected, with the unit.
	Want string
	// Still says what can be said or done without it; it may be empty.
	Still string
}

// String says the field, what was expected and what can still be said.
func (r *refusedWords) String() string {
	text := r.Field + ": expected " + r.Want
	if r.Still != "" {
		text += ". " + r.Still
	}
	return text
}

// Refuse returns a Refusal in words.
func Refuse(field, want, still string) error {
	return &Refusal{refusedWords: refusedWords{Field: field, Want: want, Still: still}}
}

// Above is AboveZero in words.
func Above(field string, x, most float64, unit, still string) error {
	if x > 0 && x <= most {
		return nil
	}
	return Refuse(field, join("a number above 0 and at most", Text(most, 3), unit), still)
}

// Within is Between in words.
func Within(field string, x, least, most float64, unit, still string) error {
	if x >= least && x <= most {
		return nil
	}
	return Refuse(field, join("a number from "+Text(least, 3)+" to", Text(most, 3), unit), still)
}

func join(words, number, unit string) string {
	if unit == "" {
		return words + " " + number
	}
	return words + " " + number + " " + unit
}
