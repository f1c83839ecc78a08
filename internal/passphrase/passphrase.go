// Package passphrase says whether a new password may be chosen. The server asks it
// for every account, and the tablet's program for a password that is for one tablet
// alone, so that one rule and one list hold on both sides.
package passphrase

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"doorsill/internal/validation"
)

// Lengths of a password, in characters. It alone opens an account or a tablet here,
// so it is long (NIST SP 800-63B: 15 characters where it is the only factor) and
// otherwise free: no required kinds of character, no expiry.
const (
	Least = 15
	Most  = 256
)

// Check refuses a password that is too short, too long or easy to guess. Words of
// the context count as guessable: who the person is, where they work, what the
// service is called. The error names the field "password".
func Check(password string, context ...string) *validation.Error {
	switch n := utf8.RuneCountInString(password); {
	case !utf8.ValidString(password):
		return validation.Invalid("password", "text")
	case n < Least:
		return validation.Invalid("password", "at least "+strconv.Itoa(Least)+" characters; four or five unrelated words do well")
	case n > Most:
		return validation.Invalid("password", "at most "+strconv.Itoa(Most)+" characters")
	case guessable(password, context):
		return validation.Invalid("password", "something that is harder to guess: not a pattern, a common phrase, a name, or where you work")
	}
	return nil
}

// leastBeside is how many characters must be left when what is known is taken out.
const leastBeside = 8

// guessable says whether a password is a pattern, or what is known of the person, a
// listed phrase or a row of keys with too little beside it.
func guessable(password string, context []string) bool {
	core := lettersAndDigits(password)
	if repeats(password) || repeats(core) || monotone(password) {
		return true
	}
	// A 1 and a ! can stand for i and for l.
	for _, text := range []string{core, lettersAndDigits(unmasked(password, "oieastasi")), lettersAndDigits(unmasked(password, "oleastasl"))} {
		rest := text
		for _, known := range contextWords(context) {
			rest = strings.ReplaceAll(rest, known, "")
		}
		known := utf8.RuneCountInString(text) - utf8.RuneCountInString(rest)
		if known > 0 && utf8.RuneCountInString(password)-known < leastBeside {
			return true
		}
		if repeats(rest) || steps(rest) || listed(rest) || listed(text) { // a phrase may hold a name
			return true
		}
	}
	return sameWords(password)
}

// contextWords are the words of a context and each text as one word, longest
// first. Shorter ones than three letters are in too many good passwords.
func contextWords(context []string) (words []string) {
	for _, text := range append(context[:len(context):len(context)], "doorsill") {
		words = append(words, lettersAndDigits(text))
		for _, word := range wordsOf(text) {
			words = append(words, lettersAndDigits(word))
		}
	}
	words = slices.DeleteFunc(words, func(w string) bool { return utf8.RuneCountInString(w) < 3 })
	slices.SortStableFunc(words, func(a, b string) int { return len(b) - len(a) })
	return words
}

// wordsOf cuts a text at everything that is neither letter nor digit.
func wordsOf(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return !isLetterOrDigit(r) })
}

// lettersAndDigits keeps no more than those, in lower case.
func lettersAndDigits(s string) string {
	return strings.Map(func(r rune) rune {
		if isLetterOrDigit(r) {
			return r
		}
		return -1
	}, strings.ToLower(s))
}

// isLetterOrDigit takes all that is not ASCII for letters: what else there is makes
// no pattern that is looked for here, and the tables that know better are large.
func isLetterOrDigit(r rune) bool {
	return r >= utf8.RuneSelf || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z'
}

// unmasked puts letters back that are commonly written as other signs, such as 3 for
// e; plain has the letter for each of the signs 0 1 3 4 5 7 @ $ !, in this order.
func unmasked(s, plain string) string {
	const signs = "013457@$!"
	return strings.Map(func(r rune) rune {
		if at := strings.IndexRune(signs, r); at >= 0 {
			return rune(plain[at])
		}
		return r
	}, s)
}

// repeats says whether one piece, over and over, makes up the text.
func repeats(s string) bool {
	for size := 1; size <= len(s)/2; size++ {
		whole := strings.Repeat(s[:size], len(s)/size+1)
		if whole[:len(s)] == s {
			return true
		}
	}
	return false
}

// monotone says whether fewer than five different characters make up the text.
func monotone(s string) bool {
	seen := map[rune]bool{}
	for _, r := range strings.ToLower(s) {
		seen[r] = true
	}
	return len(seen) < 5
}

// sameWords says whether a word that is said again makes the text long enough.
func sameWords(s string) bool {
	words := wordsOf(strings.ToLower(s))
	once, left := map[string]bool{}, 0
	for _, word := range words {
		if !once[word] {
			left += utf8.RuneCountInString(word)
		}
		once[word] = true
	}
	return len(once) < len(words) && len(once) < 4 && left < Least
}

// rows are the alphabet, the digits, and keyboards along and across.
const rows = "abcdefghijklmnopqrstuvwxyz 01234567890 qwertyuiop asdfghjkl zxcvbnm qwertzuiop yxcvbnm azertyuiop qsdfghjklm wxcvbn " +
	"1qaz 2wsx 3edc 4rfv 5tgb 6yhn 7ujm 8ik 9ol 147 258 369"

// steps says whether three in four of its pairs of neighbours run along a row.
func steps(s string) bool {
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
	slices.Reverse(out)
	return string(out)
}

// listed says whether the text is no more than one to three listed phrases or words,
// digits, and fewer than four other letters. Four words and more that were picked at
// random are fine.
func listed(core string) bool {
	rest, found := core, 0
	for line := range strings.SplitSeq(common, "\n") {
		if word := lettersAndDigits(line); word != "" && strings.Contains(rest, word) {
			rest = strings.ReplaceAll(rest, word, " ") // what is left on both sides is no new word
			found++
		}
	}
	if core == "" || found > 3 {
		return false
	}
	return utf8.RuneCountInString(strings.Trim(lettersAndDigits(rest), "0123456789")) < 4
}
