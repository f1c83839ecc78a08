package sample

import "testing"

func TestAsk(t *testing.T) {
	if n, err := Ask(2); n != 4 || err != nil {
		t.Errorf("%d, %v", n, err)
	}
	if _, err := Ask(5); err == nil {
		t.Error("no error") // and none asks for exactly Most
	}
}

func TestBoth(t *testing.T) {
	if !Both(true, true) || Both(false, true) {
		t.Error("not both")
	}
}

func TestCount(t *testing.T) {
	for _, limit := range []int{3, 4} {
		if n := Count(limit); n != 2 {
			t.Errorf("%d", n)
		}
	}
}

func TestKind(t *testing.T) {
	if Kind("red") != "colour" || Kind("round") != "other" {
		t.Error("red is a colour")
	}
}
