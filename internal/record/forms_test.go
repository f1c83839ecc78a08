package record_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"doorsill/internal/record"
)

// forms are texts of one form: right ones and wrong ones. The edges of each
// range of letters are tried with the characters beside them in ASCII.
type forms struct{ right, wrong []string }

var ids = forms{
	right: []string{"a", "z", "A", "Z", "0", "9", "-", "_", "tab-a_9Z", strings.Repeat("a", 64)},
	wrong: []string{" ", "a b", "@", "[", "`", "{", "/", ":", "a.b", "é", "a\x00", strings.Repeat("a", 65)},
}

var refs = forms{
	right: []string{"tab-a:1", "t:9007199254740991", "T_9:10"},
	wrong: []string{"tab-a", "tab-a:", ":1", "tab-a:0", "tab-a:01", "tab-a:-1", "tab-a:+1", "tab-a:1.5", "a b:1", "tab-a:1:2", "tab-a:9007199254740992"},
}

var sums = forms{
	right: []string{strings.Repeat("0", 64), strings.Repeat("9", 64), strings.Repeat("a", 64), strings.Repeat("f", 64), strings.Repeat("0af9", 16)},
	wrong: []string{strings.Repeat("0", 63), strings.Repeat("0", 65), strings.Repeat("g", 64), strings.Repeat("/", 64), strings.Repeat(":", 64),
		strings.Repeat("`", 64), strings.Repeat("A", 64), "g" + strings.Repeat("0", 63), strings.Repeat("0", 63) + "g"},
}

var dates = forms{
	right: []string{"1880-01-01", "2200-12-31", "2024-02-29"},
	wrong: []string{"2026-02-29", "2026-13-01", "2026-3-1", "01.03.2026", "2026-03-01T00:00:00Z", "March"},
}

var outOfTime = []string{"1879-12-31", "2201-01-01"}

var itemIDs = forms{
	right: []string{"a", "z", "pos-pelvis", "a0", "a9", "az", "a-", strings.Repeat("a", 64)},
	wrong: []string{"A", "`", "{", "0", "-a", "aA", "a`", "a{", "a/", "a:", "a_", "a b", "é", strings.Repeat("a", 65)},
}

// Codes of IEC 60529: IP, a first digit 0 to 6 or X, a second 0 to 9 or X, and
// at most two letters.
var sealings = forms{
	right: []string{"IP00", "IP65", "IPX4", "IP5X", "IPXX", "IP69K", "IP54AZ", "IP09"},
	wrong: []string{"IP", "IP5", "ip54", "JP54", "IQ54", "IP74", "IP/4", "IPY4", "IP5/", "IP5:", "IP5Y", "IP54a", "IP54@", "IP54[", "IP545", "IP54ABC", "IP54A1"},
}

func TestForms(t *testing.T) {
	for _, c := range []struct {
		kind, field string
		forms       forms
		empty       string // the code for an empty text
	}{
		{record.KindClientOpened, "team", ids, record.CodeRequired},
		{record.KindClientAssigned, "by", ids, record.CodeRequired},
		{record.KindClientAssigned, "assignee", ids, ""},
		{record.KindVisitStarted, "client", ids, record.CodeRequired},
		{record.KindVisitStarted, "team", ids, record.CodeRequired},
		{record.KindVisitStarted, "second_of", ids, ""},
		{record.KindControlListed, "team", ids, record.CodeRequired},
		{record.KindKitPacked, "controls.0.id", ids, record.CodeRequired},
		{record.KindPlaceMeasured, "place", ids, record.CodeRequired},
		{record.KindNeedsNoted, "wish_control", ids, ""},
		{record.KindAnswerChosen, "keep", refs, record.CodeRequired},
		{record.KindReadingMarked, "reading", refs, record.CodeRequired},
		{record.KindRunMarked, "run", refs, record.CodeRequired},
		{record.KindSettingTried, "setting", refs, record.CodeRequired},
		{record.KindVisitStarted, "checklist.hash", sums, record.CodeRequired},
		{record.KindVisitSigned, "result", sums, record.CodeRequired},
		{record.KindAnswerGiven, "item", itemIDs, record.CodeRequired},
		{record.KindAnswerChosen, "item", itemIDs, record.CodeRequired},
		{record.KindControlListed, "sealing", sealings, ""},
		{record.KindKitPacked, "controls.0.sealing", sealings, ""},
		{record.KindClientOpened, "referred", dates, record.CodeRequired},
		{record.KindClientOpened, "born", dates, ""},
		{record.KindClientChanged, "fields.born", dates, ""},
		{record.KindPlanAgreed, "recheck", dates, ""},
		{record.KindControlListed, "measured", dates, ""},
	} {
		field := strings.Replace(c.field, "controls.0.", "controls[0].", 1)
		for _, text := range c.forms.right {
			expect(t, c.kind, map[string]any{c.field: text}, "", "")
		}
		for _, text := range c.forms.wrong {
			expect(t, c.kind, map[string]any{c.field: text}, record.CodeWrongType, field)
		}
		expect(t, c.kind, map[string]any{c.field: ""}, c.empty, field)
		if c.forms.right[0] == dates.right[0] {
			for _, text := range outOfTime {
				expect(t, c.kind, map[string]any{c.field: text}, record.CodeOutOfRange, field)
			}
		}
	}
}

