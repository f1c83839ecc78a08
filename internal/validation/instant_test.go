package validation_test

import (
	"testing"
	"time"

	"doorsill/internal/validation"
)

func TestInstantOf(t *testing.T) {
	for _, text := range []string{"1970-01-01T00:00:00.000Z", "2026-03-02T10:05:20.250Z", "2024-02-29T23:59:59.999Z", "2026-03-02T10:05:20Z", "2026-03-02T10:05:20.5Z", "2026-03-02T10:05:20.123456Z", "1969-12-31T23:59:59.900Z"} {
		want, err := time.Parse(time.RFC3339, text)
		if got, ok := validation.InstantOf(text); err != nil || !ok || got != want.UnixMilli() {
			t.Errorf("%s: %d, %v; want %d", text, got, ok, want.UnixMilli())
		}
	}
	for _, text := range []string{"", "2026-03-02", "2026-03-02T10:05:20", "2026-03-02T25:05:20Z", "2026-13-02T10:05:20Z", "2026-03-02T9:05:20.000Z"} {
		if _, ok := validation.InstantOf(text); ok {
			t.Errorf("%q is no such time", text)
		}
	}
}
