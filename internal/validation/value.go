package validation

import (
	"math"
	"strconv"
	"unicode/utf8"
)

// MaxID is the greatest length of an id, in bytes.
const MaxID = 64

// The checks below each return nil, or an Error at path.

// Unexpected returns the error for a text that is not what was wanted: of the
// code for a wrong one, CodeRequired for an empty one.
func Unexpected(code, path, want, got string) *Error {
	if got == "" {
		return &Error{Code: CodeRequired, Path: path, Want: want}
	}
	return &Error{Code: code, Path: path, Want: want, Got: Quote(got)}
}

// Required wants a text of 1 to longest characters; what says what it is.
func Required(path, text string, longest int, what string) *Error {
	if text == "" {
		return &Error{Code: CodeRequired, Path: path, Want: what}
	}
	return MaxLength(path, text, longest)
}

// MaxLength wants a text of at most longest characters.
func MaxLength(path, text string, longest int) *Error {
	if len(text) <= longest {
		return nil
	}
	if n := utf8.RuneCountInString(text); n > longest {
		return &Error{Code: CodeOutOfRange, Path: path,
			Want: "at most " + strconv.Itoa(longest) + " characters", Got: strconv.Itoa(n)}
	}
	return nil
}

// OneOf wants one of the words.
func OneOf(path, text string, words []string) *Error {
	for _, word := range words {
		if text == word {
			return nil
		}
	}
	return Unexpected(CodeWrongType, path, Either(words), text)
}

// Between wants a number from low to high; unit is a word to show, or empty.
func Between(path string, value, low, high float64, unit string) *Error {
	if value >= low && value <= high && !math.IsNaN(value) {
		return nil
	}
	if unit != "" {
		unit = " " + unit
	}
	return &Error{Code: CodeOutOfRange, Path: path,
		Want: Number(low) + " to " + Number(high) + unit, Got: Number(value)}
}

// OptionalBetween is Between for a number that may be missing.
func OptionalBetween[T int | float64](path string, value *T, low, high float64, unit string) *Error {
	if value == nil {
		return nil
	}
	return Between(path, float64(*value), low, high, unit)
}

// Number writes a number for a sentence.
func Number(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }

// ID wants an id of 1 to 64 letters, digits, hyphens or underscores.
func ID(path, id string) *Error {
	if ValidID(id) {
		return nil
	}
	return Unexpected(CodeWrongType, path, "an id of 1 to 64 letters, digits, hyphens or underscores", id)
}

// ValidID reports whether ID accepts an id.
func ValidID(id string) bool {
	if id == "" || len(id) > MaxID {
		return false
	}
	for i := 0; i < len(id); i++ {
		c := id[i] | 0x20
		if !(c >= 'a' && c <= 'z' || id[i] >= '0' && id[i] <= '9' || id[i] == '-' || id[i] == '_') {
			return false
		}
	}
	return true
}

// SHA256 wants a SHA-256 in small hex digits.
func SHA256(path, sum string) *Error {
	ok := len(sum) == 64
	for i := 0; ok && i < len(sum); i++ {
		c := sum[i]
		ok = c >= '0' && c <= '9' || c >= 'a' && c <= 'f'
	}
	if ok {
		return nil
	}
	return Unexpected(CodeWrongType, path, "a SHA-256 of 64 hex digits", sum)
}
