package caseload

import (
	"cmp"
	"strings"
	"time"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"doorsill/internal/validation"
)

// comparison returns the order's comparison of two slots. Ties go by wait and
// then by slot, so that every order is total and a page never flickers.
func (t *team) comparison(order int) func(a, b int32) int {
	by := t.byWait
	switch sorts[order] {
	case SortLevel:
		by = func(a, b int32) int { return cmp.Compare(t.facts[a].level, t.facts[b].level) }
	case SortStops:
		by = func(a, b int32) int { return cmp.Compare(t.facts[b].stops, t.facts[a].stops) }
	case SortVisit:
		by = func(a, b int32) int { return cmp.Compare(t.lines[a].LastVisit, t.lines[b].LastVisit) }
	case SortRecheck:
		by = func(a, b int32) int { return cmp.Compare(t.facts[a].recheck, t.facts[b].recheck) }
	case SortName:
		by = func(a, b int32) int { return cmp.Compare(t.names[a], t.names[b]) }
	case SortPriority:
		by = func(a, b int32) int { return cmp.Compare(t.facts[a].priority, t.facts[b].priority) }
	}
	return func(a, b int32) int {
		// The id decides at last: the slot would be another one after a restart.
		return cmp.Or(by(a, b), t.byWait(a, b), cmp.Compare(t.lines[a].Client, t.lines[b].Client))
	}
}

// byWait puts the longest wait first and closed clients last.
func (t *team) byWait(a, b int32) int {
	x, y := &t.facts[a], &t.facts[b]
	if (x.status == closed) != (y.status == closed) {
		if x.status == closed {
			return 1
		}
		return -1
	}
	return cmp.Compare(x.referred, y.referred)
}

// fold sets case and accents aside, and spells out the letters that carry none
// but are typed without by many.
func fold(s string) string {
	var b strings.Builder
	b.Grow(len(s))
	for _, r := range norm.NFKD.String(s) {
		switch r = unicode.ToLower(r); {
		case unicode.Is(unicode.Mn, r):
		case r < unicode.MaxASCII:
			b.WriteRune(r)
		default:
			b.WriteString(plain(r))
		}
	}
	return b.String()
}

func plain(r rune) string {
	switch r {
	case 'ß':
		return "ss"
	case 'æ':
		return "ae"
	case 'œ':
		return "oe"
	case 'ø':
		return "o"
	case 'ł':
		return "l"
	case 'đ', 'ð':
		return "d"
	case 'þ':
		return "th"
	case 'ı':
		return "i"
	}
	return string(r)
}

// dayNumber counts days from 1970-01-01 to a date, never for one that is empty
// or can not be read.
func dayNumber(date string) int32 {
	day, ok := validation.DayOf(date)
	if !ok {
		return never
	}
	return int32(day)
}

// dayOf is the number of the day that the time shows in its own zone.
func dayOf(t time.Time) int32 {
	y, m, d := t.Date()
	return int32(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}
