package record_test

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/validation"
)

func sample(change func(map[string]any)) []byte {
	event := map[string]any{
		"tablet": "tab-a", "n": 1, "kind": "answer-given", "subject": "v1", "author": "marit",
		"at": "2026-03-02T09:00:00.000Z", "zone": "Europe/Dublin", "schema": 1, "seen": 0,
		"body": map[string]any{"item": "pos-pelvis", "state": "answered", "level": "3"},
	}
	change(event)
	raw, err := json.Marshal(event)
	if err != nil {
		panic(err)
	}
	return raw
}

func TestDecodeRefusesByField(t *testing.T) {
	tests := []struct {
		name  string
		raw   []byte
		code  string
		field string
	}{
		{"no tablet", sample(func(e map[string]any) { delete(e, "tablet") }), validation.CodeRequired, "tablet"},
		{"tablet with a space", sample(func(e map[string]any) { e["tablet"] = "a b" }), validation.CodeWrongType, "tablet"},
		{"tablet too long", sample(func(e map[string]any) { e["tablet"] = strings.Repeat("a", 65) }), validation.CodeWrongType, "tablet"},
		{"n is 0", sample(func(e map[string]any) { e["n"] = 0 }), validation.CodeOutOfRange, "n"},
		{"n with a fraction", sample(func(e map[string]any) { e["n"] = 1.5 }), validation.CodeWrongType, "n"},
		{"n beyond counting", sample(func(e map[string]any) { e["n"] = json.Number("9007199254740993") }), validation.CodeWrongType, "n"},
		{"kind in capitals", sample(func(e map[string]any) { e["kind"] = "Answer" }), validation.CodeWrongType, "kind"},
		{"time without a zone", sample(func(e map[string]any) { e["at"] = "2026-03-02T09:00:00" }), validation.CodeWrongType, "at"},
		{"time in a zone", sample(func(e map[string]any) { e["at"] = "2026-03-02T09:00:00+01:00" }), validation.CodeWrongType, "at"},
		{"no seen", sample(func(e map[string]any) { delete(e, "seen") }), validation.CodeRequired, "seen"},
		{"no body", sample(func(e map[string]any) { delete(e, "body") }), validation.CodeRequired, "body"},
		{"body is a list", sample(func(e map[string]any) { e["body"] = []int{} }), validation.CodeRequired, "body"},
		{"a list", []byte(`[]`), validation.CodeBrokenJSON, ""},
		{"more after the end", append(sample(func(map[string]any) {}), '}'), validation.CodeBrokenJSON, ""},
		{"a comma too many", []byte(`{"n":1,}`), validation.CodeBrokenJSON, ""},
		{"a number that is none", []byte(`{"n":01}`), validation.CodeBrokenJSON, ""},
		{"an escape that is none", []byte(`{"kind":"\x"}`), validation.CodeBrokenJSON, ""},
		{"a line end in a text", []byte("{\"kind\":\"a\nb\"}"), validation.CodeBrokenJSON, ""},
		{"nested without end", []byte(`{"x":` + strings.Repeat("[", 10_000)), validation.CodeBrokenJSON, ""},
		{"a capital in a field name", []byte(strings.Replace(string(sample(func(map[string]any) {})), `"tablet"`, `"Tablet"`, 1)), validation.CodeRequired, "tablet"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := record.Decode(tt.raw)
			var bad *validation.Error
			if !errors.As(err, &bad) {
				t.Fatalf("got %v, want a refusal", err)
			}
			if bad.Code != tt.code || bad.Path != tt.field || bad.Want == "" {
				t.Errorf("got %+v, want %s at %q", bad, tt.code, tt.field)
			}
		})
	}
}

// Full bodies pass our checks and come back as they were written. Package model
// holds that every field of every kind is read.
func TestBodiesComeBack(t *testing.T) {
	half := 0.5
	bodies := map[string]any{
		model.KindClientOpened:   &model.ClientOpened{Team: "north", Ref: "N-1", Name: "Robin “Bo” Vale", Born: "1961-05-04", Referred: "2026-02-20", Priority: "soon", Course: "slow", Reason: "a\nb", Visiting: "dog"},
		model.KindClientChanged:  &model.ClientChanged{Fields: map[string]string{"born": "", "name": "Ash"}},
		model.KindClientAssigned: &model.ClientAssigned{Assignee: "marit", Status: "hold", Version: 3, By: "lena"},
		model.KindVisitStarted:   &model.VisitStarted{Client: "c1", Team: "north", Unit: "ozf", Checklist: model.ChecklistRef{ID: "standard", Version: "1", Hash: strings.Repeat("0a", 32)}},
		model.KindVisitNoted:     &model.VisitNoted{Fields: map[string]string{"goals": "shop alone"}},
		model.KindAnswerGiven:    &model.AnswerGiven{Item: "per-sides", State: "answered", Left: &half, Right: &half, Facts: map[string]bool{"only-stop": true}, Note: "\u2028"},
		model.KindAnswerChosen:   &model.AnswerChosen{Item: "pos-pelvis", Keep: "tab-a:1", Drop: []model.Ref{"tab-b:2", "tab-c:10"}},
		model.KindReadingTaken:   &model.ReadingTaken{What: model.ReadRelease, Site: "chin", Direction: "forward", State: "tired", Supported: true, Unit: "s", Missed: true, Note: "x"},
		model.KindReadingMarked:  &model.ReadingMarked{Reading: "tab-a:3", Slip: true, Reason: "x"},
		model.KindReadingMoved:   &model.ReadingMoved{Reading: "tab-a:3", Direction: "left", State: "tired", Supported: true, Note: "x"},
		model.KindRunTimed:       &model.RunTimed{Route: "hall", Place: "rough", State: "rested", Seconds: 61.5, Metres: 40, Things: 1, People: 2, Prompts: 3, Rescues: 4, Unmeant: 5, Presses: 6, Note: "x"},
		model.KindRunMarked:      &model.RunMarked{Run: "tab-a:4", Slip: true, Reason: "x"},
		model.KindSetupChosen:    &model.SetupChosen{Class: "small", Control: "left one", Site: "chin", StartGF: 4, OperateGF: 50, TravelMM: 9, Throw: map[string]float64{"left": 60}, Needed: []string{"forward"}, SwitchPressGF: 80, Place: "home", Window: "mornings"},
		model.KindPlanAgreed:     &model.PlanAgreed{Recheck: "2026-05-01", Note: "x"},
		model.KindOverrideMade:   &model.OverrideMade{Level: "pause", Reason: "other", Text: "x", Mitigation: "y", Agreed: "z", From: "2026-03-02", Until: "2026-03-09"},
		model.KindVisitSigned:    &model.VisitSigned{Level: "pause", Result: strings.Repeat("0a", 32), Name: "Marit"},
		model.KindAmendmentMade:  &model.AmendmentMade{Reason: "x", Kind: model.KindPlanAgreed, Change: model.Raw(`{"note":"y"}`)},
	}
	for kind, want := range bodies {
		t.Run(kind, func(t *testing.T) {
			raw := sample(func(e map[string]any) { e["kind"], e["body"] = kind, want })
			event, err := record.Decode(raw)
			if err != nil {
				t.Fatal(err)
			}
			got, err := record.ReadBody(&event)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got, want) {
				t.Errorf("got %+v\nwant %+v", got, want)
			}
		})
	}
}

