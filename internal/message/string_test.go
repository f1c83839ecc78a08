package message_test

import (
	"testing"

	"doorsill/internal/message"
)

func TestStringNamesCodeAndArguments(t *testing.T) {
	inner := message.New("inner", message.Count("n", 2))
	for want, m := range map[string]message.Message{
		"":                                    {},
		"plain":                               message.New("plain"),
		"a x=2.25 y=too-large":                message.New("a", message.Number("x", 2.25), message.Number("y", 1e13)),
		`a x=chin y="own words" z=`:           message.New("a", message.Word("x", "chin"), message.Word("y", "own words"), message.Word("z", "")),
		`a x=b,"c d"`:                         message.New("a", message.Words("x", []string{"b", "c d"})),
		"a x=[inner n=2] y=[inner n=2][more]": message.New("a", message.Inner("x", inner), message.List("y", []message.Message{inner, message.New("more")})),
	} {
		if got := m.String(); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}
