package provenance_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
	"doorsill/internal/phrase"
)

// TestARefusalSaysFieldExpectationAndWhatIsLeft holds message and sentence of
// each way to refuse a number.
func TestARefusalSaysFieldExpectationAndWhatIsLeft(t *testing.T) {
	none, still := message.Message{}, message.New("Count again.")
	writer := phrase.NewWriter(phrase.English(), nil)
	for _, c := range []struct {
		err       error
		code, say string
	}{
		{provenance.AboveZero("rise", 0, 3000, "", none), "refusal.above-zero field=rise most=3000", "rise: expected a number above 0 and at most 3000"},
		{provenance.AboveZero("rise", -1, 0.1234, "mm", none), "refusal.above-zero-unit field=rise most=0.123 unit=mm", "rise: expected a number above 0 and at most 0.123 mm"},
		{provenance.AboveZero("rise", 10.1, 10, "", still), `refusal.above-zero-still field=rise most=10 still=[Count again.]`, "rise: expected a number above 0 and at most 10. Count again."},
		{provenance.AboveZero("rise", 0, 10, "mm", still), "refusal.above-zero-unit-still", "rise: expected a number above 0 and at most 10 mm. Count again."},
		{provenance.Between("pain", 11, 0.5, 10, "", none), "refusal.between field=pain least=0.5 most=10", "pain: expected a number from 0.5 to 10"},
		{provenance.Between("pain", -1, 0, 10, "kg", none), "refusal.between-unit field=pain", "pain: expected a number from 0 to 10 kg"},
		{provenance.Between("pain", -1, 0, 10, "", still), "refusal.between-still field=pain", "pain: expected a number from 0 to 10. Count again."},
		{provenance.Between("pain", -1, 0, 10, "kg", still), "refusal.between-unit-still field=pain", "pain: expected a number from 0 to 10 kg. Count again."},
		{provenance.InPart("stage", 2, provenance.Between("pain", -1, 0, 10, "", none)), "refusal.in-part part=stage n=2 why=[refusal.between field=pain", "stage 2, pain: expected a number from 0 to 10"},
	} {
		var refusal *provenance.Refusal
		if !errors.As(c.err, &refusal) || !strings.HasPrefix(c.err.Error(), c.code) {
			t.Errorf("got %v, want %s", c.err, c.code)
			continue
		}
		if got := writer.Text(&refusal.Message); got != c.say {
			t.Errorf("%s: got %q, want %q", c.code, got, c.say)
		}
	}
	other := errors.New("other")
	if provenance.InPart("stage", 2, nil) != nil || provenance.InPart("stage", 2, other) != other {
		t.Error("InPart changes what is no refusal")
	}
}

func TestOnlyNumbersInRangePass(t *testing.T) {
	none := message.Message{}
	for _, x := range []float64{0, -1, 11, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if provenance.AboveZero("x", x, 10, "", none) == nil {
			t.Errorf("AboveZero let %v pass", x)
		}
	}
	for _, x := range []float64{-1, 11, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if provenance.Between("x", x, 0, 10, "", none) == nil {
			t.Errorf("Between let %v pass", x)
		}
		if provenance.Measured(x) != (x == -1 || x == 11) {
			t.Errorf("Measured(%v) is wrong", x)
		}
	}
	if provenance.AboveZero("x", 0.001, 10, "", none) != nil {
		t.Error("what is just above 0 is refused")
	}
	if provenance.First(nil, provenance.Between("x", 0, 0, 10, "", none), provenance.AboveZero("x", 10, 10, "", none), provenance.Between("x", 10, 0, 10, "", none)) != nil {
		t.Error("the ends of a range are refused")
	}
}

func TestRoundingHasNoNegativeZeroAndNoTail(t *testing.T) {
	for _, c := range []struct {
		x        float64
		decimals int
		want     float64
	}{
		{-0.0004, 3, 0}, {2.5, 0, 3}, {-2.5, 0, -3}, {1234.5678, 2, 1234.57}, {0.30000000000000004, 4, 0.3}, {1e6, 1, 1e6},
	} {
		got := provenance.Round(c.x, c.decimals)
		if got != c.want {
			t.Errorf("Round(%v, %d) = %v, want %v", c.x, c.decimals, got, c.want)
		}
		if math.Signbit(got) && got == 0 {
			t.Errorf("Round(%v) is a negative zero", c.x)
		}
	}
}
