package provenance_test

import (
	"errors"
	"math"
	"testing"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// TestARangeIsToldToThreeDecimals: and not to the last digit of a sum.
func TestARangeIsToldToThreeDecimals(t *testing.T) {
	const least, most = 2.00049, 30.00049
	for _, c := range []struct {
		err  error
		want string
	}{
		{provenance.AboveZero("run", 0, most, "mm", message.Message{}), "refusal.above-zero-unit field=run most=30 unit=mm"},
		{provenance.Between("run", 2, least, most, "mm", message.Message{}), "refusal.between-unit field=run least=2 most=30 unit=mm"},
	} {
		if c.err == nil || c.err.Error() != c.want {
			t.Errorf("told as %v, want %s", c.err, c.want)
		}
	}
}

// TestTheFirstRefusalIsTold: and another error by its text.
func TestTheFirstRefusalIsTold(t *testing.T) {
	first, second := provenance.AboveZero("rise", 0, 1, "", message.Message{}), errors.New("trend.other")
	if got := provenance.First(nil, first, second); !errors.Is(got, first) {
		t.Errorf("first of several: %v", got)
	}
	if got := provenance.First(nil, nil); got != nil {
		t.Errorf("first of none: %v", got)
	}
	if got := provenance.MessageOf(first).Code; got != "refusal.above-zero" {
		t.Errorf("a refusal has the message %s", got)
	}
	if got := provenance.MessageOf(second).Code; got != "trend.other" {
		t.Errorf("another error has the message %s", got)
	}
}

// TestABorrowedFigureSaysSo: numbers found on another part of the body.
func TestABorrowedFigureSaysSo(t *testing.T) {
	own, borrowed := provenance.Published.Message(false), provenance.Published.Message(true)
	if own.Code != "provenance.status" || borrowed.Code != "provenance.status-borrowed" {
		t.Errorf("%s, %s", own.Code, borrowed.Code)
	}
}

// TestNoNegativeZero: "-0 mm" is no figure.
func TestNoNegativeZero(t *testing.T) {
	for name, x := range map[string]float64{
		"floor": provenance.Floor(math.Copysign(0, -1), 1), "ceil": provenance.Ceil(-0.4, 0),
	} {
		if x != 0 || math.Signbit(x) {
			t.Errorf("%s gives %v", name, x)
		}
	}
}
