package rules

import (
	"strconv"
	"strings"
)

// first is the first line of the text form, up to the hash.
const first = "doorsill-rules\t1\t"

// Encode writes the set as text: one line for the set, then a line for each
// section, item, effect and condition, in order. Fields are parted by a TAB,
// lists by a comma, and "-" stands for nothing:
//
//	doorsill-rules  1  hash
//	section  code  title
//	item     id  type  weight  na  needed  better  bounds  decimals  of  sides  from  unit  title
//	effect   effect
//	when     levels  bands  facts
//
// Texts must be free of control characters, which a parsed checklist is. One
// set has one text, so two sets are the same when their texts are.
func (s Set) Encode() []byte {
	b := append([]byte(first), s.Hash...)
	b = append(b, '\n')
	for _, section := range s.Sections {
		b = line(b, "section", section.Code, section.Title)
		for _, item := range section.Items {
			b = item.encode(b)
		}
	}
	return b
}

// Parse is Read for a text that must be exactly what Encode writes: one that
// Encode would have written in another way is refused too.
func Parse(b []byte) (Set, error) {
	set, err := Read(b)
	if err == nil && string(set.Encode()) != string(b) {
		err = &lineError{strings.Count(string(b), "\n"), asWritten}
	}
	if err != nil {
		return Set{}, err
	}
	return set, nil
}

func (i Item) encode(b []byte) []byte {
	b = line(b, "item", i.ID, i.Type, strconv.Itoa(i.Weight), flag(i.NA), flag(i.Needed),
		orDash(i.Better), join(i.Bounds, number), strconv.Itoa(i.Decimals),
		strconv.Itoa(i.Of), flag(i.Sides), orDash(i.From), orDash(i.Unit), i.Title)
	for _, effect := range i.Effects {
		b = line(b, "effect", effect.Effect)
		for _, when := range effect.When {
			b = line(b, "when", join(when.Levels, same),
				join(when.Bands, strconv.Itoa), join(when.Facts, same))
		}
	}
	return b
}

func line(b []byte, name string, fields ...string) []byte {
	b = append(b, name...)
	for _, field := range fields {
		b = append(b, '\t')
		b = append(b, field...)
	}
	return append(b, '\n')
}

func same(text string) string { return text }

func number(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }

func flag(yes bool) string {
	if yes {
		return "1"
	}
	return "0"
}

func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

func join[T any](values []T, text func(T) string) string {
	if len(values) == 0 {
		return "-"
	}
	texts := make([]string, len(values))
	for i, value := range values {
		texts[i] = text(value)
	}
	return strings.Join(texts, ",")
}
