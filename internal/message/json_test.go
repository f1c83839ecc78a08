package message_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"doorsill/internal/decimal"
	"doorsill/internal/message"
)

func TestJSONForm(t *testing.T) {
	inner := message.New("strength.weak", message.Count("left", -3))
	inner.Text = `It is "weak".`
	tests := []struct {
		name string
		m    message.Message
		want string
	}{
		{"nothing", message.Message{}, `{"code":""}`},
		{"no arguments", message.New("a.b"), `{"code":"a.b"}`},
		{"numbers", message.New("a.b", message.Number("x", 0.1), message.Number("y", -2), message.Exact("z", 1), message.Number("large", 1e12)),
			`{"code":"a.b","args":{"x":0.1,"y":-2,"z":0.000001,"large":1000000000000}}`},
		{"no number", message.New("a.b", message.Number("x", math.Inf(1)), message.Number("y", 1e13)), `{"code":"a.b","args":{"x":null,"y":null}}`},
		{"words in their order", message.New("a.b", message.Word("z", "a\"<é"), message.Words("a", []string{"p", "q"})), `{"code":"a.b","args":{"z":"a\"<é","a":["p","q"]}}`},
		{"no words", message.New("a.b", message.Words("a", []string{})), `{"code":"a.b","args":{"a":[]}}`},
		{"messages", message.New("a.b", message.Inner("why", inner), message.List("more", []message.Message{message.New("c"), inner})),
			`{"code":"a.b","args":{"why":{"code":"strength.weak","args":{"left":-3},"text":"It is \"weak\"."},"more":[{"code":"c"},{"code":"strength.weak","args":{"left":-3},"text":"It is \"weak\"."}]}}`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			written := tt.m.AppendJSON(nil)
			if string(written) != tt.want {
				t.Errorf("wrote %s\n want %s", written, tt.want)
			}
			var got message.Message
			if err := json.Unmarshal(written, &got); err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.m, got); diff != "" {
				t.Errorf("read back (-want +got):\n%s", diff)
			}
		})
	}
	if text, err := json.Marshal(struct{ M message.Message }{message.New("a")}); err != nil || string(text) != `{"M":{"code":"a"}}` {
		t.Errorf("the standard library writes %s (%v)", text, err)
	}
}

func TestOfArgumentsThatStandTwiceTheLastCount(t *testing.T) {
	var got message.Message
	if err := json.Unmarshal([]byte(`{"code":"a","args":{"x":1},"args":{"y":2}}`), &got); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(message.New("a", message.Count("y", 2)), got); diff != "" {
		t.Errorf("read (-want +got):\n%s", diff)
	}
}

func TestWhatIsNoMessageIsRefused(t *testing.T) {
	for _, raw := range []string{
		`[]`, `{"code":1}`, `{"args":[]}`, `{"args":{"a":true}}`, `{"args":{"a":1e3}}`, `{"args":{"a":0.1234567}}`,
		`{"args":{"a":["x",{"code":"y"}]}}`, `{"args":{"a":[{"code":"y"},"x"]}}`, `{"args":{"a":[1]}}`, `{"args":{"a":{"code":2}}}`,
	} {
		var m message.Message
		if err := json.Unmarshal([]byte(raw), &m); err == nil {
			t.Errorf("%s was read as %+v", raw, m)
		}
	}
}

func FuzzNumber(f *testing.F) {
	for _, n := range []int64{0, 1, -1, 999_999, 1_000_000, -1_500_000, 1e18, -1e18} {
		f.Add(n)
	}
	f.Fuzz(func(t *testing.T, n int64) {
		if n > 1e18 || n < -1e18 {
			return // beyond what decimal.Of gives
		}
		want := decimal.Micro(n)
		var got decimal.Micro
		raw, err := json.Marshal(want)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(raw, &got); err != nil || got != want {
			t.Errorf("%s read as %d (%v), want %d", raw, got, err, want)
		}
	})
}