func TestDecisionsEndNotBeforeTheyBegin(t *testing.T) {
	for _, c := range []struct{ from, until, code, field string }{
		{"2026-03-02", "2026-03-02", "", ""},
		{"2026-03-02", "2026-03-03", "", ""},
		{"2026-03-02", "", "", ""},
		{"2026-03-02", "2026-03-01", record.CodeOverride, "until"},
		{"", "2026-03-01", record.CodeRequired, "from"},
		{"2026-03-02", "soon", record.CodeWrongType, "until"},
	} {
		expect(t, record.KindOverrideMade, map[string]any{"from": c.from, "until": c.until}, c.code, c.field)
	}
}

// TestAnswersAndTheirStates: a value with "answered", and only there.
func TestAnswersAndTheirStates(t *testing.T) {
	for _, c := range []struct{ body, code, field string }{
		{`"state":"answered","level":"yes"`, "", ""},
		{`"state":"answered","number":0`, "", ""},
		{`"state":"answered","left":5,"right":4`, "", ""},
		{`"state":"answered","facts":{"only-stop":false}`, "", ""},
		{`"state":"answered"`, record.CodeRequired, "level"},
		{`"state":"answered","facts":{}`, record.CodeRequired, "level"},
		{`"state":"answered","level":"5"`, record.CodeWrongType, "level"},
		{`"state":"answered","level":"5","facts":{"only-stop":true}`, record.CodeWrongType, "level"},
		{`"state":"not-tested"`, "", ""},
		{`"state":"not-tested","note":"tired","facts":{"only-stop":true}`, "", ""},
		{`"state":"not-tested","level":"3"`, record.CodeWrongType, "level"},
		{`"state":"not-tested","number":3`, record.CodeWrongType, "number"},
		{`"state":"not-tested","left":3`, record.CodeWrongType, "left"},
		{`"state":"not-tested","right":3`, record.CodeWrongType, "right"},
		{`"state":"not-applicable"`, record.CodeRequired, "reason"},
		{`"state":"not-applicable","reason":"no ramp"`, "", ""},
		{`"state":"not-applicable","reason":"no ramp","number":1`, record.CodeWrongType, "number"},
		{`"state":"maybe","level":"3"`, record.CodeWrongType, "state"},
		{`"level":"3"`, record.CodeRequired, "state"},
	} {
		code, field := read(t, record.KindAnswerGiven, json.RawMessage(`{"item":"pos-pelvis",`+c.body+`}`))
		if code != c.code || field != c.field {
			t.Errorf("%s: %q at %q, want %q at %q", c.body, code, field, c.code, c.field)
		}
	}
}

