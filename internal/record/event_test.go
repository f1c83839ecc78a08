package record_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/validation"
)

// decoded reads the sample event in which one field has another value and says
// what was refused; nothing when it is read.
func decoded(field string, value any) (code, at string) {
	_, err := record.Decode(sample(func(e map[string]any) { e[field] = value }))
	var bad *validation.Error
	if errors.As(err, &bad) {
		return bad.Code, bad.Path
	}
	return "", ""
}

// TestFieldsOfAnEvent holds the forms and limits of PROTOCOL.md, section 1.
func TestFieldsOfAnEvent(t *testing.T) {
	kinds := forms{
		right: []string{"a", "z", "0", "9", "-", "photo-added-2", strings.Repeat("a", 40)},
		wrong: []string{"A", "`", "{", "/", ":", "_", "a b", "é", strings.Repeat("a", 41)},
	}
	times := forms{
		right: []string{"2026-03-02T09:00:00.000Z", "2026-03-02T09:00:00Z", "2026-03-02T09:00:00.123456Z"},
		wrong: []string{"2026-03-02T25:00:00.000Z", "2026-02-30T09:00:00Z", "soonZ", "2026-03-02", "2026-03-02T09:00:00"},
	}
	zones := forms{right: []string{"Europe/Dublin", "x", strings.Repeat("a", 64)}, wrong: []string{strings.Repeat("a", 65)}}
	for _, c := range []struct {
		field string
		forms forms
	}{{"tablet", ids}, {"subject", ids}, {"author", ids}, {"kind", kinds}, {"at", times}, {"zone", zones}} {
		for _, text := range c.forms.right {
			if code, at := decoded(c.field, text); code != "" {
				t.Errorf("%s %q: %s at %q", c.field, text, code, at)
			}
		}
		for _, text := range c.forms.wrong {
			if code, at := decoded(c.field, text); code != validation.CodeWrongType || at != c.field {
				t.Errorf("%s %q: %q at %q", c.field, text, code, at)
			}
		}
		for _, absent := range []any{"", nil} {
			if code, at := decoded(c.field, absent); code != validation.CodeRequired || at != c.field {
				t.Errorf("%s %v: %q at %q", c.field, absent, code, at)
			}
		}
		if code, at := decoded(c.field, 7); code != validation.CodeWrongType || at != c.field {
			t.Errorf("%s 7: %q at %q", c.field, code, at)
		}
	}
	const most = 1<<53 - 1 // whole numbers stay below 2^53
	for _, c := range []struct {
		field string
		value any
		code  string
	}{
		{"n", 1, ""}, {"n", most, ""}, {"n", most + 1, validation.CodeWrongType}, {"n", 0, validation.CodeOutOfRange}, {"n", -1, validation.CodeOutOfRange},
		{"n", -most - 1, validation.CodeWrongType}, {"n", nil, validation.CodeOutOfRange}, {"n", "1", validation.CodeWrongType},
		{"seen", 0, ""}, {"seen", most, ""}, {"seen", most + 1, validation.CodeWrongType}, {"seen", -1, validation.CodeOutOfRange},
		{"seen", -most, validation.CodeOutOfRange}, {"seen", 0.5, validation.CodeWrongType},
		{"schema", 1, ""}, {"schema", 2, ""}, {"schema", 0, validation.CodeRequired}, {"schema", -1, validation.CodeRequired}, {"schema", nil, validation.CodeRequired},
		{"body", map[string]any{}, ""}, {"body", nil, validation.CodeRequired}, {"body", "x", validation.CodeRequired}, {"body", []int{1}, validation.CodeRequired},
	} {
		if code, at := decoded(c.field, c.value); code != c.code || code != "" && at != c.field {
			t.Errorf("%s %v: %q at %q, want %q", c.field, c.value, code, at, c.code)
		}
	}
}

