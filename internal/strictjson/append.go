package strictjson

import (
	"math"
	"slices"
	"strconv"
	"unicode/utf8"
)

const hex = "0123456789abcdef"

// asItIs says which bytes stand in a string as they are: ASCII characters that
// need no escape. It has a place for every byte, so that none needs a check.
var asItIs = func() (table [256]bool) {
	for c := byte(' '); c < utf8.RuneSelf; c++ {
		table[c] = c != '"' && c != '\\'
	}
	return table
}()

// AppendText appends a string. Bytes that are not UTF-8 become U+FFFD; line and
// paragraph separators are escaped, so that the result is a line of JavaScript
// too.
func AppendText(b []byte, s string) []byte {
	b = append(b, '"')
	for {
		n := 0
		for n < len(s) && asItIs[s[n]] {
			n++
		}
		b = append(b, s[:n]...)
		if n == len(s) {
			return append(b, '"')
		}
		b, s = appendRune(b, s[n:])
	}
}

// appendRune appends the first character of s and returns what follows.
func appendRune(b []byte, s string) (appended []byte, rest string) {
	if s[0] < utf8.RuneSelf {
		return appendASCII(b, s[0]), s[1:]
	}
	c, size := utf8.DecodeRuneInString(s)
	switch {
	case c == utf8.RuneError && size == 1:
		b = append(b, `\ufffd`...)
	case c == '\u2028' || c == '\u2029':
		b = append(append(b, `\u202`...), hex[c&0xf])
	default:
		b = append(b, s[:size]...)
	}
	return b, s[size:]
}

func appendASCII(b []byte, c byte) []byte {
	switch c {
	case '"', '\\':
		return append(b, '\\', c)
	case '\b':
		return append(b, '\\', 'b')
	case '\f':
		return append(b, '\\', 'f')
	case '\n':
		return append(b, '\\', 'n')
	case '\r':
		return append(b, '\\', 'r')
	case '\t':
		return append(b, '\\', 't')
	}
	return append(b, '\\', 'u', '0', '0', hex[c>>4], hex[c&0xf])
}

// AppendNumber appends the shortest decimal that reads back as the same number;
// a number that JSON does not have becomes null.
func AppendNumber(b []byte, x float64) []byte {
	size := math.Abs(x)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return append(b, "null"...)
	}
	if size == 0 || size >= 1e-6 && size < 1e21 {
		return strconv.AppendFloat(b, x, 'f', -1, 64)
	}
	b = strconv.AppendFloat(b, x, 'e', -1, 64)
	if n := len(b); n >= 4 && b[n-4] == 'e' && b[n-3] == '-' && b[n-2] == '0' { // e-09 becomes e-9
		b[n-2] = b[n-1]
		b = b[:n-1]
	}
	return b
}

// AppendInteger appends a whole number.
func AppendInteger(b []byte, n int64) []byte { return strconv.AppendInt(b, n, 10) }

// AppendBool appends true or false.
func AppendBool(b []byte, v bool) []byte { return strconv.AppendBool(b, v) }

// AppendKey appends the key of a field, which needs no escapes, after a comma
// unless it is the first of its object.
//
// It is not inlined: generated code calls it in hundreds of places, and inlined
// it would add to what every tablet downloads.
//
//go:noinline
func AppendKey(b []byte, key string) []byte {
	if b[len(b)-1] != '{' {
		b = append(b, ',')
	}
	b = append(b, '"')
	b = append(b, key...)
	return append(b, '"', ':')
}

// AppendTextField appends a field that is a string.
func AppendTextField(b []byte, key, s string) []byte { return AppendText(AppendKey(b, key), s) }

// AppendNumberField appends a field that is a number.
func AppendNumberField(b []byte, key string, x float64) []byte {
	return AppendNumber(AppendKey(b, key), x)
}

// AppendIntegerField appends a field that is a whole number.
func AppendIntegerField(b []byte, key string, n int64) []byte {
	return AppendInteger(AppendKey(b, key), n)
}

// AppendBoolField appends a field that is true or false.
func AppendBoolField(b []byte, key string, v bool) []byte { return AppendBool(AppendKey(b, key), v) }

// AppendMap appends an object with its keys in order, null for a nil map.
func AppendMap[K ~string, V any](b []byte, m map[K]V, value func([]byte, V) []byte) []byte {
	if m == nil {
		return append(b, "null"...)
	}
	b = append(b, '{')
	for i, key := range SortedKeys(m) {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(AppendText(b, string(key)), ':')
		b = value(b, m[key])
	}
	return append(b, '}')
}

// AppendTexts appends a list of strings, null for a nil slice.
func AppendTexts[S ~string](b []byte, list []S) []byte {
	return AppendSlice(b, list, func(b []byte, s *S) []byte { return AppendText(b, string(*s)) })
}

// AppendSlice appends a list, null for a nil slice.
func AppendSlice[V any](b []byte, list []V, value func([]byte, *V) []byte) []byte {
	if list == nil {
		return append(b, "null"...)
	}
	b = append(b, '[')
	for i := range list {
		if i > 0 {
			b = append(b, ',')
		}
		b = value(b, &list[i])
	}
	return append(b, ']')
}

// SortedKeys returns the keys of a map in order.
func SortedKeys[K ~string, V any](m map[K]V) []K {
	keys := make([]K, 0, len(m))
	for key := range m {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}