func TestChoicesAndMarks(t *testing.T) {
	for _, c := range []struct {
		kind, body, code, field string
	}{
		{record.KindAnswerChosen, `{"item":"pos-head","keep":"a:1","drop":["b:2","c:3"]}`, "", ""},
		{record.KindAnswerChosen, `{"item":"pos-head","keep":"a:1","drop":[]}`, record.CodeRequired, "drop"},
		{record.KindAnswerChosen, `{"item":"pos-head","keep":"a:1"}`, record.CodeRequired, "drop"},
		{record.KindAnswerChosen, `{"item":"pos-head","keep":"a:1","drop":["b:2","b"]}`, record.CodeWrongType, "drop"},
		{record.KindAnswerChosen, `{"item":"pos-head","keep":"a:1","drop":["b:2","a:1"]}`, record.CodeOutOfRange, "drop"},
		{record.KindReadingMarked, `{"reading":"a:1","slip":true}`, record.CodeRequired, "reason"},
		{record.KindReadingMarked, `{"reading":"a:1","slip":false}`, "", ""},
		{record.KindReadingMarked, `{"reading":"a:1"}`, "", ""},
		{record.KindRunMarked, `{"run":"a:1","slip":true}`, record.CodeRequired, "reason"},
		{record.KindRunMarked, `{"run":"a:1","slip":false}`, "", ""},
		{record.KindClientChanged, `{"fields":{}}`, record.CodeRequired, "fields"},
		{record.KindClientChanged, `{"fields":{"team":"south"}}`, record.CodeWrongType, "fields.team"},
		{record.KindClientChanged, `{"fields":{"zoo":"a","course":"a","born":"x"}}`, record.CodeWrongType, "fields.born"}, // in the order of the alphabet
	} {
		if code, field := read(t, c.kind, json.RawMessage(c.body)); code != c.code || field != c.field {
			t.Errorf("%s: %q at %q, want %q at %q", c.body, code, field, c.code, c.field)
		}
	}
}

// TestReadingsOfTheirKind: force and travel have a direction, only a release
// can be missed, and only the force at a switch belongs to a switch.
func TestReadingsOfTheirKind(t *testing.T) {
	for _, c := range []struct{ body, code, field string }{
		{`"what":"force","value":1,"unit":"gf"`, record.CodeRequired, "direction"},
		{`"what":"force","direction":"press","value":1,"unit":"gf"`, "", ""},
		{`"what":"force","direction":"up","value":1,"unit":"gf"`, record.CodeWrongType, "direction"},
		{`"what":"travel","value":1,"unit":"mm"`, record.CodeRequired, "direction"},
		{`"what":"travel","direction":"reverse","value":1,"unit":"mm"`, "", ""},
		{`"what":"hold","value":1,"unit":"s"`, "", ""},
		{`"what":"hold","direction":"up","value":1,"unit":"s"`, record.CodeWrongType, "direction"},
		{`"what":"hold","direction":"forward","value":1,"unit":"s"`, "", ""},
		{`"what":"release","missed":true,"value":0,"unit":"s"`, "", ""},
		{`"what":"release","missed":true,"unit":"s"`, "", ""},
		{`"what":"release","missed":true,"value":0.5,"unit":"s"`, record.CodeWrongType, "missed"},
		{`"what":"hold","missed":true,"value":0,"unit":"s"`, record.CodeWrongType, "missed"},
		{`"what":"unintended","value":1,"unit":"gf"`, "", ""},
		{`"what":"switch-force","value":1,"unit":"gf"`, "", ""},
		{`"what":"switch-force","switch":"power","value":1,"unit":"gf"`, "", ""},
		{`"what":"switch-force","switch":"mode","value":1,"unit":"gf"`, "", ""},
		{`"what":"hold","switch":"mode","value":1,"unit":"s"`, record.CodeWrongType, "switch"},
		{`"what":"grip","value":1,"unit":"gf"`, record.CodeWrongType, "what"},
		{`"value":1,"unit":"gf"`, record.CodeRequired, "what"},
	} {
		code, field := read(t, record.KindReadingTaken, json.RawMessage(`{"site":"chin","state":"rested",`+c.body+`}`))
		if code != c.code || field != c.field {
			t.Errorf("%s: %q at %q, want %q at %q", c.body, code, field, c.code, c.field)
		}
	}
}

