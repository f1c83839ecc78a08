package model

import (
	"slices"
	"strconv"
	"strings"

	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// Longest texts.
const (
	LongestWord = 64     // characters of ids, codes and names of things
	LongestName = 200    // characters of names of people, references
	LongestText = 20_000 // characters of notes and reasons
	LongestZone = 64     // bytes of a time zone's name
	LongestKind = 40     // bytes of a kind
)

// Most that can be measured; more is a slip of the hand or of the unit.
const (
	MostForce       = 10_000 // gf
	mostUnintended  = 5_000  // gf
	mostSwitchPress = 2_000  // gf, what a switch asks for
	mostTravel      = 150    // mm
	mostHold        = 600    // s
	mostRelease     = 20     // s
	mostCommand     = 120    // s, also of scanning
	mostUnasked     = 600    // in 10 min
	mostSteps       = 60
	mostBreath      = 50 // kPa
)

// The functions below are what the generated checks call, beside those of
// package validation.

// optional applies a check to a text that may be empty.
func optional(path, text string, check func(path, text string) *validation.Error) *validation.Error {
	if text == "" {
		return nil
	}
	return check(path, text)
}

func optionalOneOf(path, text string, words []string) *validation.Error {
	if text == "" {
		return nil
	}
	return validation.OneOf(path, text, words)
}

func eachOneOf(path string, list, words []string) *validation.Error {
	for i, word := range list {
		if err := validation.OneOf(path+"["+strconv.Itoa(i)+"]", word, words); err != nil {
			return err
		}
	}
	return nil
}

// eachOnce refuses a word that stands in the list before; want says what was expected.
func eachOnce(path string, list []string, want string) *validation.Error {
	for i, word := range list {
		if slices.Contains(list[:i], word) {
			return &validation.Error{Code: validation.CodeOutOfRange, Path: path + "[" + strconv.Itoa(i) + "]", Want: want, Got: validation.Quote(word) + " again"}
		}
	}
	return nil
}

// once returns the list with each word where it stands first; the list itself
// where none stands twice.
func once(list []string) []string {
	if eachOnce("", list, "") == nil {
		return list
	}
	words := make([]string, 0, len(list))
	for _, word := range list {
		if !slices.Contains(words, word) {
			words = append(words, word)
		}
	}
	return words
}

// zeroOrBetween is for a number that is 0 when it is not known.
func zeroOrBetween(path string, value, low, high float64, unit string) *validation.Error {
	if value == 0 {
		return nil
	}
	return validation.Between(path, value, low, high, unit)
}

func countBetween(path string, n, low, high int) *validation.Error {
	if n >= low && n <= high {
		return nil
	}
	return &validation.Error{Code: validation.CodeOutOfRange, Path: path,
		Want: strconv.Itoa(low) + " to " + strconv.Itoa(high), Got: strconv.Itoa(n)}
}

func atLeast(path string, n, low int64) *validation.Error {
	if n >= low {
		return nil
	}
	return &validation.Error{Code: validation.CodeOutOfRange, Path: path,
		Want: "a number from " + strconv.FormatInt(low, 10), Got: strconv.FormatInt(n, 10)}
}

// requiredItems wants a list or map that is not empty; what says of what.
func requiredItems(path string, n int, what string) *validation.Error {
	if n > 0 {
		return nil
	}
	return &validation.Error{Code: validation.CodeRequired, Path: path, Want: what}
}

// maxItems wants at most so many elements, which the path names.
func maxItems(path string, n, most int) *validation.Error {
	if n <= most {
		return nil
	}
	return &validation.Error{Code: validation.CodeOutOfRange, Path: path,
		Want: "at most " + strconv.Itoa(most) + " " + path, Got: strconv.Itoa(n)}
}

// checkMap checks each key and each value, in the order of the keys.
func checkMap[V any](path string, m map[string]V, key func(path, key string) *validation.Error, value func(path string, v V) *validation.Error) *validation.Error {
	for _, k := range strictjson.SortedKeys(m) {
		if err := validation.First(key(k, k), value(k, m[k])); err != nil {
			return err.Within(path)
		}
	}
	return nil
}

// checkSiteKey refuses a key that is not a site.
func checkSiteKey(path, site string) *validation.Error {
	if KnownSite(site) {
		return nil
	}
	return &validation.Error{Code: validation.CodeWrongType, Path: path, Want: "a site such as chin or index-right as the name of the field"}
}

func checkSite(path, site string) *validation.Error {
	if KnownSite(site) {
		return nil
	}
	return validation.Unexpected(validation.CodeWrongType, path, "a site such as chin or index-right", site)
}

func checkRef(path, ref string) *validation.Error {
	tablet, n, found := strings.Cut(ref, ":")
	if found && validation.ValidID(tablet) && n != "" && n[0] != '0' {
		if _, err := strconv.ParseUint(n, 10, 53); err == nil {
			return nil
		}
	}
	return validation.Unexpected(validation.CodeWrongType, path, `an event as "tablet:n"`, ref)
}

func checkKind(path, kind string) *validation.Error {
	if lowerWord(kind, LongestKind) {
		return nil
	}
	return validation.Unexpected(validation.CodeWrongType, path, "the kind of event, in small letters and hyphens", kind)
}

func checkAmendable(path, kind string) *validation.Error {
	if known := KindOf(kind); known != nil && known.Amendable {
		return nil
	}
	return validation.Unexpected(validation.CodeWrongType, path, "a kind that may change a signed visit", kind)
}

func checkItem(path, item string) *validation.Error {
	if lowerWord(item, LongestWord) && item[0] >= 'a' && item[0] <= 'z' {
		return nil
	}
	return validation.Unexpected(validation.CodeWrongType, path, "an item's id", item)
}

// lowerWord reports whether a text is small letters, digits and hyphens.
func lowerWord(text string, longest int) bool {
	if text == "" || len(text) > longest {
		return false
	}
	for i := 0; i < len(text); i++ {
		if c := text[i]; !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-') {
			return false
		}
	}
	return true
}

