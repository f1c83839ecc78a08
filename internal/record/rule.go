package record

import (
	"math"
	"strconv"
	"time"
	"unicode/utf8"
)

// Longest texts, in characters.
const (
	LongestWord = 64     // ids, codes and names of things
	LongestName = 200    // names of people, references
	LongestText = 20_000 // notes and reasons
)

// The rules below each return nil or a Refusal of one field. first returns the
// first that refuses.
func first(bad ...*Refusal) *Refusal {
	for _, b := range bad {
		if b != nil {
			return b
		}
	}
	return nil
}

// need refuses an empty text and one that is too long.
func need(field, text string, longest int, what string) *Refusal {
	if text == "" {
		return &Refusal{Code: CodeRequired, Field: field, Want: what}
	}
	return short(field, text, longest)
}

func short(field, text string, longest int) *Refusal {
	if len(text) <= longest {
		return nil
	}
	if n := utf8.RuneCountInString(text); n > longest {
		return &Refusal{Code: CodeOutOfRange, Field: field,
			Want: "at most " + strconv.Itoa(longest) + " characters", Got: strconv.Itoa(n)}
	}
	return nil
}

// among refuses a text that is not one of the words.
func among(field, text string, words ...string) *Refusal {
	for _, word := range words {
		if text == word {
			return nil
		}
	}
	return missingOr(CodeWrongType, field, oneOf(words), text)
}

// between refuses a number outside a range; unit is a word to show, or empty.
func between(field string, value, low, high float64, unit string) *Refusal {
	if value >= low && value <= high && !math.IsNaN(value) {
		return nil
	}
	if unit != "" {
		unit = " " + unit
	}
	return &Refusal{Code: CodeOutOfRange, Field: field,
		Want: shown(low) + " to " + shown(high) + unit, Got: shown(value)}
}

func shown(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }

// date refuses what is not a day between 1880 and 2200.
func date(field, text string) *Refusal {
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return missingOr(CodeWrongType, field, "a date such as 2026-03-01", text)
	}
	if day.Year() < 1880 || day.Year() > 2200 {
		return &Refusal{Code: CodeOutOfRange, Field: field, Want: "a date between 1880 and 2200", Got: text}
	}
	return nil
}

// dateOrNone is date for a field that may be empty.
func dateOrNone(field, text string) *Refusal {
	if text == "" {
		return nil
	}
	return date(field, text)
}

// idOrNone refuses what is not an id; empty is allowed.
func idOrNone(field, id string) *Refusal {
	if id == "" {
		return nil
	}
	return idOf(field, id)
}

func idOf(field, id string) *Refusal {
	if validID(id) {
		return nil
	}
	return badID(field, id)
}

func refOf(field string, ref Ref) *Refusal {
	if validRef(ref) {
		return nil
	}
	return missingOr(CodeWrongType, field, `an event as "tablet:n"`, string(ref))
}

// hexSum refuses what is not a SHA-256 in small hex digits.
func hexSum(field, sum string) *Refusal {
	ok := len(sum) == 64
	for i := 0; ok && i < len(sum); i++ {
		c := sum[i]
		ok = c >= '0' && c <= '9' || c >= 'a' && c <= 'f'
	}
	if ok {
		return nil
	}
	return missingOr(CodeWrongType, field, "a SHA-256 of 64 hex digits", sum)
}