func TestRefusedFieldsOfAnEventInWords(t *testing.T) {
	for _, c := range []struct {
		line []byte
		want string
	}{
		{sample(func(e map[string]any) { e["n"] = -12 }), "n: expected a number from 1, got -12"},
		{sample(func(e map[string]any) { e["seen"] = -12 }), "seen: expected a number from 0, got -12"},
		{sample(func(e map[string]any) { e["tablet"] = "a b" }), `tablet: expected an id of 1 to 64 letters, digits, hyphens or underscores, got "a b"`},
		{make([]byte, 256<<10+1), "expected at most 262144 bytes an event, got 262145"},
		{[]byte(`{"body":{"a":tru}}`), `expected a value at byte 14, got "tru}}"`},
		{[]byte(`{"no\q":1}`), `expected a text at byte 2, got ""no\q":1}"`},
		{[]byte(`{"no`), `expected a closing " at byte 5, got the end`},
		{[]byte(`[]`), `expected an event as a JSON object at byte 1, got "[]"`},
	} {
		if _, err := record.Decode(c.line); err == nil || err.Error() != c.want {
			t.Errorf("got %v\nwant %s", err, c.want)
		}
	}
}

// TestEachFieldOnce: what arrives names a field twice nowhere, known or not, even
// with the same value.
func TestEachFieldOnce(t *testing.T) {
	line := string(sample(func(map[string]any) {}))
	var event map[string]json.RawMessage
	if err := json.Unmarshal([]byte(line), &event); err != nil || len(event) != 10 {
		t.Fatalf("%d fields, %v", len(event), err)
	}
	with := func(more string) string { return line[:len(line)-1] + "," + more + "}" }
	body := func(body string) string {
		return strings.Replace(line, `"body":`+string(event["body"]), `"body":`+body, 1)
	}
	cases := map[string]string{with(`"x":1,"x":2`): "x", with(`"x":[{},{"y":{"z":1,"z":1}}]`): "x[1].y.z"}
	for field, value := range event {
		cases[with(`"`+field+`":`+string(value))] = field
	}
	for text, field := range map[string]string{
		`{"item":"pos-trunk","state":"answered","level":"2","level":"3"}`:                          "body.level",
		`{"item":"pos-trunk","state":"answered","level":"2","l\u0065vel":"3"}`:                     "body.level",
		`{"item":"pos-trunk","state":"answered","level":"2","facts":{"a":true,"b":true,"a":true}}`: "body.facts.a",
		`{"item":"pos-trunk","state":"answered","level":null,"level":"2"}`:                         "body.level",
		`{"item":"pos-trunk","state":"answered","level":"2","new":[{"a":1},{"a":1,"a":1}]}`:        "body.new[1].a",
	} {
		cases[body(text)] = field
	}
	for text, field := range cases {
		got, _, err := record.Receive([]byte(text))
		var bad *validation.Error
		if !errors.As(err, &bad) || bad.Code != validation.CodeRepeated || bad.Path != field || got.Tablet == "" {
			t.Errorf("%s: %v, event %+v", text, err, got)
		}
	}
	if _, taken, err := record.Receive([]byte(body(`{"item":"a","state":"answered","level":"2","facts":{"a":true,"A":true}}`))); err != nil || taken == nil {
		t.Errorf("two names that differ: %v", err)
	}
}

