package fields_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/fields"
)

func TestDecimalReadsPlainNumbersOnly(t *testing.T) {
	for _, text := range []string{"0", "-0", "7", "0.5", "-3", "12.25", "007", "0.000001", "123456789012345", "99999999999999.9", "0.30000000000000004"} {
		want, err := strconv.ParseFloat(text, 64)
		if got, ok := fields.Decimal(text); err != nil || !ok || math.Abs(got-want) > 1e-15*math.Abs(want) {
			t.Errorf("%q: got %v, %v, want %v", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "-", ".5", "5.", "1.2.3", "+1", "1e3", "NaN", "Inf", "0x1", " 1", "1 ", "1234567890123456", "--1", "½"} {
		if got, ok := fields.Decimal(text); ok {
			t.Errorf("%q: got %v, want a refusal", text, got)
		}
	}
}

func TestWholeReadsWholeNumbersOnly(t *testing.T) {
	for text, want := range map[string]int{"0": 0, "12": 12, "-3": -3, "007": 7, "123456789012345": 123456789012345} {
		if got, ok := fields.Whole(text); !ok || got != want {
			t.Errorf("%q: got %d, %v, want %d", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "-", "+1", "1.0", "1e3", "1234567890123456", " 1"} {
		if got, ok := fields.Whole(text); ok {
			t.Errorf("%q: got %d, want a refusal", text, got)
		}
	}
}

func TestSplitGivesOneMorePieceThanMarks(t *testing.T) {
	for _, text := range []string{"", "a", "a,b", ",", "a,,b,"} {
		if got, want := fields.Split(text, ','), strings.Split(text, ","); strings.Join(got, "|") != strings.Join(want, "|") || len(got) != len(want) {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

func FuzzDecimalIsTheLibrarysNumber(f *testing.F) {
	f.Add("12.5")
	f.Fuzz(func(t *testing.T, text string) {
		got, ok := fields.Decimal(text)
		if !ok {
			return
		}
		if want, err := strconv.ParseFloat(text, 64); err != nil || math.Abs(got-want) > 1e-14*math.Abs(want)+1e-14 {
			t.Errorf("%q: got %v, want %v, %v", text, got, want, err)
		}
	})
}