// Of a field that a stored body names twice the last value counts: such bodies
// were taken before Receive refused them, and must go on meaning the same.
func TestOfAFieldThatAStoredBodyNamesTwiceTheLastCounts(t *testing.T) {
	sum := strings.Repeat("0a", 32)
	for _, tt := range []struct {
		kind, body string
		want       model.Body
	}{
		{model.KindNeedsUnset, `{"fields":["base"],"fields":["course"]}`, &model.NeedsUnset{Fields: []string{"course"}}},
		{model.KindVisitNoted, `{"fields":{"goals":"a"},"fields":{"story":"b"}}`, &model.VisitNoted{Fields: map[string]string{"story": "b"}}},
		{model.KindAnswerGiven, `{"item":"x","state":"answered","level":"2","level":null}`, nil},
		{model.KindAnswerGiven, `{"item":"x","state":"answered","number":2,"number":null,"level":"1"}`, &model.AnswerGiven{Item: "x", State: "answered", Level: "1"}},
		{model.KindKitPacked, `{"controls":[{"id":"a"}],"controls":[{"id":"k","id":"b","name":"B","class":"small"}]}`,
			&model.KitPacked{Controls: []model.PackedControl{{ID: "b", Name: "B", Class: "small"}}}},
		{model.KindVisitStarted, `{"client":"c","team":"t","unit":"N","checklist":{"id":"old","note":1},"checklist":{"id":"a","version":"1","hash":"` + sum + `"}}`,
			&model.VisitStarted{Client: "c", Team: "t", Unit: "N", Checklist: model.ChecklistRef{ID: "a", Version: "1", Hash: sum}}},
		{model.KindVisitStarted, `{"client":"c","team":"t","unit":"N","checklist":{"id":"a","version":"1"},"checklist":{"hash":"` + sum + `"}}`, nil},
		{model.KindAmendmentMade, `{"reason":"x","kind":"plan-agreed","change":{"note":"a"},"change":{"note":"b"}}`,
			&model.AmendmentMade{Reason: "x", Kind: model.KindPlanAgreed, Change: model.Raw(`{"note":"b"}`)}},
	} {
		got, err := record.ReadBody(&model.Event{Kind: tt.kind, Schema: 1, Body: []byte(tt.body)})
		if tt.want == nil {
			if err == nil {
				t.Errorf("%s: took %+v", tt.body, got)
			}
			continue
		}
		if err != nil || !reflect.DeepEqual(got, tt.want) {
			t.Errorf("%s: got %+v (%v), want %+v", tt.body, got, err, tt.want)
		}
	}
}

func TestRefusalSaysItInOneLine(t *testing.T) {
	_, err := record.ReadBody(&model.Event{Kind: model.KindSetupChosen, Schema: 1,
		Body: []byte(`{"class":"small","site":"chin","needed":["forward","up"]}`)})
	want := `body.needed[1]: expected forward, reverse, left or right, got "up"`
	if err == nil || err.Error() != want {
		t.Errorf("got %v\nwant %s", err, want)
	}
}

// Whatever comes, reading it ends, and what is read as an event is JSON to the
// library too.
func FuzzDecode(f *testing.F) {
	f.Add(sample(func(map[string]any) {}))
	f.Add([]byte(`{"body":{"a":[1e5,-0.1,"\u00e9",null,true]}}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		event, err := record.Decode(raw)
		if err != nil {
			return
		}
		if !json.Valid(raw) {
			t.Errorf("read what is not JSON: %q", raw)
		}
		if body, err := record.ReadBody(&event); err == nil && body != nil {
			fold := record.NewVisitFold(model.Logs{})
			fold.Add(1, &event, body)
			fold.Visit()
		}
	})
}
