package validation_test

import (
	"strings"
	"testing"
	"time"

	"doorsill/internal/validation"
)

func TestErrorSaysItInOneLine(t *testing.T) {
	tests := []struct {
		err  *validation.Error
		want string
	}{
		{validation.Between("level", 7, 0, 4, "").Within("body"), `body.level: expected 0 to 4, got 7`},
		{validation.Between("rise", -0.5, 0, 4, "mm"), `rise: expected 0 to 4 mm, got -0.5`},
		{validation.OneOf("[1]", "up", []string{"left", "right", "press"}).Within("needed"), `needed[1]: expected left, right or press, got "up"`},
		{validation.OneOf("way", "", []string{"left"}), `way: expected left`},
		{validation.Required("", "", 9, "a name").Within("name"), `name: expected a name`},
		{validation.MaxLength("name", "ééé", 2), `name: expected at most 2 characters, got 3`},
		{validation.ID("id", strings.Repeat("x", 65)), `id: expected an id of 1 to 64 letters, digits, hyphens or underscores, got "` + strings.Repeat("x", 40) + `…"`},
		{validation.SHA256("hash", "AB"), `hash: expected a SHA-256 of 64 hex digits, got "AB"`},
		{validation.Date("born", "2200-02-29"), `born: expected a date such as 2026-03-01, got "2200-02-29"`},
		{validation.Date("born", "1879-12-31"), `born: expected a date between 1880 and 2200, got 1879-12-31`},
	}
	for _, tt := range tests {
		if tt.err == nil || tt.err.Error() != tt.want {
			t.Errorf("got %v\nwant %s", tt.err, tt.want)
		}
	}
}

func TestWhatIsRightPasses(t *testing.T) {
	if err := validation.First(
		validation.Between("a", 4, 0, 4, ""), validation.OneOf("b", "x", []string{"y", "x"}),
		validation.Required("c", "éé", 2, ""), validation.ID("d", "a-B_9"),
		validation.SHA256("e", strings.Repeat("0a", 32)), validation.Date("f", "2000-02-29"),
	); err != nil {
		t.Error(err)
	}
	if err := (*validation.Error)(nil).Within("body"); err != nil {
		t.Errorf("no error became %v", err)
	}
}

// FuzzDate holds that a date or time is accepted exactly when the standard
// library accepts it.
func FuzzDate(f *testing.F) {
	for _, text := range []string{
		"2026-03-01", "1900-02-29", "2000-02-29", "2026-04-31", "2026-13-01", "2026-00-10", "2026-01-00", "226-03-01",
		"2026-3-01", "2026-03-1", "+026-03-01", "2026-03-01 ", "0000-01-01", "1880-01-01", "2200-12-31", "2201-01-01",
		"2026-03-01T09:30:00.000Z", "2026-03-01T09:30:00Z", "2026-03-01T9:30:00Z", "2026-03-01T09:30:00,5Z", "2026-03-01T24:00:00Z",
		"2026-03-01T09:30:60Z", "2026-03-01T09:60:00Z", "2026-03-01T09:30:00.Z", "2026-03-01T09:30Z", "2026-03-01t09:30:00Z",
		"2026-03-01T09:30:00.123456789123Z", "2026-02-30T09:30:00Z", "2026-03-01T09:30:0Z", "2026-03-01T093:30:00Z", "Z",
		"2026-03-01T09:30:00+00:00", "2026-03-01T09:30:00z", "2026-03-01T-9:30:00Z", "2026-03-01T09:30:00 Z",
	} {
		f.Add(text)
	}
	f.Fuzz(sameAsTheLibrary)
}

// sameAsTheLibrary reads a text as a date and as a time.
func sameAsTheLibrary(t *testing.T, text string) {
	t.Helper()
	day, err := time.Parse(time.DateOnly, text)
	want := err == nil && day.Year() >= 1880 && day.Year() <= 2200
	if got := validation.Date("", text) == nil; got != want {
		t.Errorf("date %q: accepted %v, the standard library %v", text, got, want)
	}
	_, err = time.Parse(time.RFC3339, text)
	want = err == nil && strings.HasSuffix(text, "Z")
	if got := validation.ValidTime(text); got != want {
		t.Errorf("time %q: accepted %v, the standard library %v", text, got, want)
	}
}

// TestDatesWithOneByteWrong cuts dates and times at every byte, and puts others
// in the place of every byte.
func TestDatesWithOneByteWrong(t *testing.T) {
	for _, text := range []string{"2026-03-01", "2026-03-01T09:30:00.125Z", "2026-03-01T9:30:59,5Z", "2026-12-31T23:59:00Z"} {
		for i := range text {
			sameAsTheLibrary(t, text[:i])
			sameAsTheLibrary(t, text[:i]+text[i+1:])
			for _, c := range "/0359:-.,TZz x" {
				sameAsTheLibrary(t, text[:i]+string(c)+text[i+1:])
				sameAsTheLibrary(t, text[:i]+string(c))
			}
		}
	}
}
