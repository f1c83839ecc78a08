package validation

import (
	"testing"
	"time"
)

// TestDayOfCountsAsTheStandardLibraryDoes compares every day of 400 years, after
// which the calendar repeats, with package time.
func TestDayOfCountsAsTheStandardLibraryDoes(t *testing.T) {
	at := time.Date(1880, 1, 1, 0, 0, 0, 0, time.UTC)
	for want := int(at.Unix() / 86400); at.Year() <= 2280; want++ {
		text := at.Format(time.DateOnly)
		if got, ok := DayOf(text); !ok || got != want {
			t.Fatalf("DayOf(%s) = %d, %v; want %d", text, got, ok, want)
		}
		at = at.AddDate(0, 0, 1)
	}
	for _, text := range []string{"", "2026-02-29", "2026-13-01", "2026-1-1", "2026-01-01T", "soon"} {
		if _, ok := DayOf(text); ok {
			t.Errorf("%q counts as a date", text)
		}
	}
}
