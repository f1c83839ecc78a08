package validation

import "strconv"

// Dates are read here and not by package time, which would add 60 kB to what
// every tablet downloads. What is accepted is what time.Parse accepts; a test
// compares the two.

// Date wants a day between 1880 and 2200, as 2006-01-02.
func Date(path, text string) *Error {
	d, rest, ok := cutDate(text)
	if !ok || rest != "" {
		return Unexpected(CodeWrongType, path, "a date such as 2026-03-01", text)
	}
	if d.year < 1880 || d.year > 2200 {
		return &Error{Code: CodeOutOfRange, Path: path, Want: "a date between 1880 and 2200", Got: text}
	}
	return nil
}

// ValidTime reports whether a text is a time in UTC after RFC 3339, such as
// 2026-03-01T09:30:00.000Z. Earlier versions also took an hour of one digit and
// a comma before the fraction, and such events are in logs.
func ValidTime(text string) bool {
	_, text, ok := cutDate(text)
	if !ok || len(text) < 2 || text[0] != 'T' {
		return false
	}
	text = text[1:]
	hourDigits := 1
	if len(text) > 1 && digit(text[1]) {
		hourDigits = 2
	}
	if _, text, ok = cutNumber(text, hourDigits, 23); !ok {
		return false
	}
	for range 2 { // minutes, seconds
		if len(text) == 0 || text[0] != ':' {
			return false
		}
		if _, text, ok = cutNumber(text[1:], 2, 59); !ok {
			return false
		}
	}
	return cutFraction(text) == "Z"
}

// cutFraction takes ".123" off the front, if it is there.
func cutFraction(text string) string {
	if len(text) < 2 || text[0] != '.' && text[0] != ',' || !digit(text[1]) {
		return text
	}
	end := 2
	for end < len(text) && digit(text[end]) {
		end++
	}
	return text[end:]
}

// civil is a day of the calendar.
type civil struct{ year, month, day int }

// cutDate takes a day off the front of a text.
func cutDate(text string) (d civil, rest string, ok bool) {
	d.year, rest, ok = cutNumber(text, 4, 9999)
	if !ok || rest == "" || rest[0] != '-' {
		return civil{}, "", false
	}
	d.month, rest, ok = cutNumber(rest[1:], 2, 12)
	if !ok || d.month == 0 || rest == "" || rest[0] != '-' {
		return civil{}, "", false
	}
	d.day, rest, ok = cutNumber(rest[1:], 2, daysIn(d.year, d.month))
	return d, rest, ok && d.day > 0
}

// DayOf is a date such as 2006-01-02 as days since 1 January 1970. It is false
// for a text that is no date.
func DayOf(text string) (day int, ok bool) {
	d, rest, ok := cutDate(text)
	if !ok || rest != "" {
		return 0, false
	}
	const year, epoch = 365, 1970
	before := d.year - 1
	leaps := func(years int) int { return years/4 - years/100 + years/400 }
	day = year*(d.year-epoch) + leaps(before) - leaps(epoch-1) + d.day - 1
	for month := 1; month < d.month; month++ {
		day += daysIn(d.year, month)
	}
	return day, true
}

// InstantOf is a time such as 2006-01-02T15:04:05.000Z as milliseconds since the
// begin of 1970. It is false for a text that is no such time.
func InstantOf(text string) (ms int64, ok bool) {
	const date, clock = len("2006-01-02"), len("2006-01-02T15:04:05")
	if len(text) < clock || !ValidTime(text) {
		return 0, false
	}
	day, ok := DayOf(text[:date])
	hour, rest, hours := cutNumber(text[date+1:], 2, 23)
	if !ok || !hours {
		return 0, false // an hour of one digit
	}
	minute, rest, _ := cutNumber(rest[1:], 2, 59)
	second, rest, _ := cutNumber(rest[1:], 2, 59)
	ms = (int64(day)*24*3600 + int64(hour*3600+minute*60+second)) * 1000
	for i, worth := 1, int64(100); i < len(rest)-1 && worth > 0; i, worth = i+1, worth/10 {
		ms += int64(rest[i]-'0') * worth
	}
	return ms, true
}

// cutNumber takes a number of so many digits off the front of a text.
func cutNumber(text string, digits, most int) (n int, rest string, ok bool) {
	if len(text) < digits {
		return 0, "", false
	}
	for i := range digits {
		if !digit(text[i]) {
			return 0, "", false
		}
	}
	n, err := strconv.Atoi(text[:digits])
	return n, text[digits:], err == nil && n <= most
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

func daysIn(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}