// TestWhatIsSaidOfAnEventWithoutSeen: what is wrong before it, and else that it
// is missing, also where the body is missing too.
func TestWhatIsSaidOfAnEventWithoutSeen(t *testing.T) {
	for _, c := range []struct {
		name, code, at string
		change         func(map[string]any)
	}{
		{"nothing else is wrong", validation.CodeRequired, "seen", func(map[string]any) {}},
		{"no body", validation.CodeRequired, "seen", func(e map[string]any) { delete(e, "body") }},
		{"no zone", validation.CodeRequired, "zone", func(e map[string]any) { delete(e, "zone") }},
	} {
		_, err := record.Decode(sample(func(e map[string]any) { delete(e, "seen"); c.change(e) }))
		var bad *validation.Error
		if !errors.As(err, &bad) || bad.Code != c.code || bad.Path != c.at {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// TestTheLongestLine: at most 256 KiB, and text in UTF-8.
func TestTheLongestLine(t *testing.T) {
	line := string(sample(func(map[string]any) {}))
	fill := func(length int) []byte { return []byte(line + strings.Repeat(" ", length-len(line))) }
	if _, err := record.Decode(fill(256 << 10)); err != nil {
		t.Errorf("256 KiB: %v", err)
	}
	for _, c := range []struct {
		name, code string
		line       []byte
	}{
		{"a byte more", validation.CodeOutOfRange, fill(256<<10 + 1)},
		{"nothing", validation.CodeBrokenJSON, nil},
		{"one space", validation.CodeBrokenJSON, []byte(" ")},
		{"other bytes than UTF-8", validation.CodeBrokenJSON, []byte(strings.Replace(line, "marit", "mar\xfft", 1))},
		{"a byte after the end", validation.CodeBrokenJSON, []byte(line + "\x00")},
		{"a second object", validation.CodeBrokenJSON, []byte(line + line)},
	} {
		_, err := record.Decode(c.line)
		var bad *validation.Error
		if !errors.As(err, &bad) || bad.Code != c.code {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	if _, err := record.Decode(nil); err == nil || err.Error() != "expected an event, got nothing" {
		t.Errorf("nothing: %v", err)
	}
}

// TestTheSameJSONAsTheLibrary puts many values, right and wrong, into a field
// that is not known, and asks encoding/json about the same line.
func TestTheSameJSONAsTheLibrary(t *testing.T) {
	line := string(sample(func(map[string]any) {}))
	for _, value := range []string{
		`0`, `-0`, `1`, `10`, `9`, `1.5`, `1e5`, `1E+5`, `1e-5`, `-1.5e10`, `01`, `-`, `+1`, `.5`, `1.`, `1e`, `--1`, `1-1`, `0x1`, `1/`, `1:`, `/`, `:`,
		`true`, `false`, `null`, `tru`, `True`, `nul`, `truex`, `NaN`, `Infinity`, ``,
		`"a"`, `""`, `"\""`, `"\\"`, `"\/"`, `"\b\f\n\r\t"`, `"\u00e9"`, `"\ud83d\ude00"`, `"\u00"`, `"\u00zz"`, `"\x"`, `"\`, `"`, `"a`, `"a\"`, "\"\x1f\"", "\"\x20\"", "\"a\tb\"", "\"\x7f\"", `'a'`,
		`[]`, `[1]`, `[1,2]`, `[ 1 , 2 ]`, `[1 2]`, `[1,]`, `[,1]`, `[`, `[1`, `[1;2]`, `[[],[[]]]`, `]`,
		`{}`, `{"a":1}`, `{ "a" : 1 , "b" : [ ] }`, `{"a":1,}`, `{"a"}`, `{"a":}`, `{"a" 1}`, `{"a":1 "b":2}`, `{a:1}`, `{1:1}`, `{,}`, `{`, `{"a":1`, `{"a":[{"b":null}]}`, `{"a":1;"b":2}`,
		"\t1\r\n", "\v1", "\u00a01", "1\n,\"y\":2", `1,"y":tru`, `1,`, `1 1`, `"a""b"`, `{"a":1}}`,
	} {
		raw := []byte(line[:len(line)-1] + `,"x":` + value + "}")
		_, err := record.Decode(raw)
		if want := json.Valid(raw); (err == nil) != want {
			t.Errorf("%q: %v; the library says %v", value, err, want)
		}
		var bad *validation.Error
		if err != nil && (!errors.As(err, &bad) || bad.Code != validation.CodeBrokenJSON) {
			t.Errorf("%q: %v, want it refused as broken", value, err)
		}
	}
	for cut := range len(line) {
		if _, err := record.Decode([]byte(line[:cut])); err == nil {
			t.Errorf("read without its end: %s", line[:cut])
		}
	}
}

// TestValuesInTheirPlace reads a field of each type with values of all types.
// A null counts as absent.
func TestValuesInTheirPlace(t *testing.T) {
	const texts, numbers, counts, truths = `"x" "\u00e9\n" ""`, `1 0 -0 9 2.5 1e2`, `1 0 9`, `true false`
	const lists, objects = `[] ["left"]`, `{} {"left":20}`
	for _, c := range []struct{ kind, field, right, wrong string }{
		{model.KindReadingTaken, "note", texts, numbers + " " + truths + " " + lists + " " + objects},
		{model.KindReadingTaken, "value", numbers, texts + " " + truths + " " + lists + " " + objects},
		{model.KindReadingTaken, "supported", truths, texts + " " + numbers + " " + lists + " " + objects},
		{model.KindRunTimed, "things", counts, texts + " 2.5 1e2 " + truths + " " + lists + " " + objects},
		{model.KindNeedsNoted, "task_per_min", `1 0 9 2.5`, texts + " " + truths + " " + lists + " " + objects},
		{model.KindNeedsNoted, "blocked", truths, texts + " " + numbers + " " + lists + " " + objects},
		{model.KindNeedsNoted, "rejected", `{} {"lip":"sore"}`, `{"lip":1} {"nose":"sore"} ` + texts + " " + numbers + " " + truths + " " + lists},
		{model.KindSetupChosen, "throw", objects + ` {"left":20,"right":99}`, `{"left":"x"} {"left":[]} ` + texts + " " + numbers + " " + truths + " " + lists},
		{model.KindSetupChosen, "needed", lists + ` ["left","right"]`, `[1] ["left",1] [{}] ` + texts + " " + numbers + " " + truths + " " + objects},
		{model.KindAnswerGiven, "facts", `{} {"only-stop":true} {"only-stop":false,"seen":true}`, `{"only-stop":1} ` + texts + " " + numbers + " " + truths + " " + lists},
		{model.KindKitPacked, "controls", `[] [{"id":"k1","name":"a","class":"small"}]`, `[1] [{}] [[]] ` + texts + " " + numbers + " " + truths + " " + objects},
	} {
		for _, value := range append(strings.Fields(c.right), "null") {
			if code, at := read(t, c.kind, with(t, c.kind, map[string]any{c.field: json.RawMessage(value)})); code != "" {
				t.Errorf("%s with %s %s: %q at %q", c.kind, c.field, value, code, at)
			}
		}
		for _, value := range strings.Fields(c.wrong) {
			code, at := read(t, c.kind, with(t, c.kind, map[string]any{c.field: json.RawMessage(value)}))
			if code != validation.CodeWrongType && code != validation.CodeRequired || !strings.HasPrefix(at, c.field) {
				t.Errorf("%s with %s %s: %q at %q", c.kind, c.field, value, code, at)
			}
		}
	}
}

// TestSpacesBetweenValues: there may be any between two values.
func TestSpacesBetweenValues(t *testing.T) {
	for kind, body := range map[string]string{
		model.KindReadingTaken: `{ "what" : "release" , "site" : "chin" , "state" : "tired" , "missed" : true , "supported" : false , "value" : 0 , "unit" : "s" , "note" : null }`,
		model.KindSetupChosen:  ` {"class": "small", "site": "chin", "throw": { "left" : 60 }, "needed": [ "left" , "right" ]} `,
		model.KindAnswerGiven:  `{"item": "pos-pelvis", "state": "answered", "number": 3, "left": null, "facts": { "only-stop" : true }}`,
		model.KindNeedsNoted:   `{"blocked": true, "rough_ground": null, "moisture": { "chin" : "dry" }, "task_hours": 2}`,
		model.KindKitPacked:    `{"controls": [ { "id" : "k1" , "name" : "Blue" , "class" : "small" } ]}`,
	} {
		for _, space := range []string{" ", "\t", "\n", "\r", "\r\n  "} {
			if code, at := read(t, kind, json.RawMessage(strings.ReplaceAll(body, " ", space))); code != "" {
				t.Errorf("%s with %q between its values: %q at %q", kind, space, code, at)
			}
		}
	}
}

// TestHowDeepValuesMayBeNested: within 32 others, in a field that no kind knows
// as in the event itself.
func TestHowDeepValuesMayBeNested(t *testing.T) {
	nested := func(deep int, open, end string) string {
		return strings.Repeat(open, deep) + "1" + strings.Repeat(end, deep)
	}
	for _, c := range []struct {
		deep int
		code string
	}{{32, ""}, {33, validation.CodeBrokenJSON}} {
		for _, value := range []string{nested(c.deep, "[", "]"), nested(c.deep, `{"a":`, "}")} {
			if code, _ := decoded("x", json.RawMessage(value)); code != c.code {
				t.Errorf("%d deep in an event: %q, want %q", c.deep, code, c.code)
			}
			body := model.Raw(`{"x":` + nested(c.deep-1, "[", "]") + "}") // which is one of them
			if code, _ := decoded("body", body); code != c.code {
				t.Errorf("%d deep in a body: %q, want %q", c.deep, code, c.code)
			}
			for kind, base := range bases {
				body := base[:len(base)-1] + `,"x":` + value + "}"
				if code, _ := read(t, kind, json.RawMessage(body)); code != c.code {
					t.Errorf("%d deep in %s: %q, want %q", c.deep, kind, code, c.code)
				}
			}
		}
	}
}

// TestRefusalsInWords: what was expected and what was found, cut to what can
// stand in a sentence.
func TestRefusalsInWords(t *testing.T) {
	long := strings.Repeat("é", 41)
	for _, c := range []struct{ kind, body, want string }{
		{model.KindRunTimed, `{"place":"indoors","state":"rested","seconds":14400.5}`, "body.seconds: expected 0 to 14400 s, got 14400.5"},
		{model.KindRunTimed, `{"place":"indoors","state":"rested","seconds":1e21}`, "body.seconds: expected 0 to 14400 s, got 1000000000000000000000"},
		{model.KindRunTimed, `{"place":"indoors","state":"rested","seconds":{}}`, "body.seconds: expected a number, got an object"},
		{model.KindRunTimed, `{"place":"indoors","state":"rested","seconds":[1]}`, "body.seconds: expected a number, got a list"},
		{model.KindRunTimed, `{"place":"indoors","state":"rested","seconds":"fast"}`, `body.seconds: expected a number, got the text "fast"`},
		{model.KindRunTimed, `{"place":"indoors","state":"rested","seconds":true}`, "body.seconds: expected a number, got true"},
		{model.KindRunTimed, `{"place":"indoors","state":"rested","seconds":1e999}`, "body.seconds: expected a number that fits, got 1e999"},
		{model.KindRunTimed, `{"place":"indoors","state":"rested","things":10000}`, "body.things: expected 0 to 9999, got 10000"},
		{model.KindRunTimed, `{"place":"kitchen","state":"rested"}`, `body.place: expected indoors, outdoors or rough, got "kitchen"`},
		{model.KindRunTimed, `{"place":"` + long + `"}`, `body.place: expected indoors, outdoors or rough, got "` + strings.Repeat("é", 40) + `…"`},
		{model.KindRunTimed, `{"place":"` + long[2:] + `"}`, `body.place: expected indoors, outdoors or rough, got "` + long[2:] + `"`},
		{model.KindRunTimed, `{"state":"rested"}`, "body.place: expected indoors, outdoors or rough"},
		{model.KindReadingTaken, `{"what":"hold","site":"chin","state":"rested","unit":"gf"}`, `body.unit: expected s, got "gf"`},
		{model.KindReadingTaken, `{"what":"unintended","site":"chin","state":"rested","unit":"N","value":50}`, "body.value: expected 0 to 49.03 N, got 50"},
		{model.KindKitPacked, `{"controls":[{"id":"k1"}]}`, "body.controls[0].name: expected the team's name for the control"},
		{model.KindPlanAgreed, `{"recheck":"1879-01-01"}`, "body.recheck: expected a date between 1880 and 2200, got 1879-01-01"},
		{model.KindClientAssigned, `{"status":"hold","version":-12}`, "body.version: expected a number from 1, got -12"},
		{model.KindPlaceMeasured, `{"place":"p","kind":"ramp","name":"r","rise_mm":100,"run_mm":10}`, "body.run_mm: expected 200 to 5000 mm for this rise, 1 in 2 to 1 in 50, got 10"},
		{model.KindPlanAgreed, `{"note":"a" "b"}`, `body: expected "," or "}" at byte 13, got ""b"}"`},
		{model.KindPlanAgreed, `{"note":"a","x":tru}`, `body: expected a value at byte 17, got "tru}"`},
		{model.KindPlanAgreed, `{"note":"a"`, `body: expected "," or "}" at byte 12, got the end`},
		{model.KindPlanAgreed, `{"x":01234567890123456}`, `body: expected a number at byte 6, got "012345678901"`},
		{model.KindPlanAgreed, `{"note":"a` + "\n" + `b"}`, `body: expected no control character in a text at byte 11, got "` + "\n" + `b"}"`},
		{model.KindPlanAgreed, `{"note":"a`, `body: expected a closing " at byte 11, got the end`},
		{model.KindPlanAgreed, `{"note":"\q"}`, `body: expected a text at byte 9, got ""\q"}"`},
		{model.KindPlanAgreed, `{"note":"a"}]`, `body: expected nothing more at byte 13, got "]"`},
		{model.KindPlanAgreed, `{"x":!}`, `body: expected a value at byte 6, got "!}"`},
		{model.KindPlanAgreed, `{"x":/}`, `body: expected a value at byte 6, got "/}"`},
		{model.KindPlanAgreed, `{"x"::}`, `body: expected a value at byte 6, got ":}"`},
		{model.KindPlanAgreed, `{"x":1/}`, `body: expected "," or "}" at byte 7, got "/}"`},
		{model.KindPlanAgreed, `{"x":1:}`, `body: expected "," or "}" at byte 7, got ":}"`},
		{model.KindRunTimed, `{"seconds":01}`, `body: expected a number at byte 12, got "01}"`},
		{model.KindRunTimed, `{"seconds":/}`, `body: expected a value at byte 12, got "/}"`},
		{model.KindRunTimed, `{"seconds"::}`, `body: expected a value at byte 12, got ":}"`},
		{model.KindRunTimed, `{"things":/}`, `body: expected a value at byte 11, got "/}"`},
		{model.KindRunTimed, `{"things"::}`, `body: expected a value at byte 11, got ":}"`},
		{model.KindRunTimed, `{"place":"rough","state":"wet"}`, `body.state: expected rested or tired, got "wet"`},
		{model.KindAnswerChosen, `{"item":"pos-head","keep":"a:1","drop":["b:2",1]}`, "body.drop[1]: expected a text, got 1"},
		{model.KindPlanAgreed, `null`, "body: expected an object, got null"},
		{model.KindPlanAgreed, `[1]`, "body: expected an object, got a list"},
		{model.KindPlanAgreed, ``, "body: expected an object at byte 1, got the end"},
	} {
		_, err := record.ReadBody(&model.Event{Kind: c.kind, Schema: 1, Body: model.Raw(c.body)})
		if err == nil || err.Error() != c.want {
			t.Errorf("%s\n got %v\nwant %s", c.body, err, c.want)
		}
	}
}
