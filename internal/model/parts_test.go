package model_test

import (
	"testing"

	"doorsill/internal/model"
)

// TestAnAnswerOfAnotherItem is refused in a visit, also where each of the two
// could have been said.
func TestAnAnswerOfAnotherItem(t *testing.T) {
	head := func(item string) model.Given {
		return model.Given{AnswerGiven: model.AnswerGiven{Item: item, State: model.StateAnswered, Level: "3"}}
	}
	visit := model.Visit{Answers: []model.Answer{{Item: "pos-head", Heads: []model.Given{head("pos-head")}}}}
	if err := visit.Check(); err != nil {
		t.Error(err)
	}
	visit.Answers[0].Heads = append(visit.Answers[0].Heads, head("pos-feet"))
	want := `answers[0].heads[1].item: expected "pos-head" as in its answer, got "pos-feet"`
	if err := visit.Check(); err == nil || err.Error() != want {
		t.Errorf("got %v\nwant %s", err, want)
	}
}

// TestFieldsThatMayBeSet of a client; its team is not one.
func TestFieldsThatMayBeSet(t *testing.T) {
	var client model.Client
	if !client.Set("ref", "N-1") || client.Ref != "N-1" {
		t.Errorf("ref is %q", client.Ref)
	}
	if client.Set("team", "south") || client.Team != "" {
		t.Errorf("team is %q", client.Team)
	}
}

// TestNeedsByTheirKey: a map is emptied one key at a time.
func TestNeedsByTheirKey(t *testing.T) {
	needs := model.NeedsNoted{Rejected: map[string]string{"lip": "sore", "chin": "wet"}, Moisture: map[string]string{"lip": "dry"}}
	needs.Unset("rejected.lip")
	if len(needs.Rejected) != 1 || needs.Rejected["chin"] != "wet" || needs.Moisture["lip"] != "dry" {
		t.Errorf("%+v", needs)
	}
	needs.Unset("moisture.lip")
	needs.Unset("rejected.chin")
	if !needs.Empty() {
		t.Errorf("%+v", needs)
	}
}

func TestRawIsWrittenAsItCame(t *testing.T) {
	for _, raw := range []model.Raw{nil, model.Raw(`{"a": 1}`)} {
		want := string(raw)
		if raw == nil {
			want = "null"
		}
		marshalled, err := raw.MarshalJSON()
		if got := string(raw.AppendJSON([]byte("x"))); err != nil || string(marshalled) != want || got != "x"+want {
			t.Errorf("%q: %s and %s, %v", raw, marshalled, got, err)
		}
	}
	if err := (*model.Raw)(nil).UnmarshalJSON([]byte("1")); err == nil {
		t.Error("read into nothing")
	}
}