func checkTime(path, at string) *validation.Error {
	if validation.ValidTime(at) {
		return nil
	}
	return validation.Unexpected(validation.CodeWrongType, path, "a time such as 2026-03-01T09:30:00.000Z", at)
}

func checkZone(path, zone string) *validation.Error {
	if zone != "" && len(zone) <= LongestZone {
		return nil
	}
	return validation.Unexpected(validation.CodeWrongType, path, "a time zone such as Europe/Dublin", zone)
}

func checkSchema(path string, schema int) *validation.Error {
	if schema >= 1 {
		return nil
	}
	return &validation.Error{Code: validation.CodeRequired, Path: path, Want: "a number from 1"}
}

func checkObject(path string, raw Raw) *validation.Error {
	if len(raw) > 0 && raw[0] == '{' {
		return nil
	}
	return &validation.Error{Code: validation.CodeRequired, Path: path, Want: "an object"}
}

// checkSealing wants a code of IEC 60529, such as IP54 or IPX4.
func checkSealing(path, code string) *validation.Error {
	ok := len(code) >= 4 && len(code) <= 6 && code[:2] == "IP" &&
		(code[2] == 'X' || code[2] >= '0' && code[2] <= '6') &&
		(code[3] == 'X' || code[3] >= '0' && code[3] <= '9')
	for i := 4; ok && i < len(code); i++ {
		ok = code[i] >= 'A' && code[i] <= 'Z'
	}
	if ok {
		return nil
	}
	return validation.Unexpected(validation.CodeWrongType, path, "a code of IEC 60529 such as IP54 or IPX4", code)
}

// checkWish wants the id of a control, or "class:" and a class.
func checkWish(path, wish string) *validation.Error {
	if class, is := strings.CutPrefix(wish, "class:"); is {
		return validation.OneOf(path, class, Classes())
	}
	return validation.ID(path, wish)
}

// checkEach checks the elements of a list.
func checkEach[V any](path string, list []V, check func(*V) *validation.Error) *validation.Error {
	for i := range list {
		if err := check(&list[i]); err != nil {
			return err.Within(path + "[" + strconv.Itoa(i) + "]")
		}
	}
	return nil
}
