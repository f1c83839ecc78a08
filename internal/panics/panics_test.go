package panics_test

import (
	"strings"
	"testing"

	"doorsill/internal/panics"
)

// caught runs fn and words its panic.
func caught(fn func()) (err error) {
	defer func() { err = panics.Error(recover()) }()
	fn()
	return nil
}

// stumbles panics by the runtime's hand.
func stumbles() {
	var list []int
	list[len(list)]++
}

func TestWhatAPanicIsCalled(t *testing.T) {
	if err := caught(stumbles); !strings.Contains(err.Error(), "index out of range") || !strings.Contains(err.Error(), "panics_test.stumbles") {
		t.Errorf("neither what happened nor where: %v", err)
	}
	if err := caught(func() { panic("somebody typed this") }); strings.Contains(err.Error(), "somebody typed") || !strings.Contains(err.Error(), "panic: string\n") {
		t.Errorf("what somebody typed is in it: %v", err)
	}
}
