package codegen

import (
	"fmt"
	"slices"
	"strings"
)

// checkWords are the words of a tag check that no check was made of yet.
type checkWords []string

// take removes a word and reports whether it was there.
func (w *checkWords) take(word string) bool {
	_, is := w.find(func(one string) bool { return one == word })
	return is
}

// option removes a word that begins with a prefix such as "max=" and returns what
// follows.
func (w *checkWords) option(prefix string) (string, bool) {
	word, is := w.find(func(one string) bool { return strings.HasPrefix(one, prefix) })
	return strings.TrimPrefix(word, prefix), is
}

// format removes the name of a format and returns the function that checks it.
func (w *checkWords) format() string {
	word, _ := w.find(func(one string) bool { return formats[one] != "" })
	return formats[word]
}

// between removes a range with both ends.
func (w *checkWords) between() (low, high string, is bool) {
	word, is := w.find(func(one string) bool { return isRange(one) && !strings.HasSuffix(one, "..") })
	low, high, _ = strings.Cut(word, "..")
	return low, high, is
}

// least removes a range without an upper end.
func (w *checkWords) least() (low string, is bool) {
	word, is := w.find(func(one string) bool { return strings.HasSuffix(one, "..") })
	return strings.TrimSuffix(word, ".."), is
}

func isRange(word string) bool { return strings.Contains(word, "..") }

func (w *checkWords) find(which func(string) bool) (string, bool) {
	i := slices.IndexFunc(*w, which)
	if i < 0 {
		return "", false
	}
	word := (*w)[i]
	*w = slices.Delete(*w, i, i+1)
	return word, true
}

// missing returns the error that the words hold no check.
func (w *checkWords) missing(want string) error {
	return fmt.Errorf("expected %s, got %q", want, strings.Join(*w, ","))
}

// used returns an error when words are left.
func (w *checkWords) used() error {
	if len(*w) == 0 {
		return nil
	}
	return fmt.Errorf("no use for %q in the tag check of this kind of field", strings.Join(*w, ","))
}