// TestWhatAnAmendmentMayCarry: any kind of a visit but its start, its signature
// and another amendment.
func TestWhatAnAmendmentMayCarry(t *testing.T) {
	never := map[string]bool{record.KindVisitStarted: true, record.KindVisitSigned: true, record.KindAmendmentMade: true,
		record.KindClientOpened: true, record.KindClientChanged: true, record.KindClientAssigned: true, record.KindControlListed: true}
	for kind, body := range bases {
		code, field := read(t, record.KindAmendmentMade, json.RawMessage(`{"reason":"late","kind":"`+kind+`","change":`+body+`}`))
		if never[kind] != (code == record.CodeWrongType && field == "kind") || !never[kind] && code != "" {
			t.Errorf("an amendment of %s: %q at %q", kind, code, field)
		}
	}
	for _, c := range []struct{ body, code, field string }{
		{`{"reason":"late","kind":"plan-agreed"}`, record.CodeRequired, "change"},
		{`{"reason":"late","change":{}}`, record.CodeRequired, "kind"},
		{`{"reason":"late","kind":"plan-agreed","change":[]}`, record.CodeWrongType, "change"},
		{`{"reason":"late","kind":"plan-agreed","change":{"recheck":"soon"}}`, record.CodeWrongType, "change.recheck"},
	} {
		if code, field := read(t, record.KindAmendmentMade, json.RawMessage(c.body)); code != c.code || field != c.field {
			t.Errorf("%s: %q at %q, want %q at %q", c.body, code, field, c.code, c.field)
		}
	}
	inner := record.AmendmentMade{Reason: "late", Kind: record.KindPlanAgreed, Change: json.RawMessage(`{"recheck":"soon"}`)}
	_, err := inner.Inner()
	var bad *record.Refusal
	if !errors.As(err, &bad) || bad.Field != "change.recheck" {
		t.Errorf("the change by itself: %v", err)
	}
}

// TestSchemas: what is older than the oldest is refused, what is newer is kept
// and not read (PROTOCOL.md, section 2, "New kinds and shapes"). The schema is
// now 1.
func TestSchemas(t *testing.T) {
	for _, c := range []struct {
		kind   string
		schema int
		known  bool
		code   string
	}{
		{record.KindPlanAgreed, 1, true, ""},
		{record.KindPlanAgreed, 2, false, ""},
		{record.KindPlanAgreed, 0, false, record.CodeTooOld},
		{"photo-added", 1, false, ""},
	} {
		event := record.Event{Kind: c.kind, Schema: c.schema, Body: json.RawMessage(`{"recheck":"2026-05-01"}`)}
		body, err := record.ReadBody(&event)
		var bad *record.Refusal
		if errors.As(err, &bad) != (c.code != "") || bad != nil && (bad.Code != c.code || bad.Field != "schema") {
			t.Errorf("%s, schema %d: %v", c.kind, c.schema, err)
		}
		if event.Known() != c.known || (body != nil) != c.known {
			t.Errorf("%s, schema %d: known %v, read %v, want %v", c.kind, c.schema, event.Known(), body != nil, c.known)
		}
	}
}

// TestWhatIsLeftOutOfAPlace: one that is gone needs no more than its id.
func TestWhatIsLeftOutOfAPlace(t *testing.T) {
	for body, want := range map[string]string{
		`{"place":"p1","gone":true,"kind":"gate","width_mm":3}`: "",
		`{"place":"","gone":true}`:                              "place",
		`{"place":"p1","gone":false}`:                           "kind",
	} {
		if _, field := read(t, record.KindPlaceMeasured, json.RawMessage(body)); field != want {
			t.Errorf("%s: refused at %q, want %q", body, field, want)
		}
	}
}

// TestTheFirstMistakeIsSaid: what is right further on does not make up for it.
func TestTheFirstMistakeIsSaid(t *testing.T) {
	for _, c := range []struct {
		kind        string
		changes     map[string]any
		code, field string
	}{
		{record.KindControlListed, map[string]any{"name": "", "mounts": []string{"tray"}}, record.CodeRequired, "name"},
		{record.KindControlListed, map[string]any{"class": "fast", "start_gf": 60, "operate_gf": 50}, record.CodeWrongType, "class"},
		{record.KindControlListed, map[string]any{"start_gf": 10_001, "operate_gf": 0}, record.CodeOutOfRange, "start_gf"},
		{record.KindKitPacked, map[string]any{"controls": []map[string]any{{"id": "k1", "name": "a", "class": "small"}, {"id": "k1", "name": "a", "class": "fast"}}},
			record.CodeWrongType, "controls[1].class"},
		{record.KindPlaceMeasured, map[string]any{"kind": "gate", "rise_mm": 100, "run_mm": 1200}, record.CodeWrongType, "kind"},
		{record.KindPlaceMeasured, map[string]any{"kind": "ramp", "width_mm": 3, "rise_mm": 100, "run_mm": 1200}, record.CodeOutOfRange, "width_mm"},
		{record.KindOverrideMade, map[string]any{"level": "fast", "until": "2026-03-01"}, record.CodeWrongType, "level"},
	} {
		expect(t, c.kind, c.changes, c.code, c.field)
	}
}
