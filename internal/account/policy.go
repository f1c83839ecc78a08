package account

import (
	_ "embed"
	"strings"
	"unicode"
	"unicode/utf8"

	"doorsill/internal/validation"
)

// A password alone opens an account here, so it is long (NIST SP 800-63B: 15
// characters where it is the only factor) and otherwise free: no required
// kinds of character, no expiry.
const (
	minPassword = 15
	maxPassword = 256
)

//go:embed blocked.txt
var blockedText string

// CheckPassword refuses a new password that is too short, too long or easy to
// guess; the login and the name count as guessable. The error is a *validation.Error.
func CheckPassword(password, login, name string) error {
	switch n := utf8.RuneCountInString(password); {
	case !utf8.ValidString(password):
		return validation.Invalid("password", "text")
	case n < minPassword:
		return validation.Invalid("password", "at least 15 characters; four or five unrelated words do well")
	case n > maxPassword:
		return validation.Invalid("password", "at most 256 characters")
	case guessable(password, login, name):
		return validation.Invalid("password", "something that is harder to guess: not a pattern, a common phrase, or your name")
	}
	return nil
}

// guessable looks at letters and digits, and at plain repetition.
func guessable(password, login, name string) bool {
	core := letters(password)
	whole := len(core)
	for _, known := range append(strings.Fields(name), login, "doorsill") {
		if known = letters(known); len(known) >= 3 {
			core = strings.ReplaceAll(core, known, "")
		}
	}
	removed := whole - len(core)
	if removed > 0 && len(password)-removed < 8 {
		return true
	}
	return repeats(password) || repeats(core) || steps(core) || blocked(core)
}

// letters keeps letters and digits, in lower case.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

// repeats says whether one short piece, over and over, makes up the text.
func repeats(s string) bool {
	for size := 1; size <= len(s)/2; size++ {
		whole := strings.Repeat(s[:size], len(s)/size+1)
		if whole[:len(s)] == s {
			return true
		}
	}
	return false
}

// steps says whether the text mostly runs along the alphabet, the digits or a
// row of keys.
func steps(s string) bool {
	const rows = "abcdefghijklmnopqrstuvwxyz 01234567890 qwertyuiop asdfghjkl zxcvbnm qwertzuiop azertyuiop"
	backwards := reverse(rows)
	pairs, along := 0, 0
	for i := 0; i+2 <= len(s); i++ {
		pairs++
		if pair := s[i : i+2]; strings.Contains(rows, pair) || strings.Contains(backwards, pair) {
			along++
		}
	}
	return pairs > 0 && along*4 >= pairs*3
}

func reverse(s string) string {
	out := []byte(s)
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return string(out)
}

// blocked says whether the text is no more than one or two listed words and
// digits. Three and more words that were picked at random are fine.
func blocked(core string) bool {
	rest, found := core, 0
	for _, line := range strings.Split(blockedText, "\n") {
		if word := letters(line); word != "" && strings.Contains(rest, word) {
			rest = strings.ReplaceAll(rest, word, "")
			found++
		}
	}
	if core == "" || found > 2 {
		return false
	}
	return len(strings.Trim(rest, "0123456789")) < 4
}
