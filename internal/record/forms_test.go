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
		{model.KindClientOpened, "team", ids, validation.CodeRequired},
		{model.KindClientAssigned, "by", ids, validation.CodeRequired},
		{model.KindClientAssigned, "assignee", ids, ""},
		{model.KindVisitStarted, "client", ids, validation.CodeRequired},
		{model.KindVisitStarted, "team", ids, validation.CodeRequired},
		{model.KindVisitStarted, "second_of", ids, ""},
		{model.KindControlListed, "team", ids, validation.CodeRequired},
		{model.KindKitPacked, "controls.0.id", ids, validation.CodeRequired},
		{model.KindPlaceMeasured, "place", ids, validation.CodeRequired},
		{model.KindNeedsNoted, "wish_control", ids, ""},
		{model.KindAnswerChosen, "keep", refs, validation.CodeRequired},
		{model.KindReadingMarked, "reading", refs, validation.CodeRequired},
		{model.KindReadingMoved, "reading", refs, validation.CodeRequired},
		{model.KindRunMarked, "run", refs, validation.CodeRequired},
		{model.KindSettingTried, "setting", refs, validation.CodeRequired},
		{model.KindVisitStarted, "checklist.hash", sums, validation.CodeRequired},
		{model.KindVisitSigned, "result", sums, validation.CodeRequired},
		{model.KindAnswerGiven, "item", itemIDs, validation.CodeRequired},
		{model.KindAnswerChosen, "item", itemIDs, validation.CodeRequired},
		{model.KindControlListed, "sealing", sealings, ""},
		{model.KindKitPacked, "controls.0.sealing", sealings, ""},
		{model.KindClientOpened, "referred", dates, validation.CodeRequired},
		{model.KindClientOpened, "born", dates, ""},
		{model.KindClientChanged, "fields.born", dates, ""},
		{model.KindPlanAgreed, "recheck", dates, ""},
		{model.KindControlListed, "measured", dates, ""},
	} {
		field := strings.Replace(c.field, "controls.0.", "controls[0].", 1)
		for _, text := range c.forms.right {
			expect(t, c.kind, map[string]any{c.field: text}, "", "")
		}
		for _, text := range c.forms.wrong {
			expect(t, c.kind, map[string]any{c.field: text}, validation.CodeWrongType, field)
		}
		expect(t, c.kind, map[string]any{c.field: ""}, c.empty, field)
		if c.forms.right[0] == dates.right[0] {
			for _, text := range outOfTime {
				expect(t, c.kind, map[string]any{c.field: text}, validation.CodeOutOfRange, field)
			}
		}
	}
}

func TestDecisionsEndNotBeforeTheyBegin(t *testing.T) {
	for _, c := range []struct{ from, until, code, field string }{
		{"2026-03-02", "2026-03-02", "", ""},
		{"2026-03-02", "2026-03-03", "", ""},
		{"2026-03-02", "", "", ""},
		{"2026-03-02", "2026-03-01", validation.CodeOverride, "until"},
		{"", "2026-03-01", validation.CodeRequired, "from"},
		{"2026-03-02", "soon", validation.CodeWrongType, "until"},
	} {
		expect(t, model.KindOverrideMade, map[string]any{"from": c.from, "until": c.until}, c.code, c.field)
	}
}

// TestAnswersAndTheirStates: a value with "answered", and only there.
func TestAnswersAndTheirStates(t *testing.T) {
	for _, c := range []struct{ body, code, field string }{
		{`"state":"answered","level":"yes"`, "", ""},
		{`"state":"answered","number":0`, "", ""},
		{`"state":"answered","left":5,"right":4`, "", ""},
		{`"state":"answered","facts":{"only-stop":false}`, "", ""},
		{`"state":"answered"`, validation.CodeRequired, "level"},
		{`"state":"answered","facts":{}`, validation.CodeRequired, "level"},
		{`"state":"answered","level":"5"`, validation.CodeWrongType, "level"},
		{`"state":"answered","level":"5","facts":{"only-stop":true}`, validation.CodeWrongType, "level"},
		{`"state":"not-tested"`, "", ""},
		{`"state":"not-tested","note":"tired","facts":{"only-stop":true}`, "", ""},
		{`"state":"not-tested","facts":{"only-stop":true},"level":"3"`, validation.CodeWrongType, "level"},
		{`"state":"not-tested","level":"3"`, validation.CodeWrongType, "level"},
		{`"state":"not-tested","number":3`, validation.CodeWrongType, "number"},
		{`"state":"not-tested","left":3`, validation.CodeWrongType, "left"},
		{`"state":"not-tested","right":3`, validation.CodeWrongType, "right"},
		{`"state":"not-applicable"`, validation.CodeRequired, "reason"},
		{`"state":"not-applicable","reason":"no ramp"`, "", ""},
		{`"state":"not-applicable","reason":"no ramp","number":1`, validation.CodeWrongType, "number"},
		{`"state":"maybe","level":"3"`, validation.CodeWrongType, "state"},
		{`"level":"3"`, validation.CodeRequired, "state"},
	} {
		code, field := read(t, model.KindAnswerGiven, json.RawMessage(`{"item":"pos-pelvis",`+c.body+`}`))
		if code != c.code || field != c.field {
			t.Errorf("%s: %q at %q, want %q at %q", c.body, code, field, c.code, c.field)
		}
	}
}

// TestANullAmongFactsIsNoAnswer: "no" would take a limit away.
func TestANullAmongFactsIsNoAnswer(t *testing.T) {
	raw := json.RawMessage(`{"item":"mnt-power","state":"answered","level":"0","facts":{"no-carer-plan":null,"only-stop":false}}`)
	body, err := record.ReadKind(model.KindAnswerGiven, raw)
	if err != nil {
		t.Fatal(err)
	}
	facts := body.(*model.AnswerGiven).Facts
	if _, there := facts["no-carer-plan"]; there || len(facts) != 1 {
		t.Errorf("facts %v", facts)
	}
}

// TestAValueThatStandsWithoutAnAnswerIsQuoted: the one that the path names.
func TestAValueThatStandsWithoutAnAnswerIsQuoted(t *testing.T) {
	for body, want := range map[string]string{
		`"level":"3"`:            "level \"3\"",
		`"level":"3","number":7`: "level \"3\"",
		`"number":7,"left":5`:    "number 7",
		`"left":5,"right":4`:     "left 5",
		`"right":4`:              "right 4",
	} {
		raw := json.RawMessage(`{"item":"pos-pelvis","state":"not-tested",` + body + `}`)
		_, err := record.ReadKind(model.KindAnswerGiven, raw)
		if err == nil || err.Path+" "+err.Got != "body."+want {
			t.Errorf("%s: %+v, want %s", body, err, want)
		}
	}
}

func TestChoicesAndMarks(t *testing.T) {
	for _, c := range []struct {
		kind, body, code, field string
	}{
		{model.KindAnswerChosen, `{"item":"pos-head","keep":"a:1","drop":["b:2","c:3"]}`, "", ""},
		{model.KindAnswerChosen, `{"item":"pos-head","keep":"a:1","drop":[]}`, validation.CodeRequired, "drop"},
		{model.KindAnswerChosen, `{"item":"pos-head","keep":"a:1"}`, validation.CodeRequired, "drop"},
		{model.KindAnswerChosen, `{"item":"pos-head","keep":"a:1","drop":["b:2","b"]}`, validation.CodeWrongType, "drop"},
		{model.KindAnswerChosen, `{"item":"pos-head","keep":"a:1","drop":["b:2","a:1"]}`, validation.CodeOutOfRange, "drop"},
		{model.KindReadingMarked, `{"reading":"a:1","slip":true}`, validation.CodeRequired, "reason"},
		{model.KindReadingMarked, `{"reading":"a:1","slip":false}`, "", ""},
		{model.KindReadingMarked, `{"reading":"a:1"}`, "", ""},
		{model.KindRunMarked, `{"run":"a:1","slip":true}`, validation.CodeRequired, "reason"},
		{model.KindRunMarked, `{"run":"a:1","slip":false}`, "", ""},
		{model.KindClientChanged, `{"fields":{}}`, validation.CodeRequired, "fields"},
		{model.KindClientChanged, `{"fields":{"team":"south"}}`, validation.CodeWrongType, "fields.team"},
		{model.KindClientChanged, `{"fields":{"zoo":"a","course":"a","born":"x"}}`, validation.CodeWrongType, "fields.born"}, // in the order of the alphabet
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
		{`"what":"force","value":1,"unit":"gf"`, validation.CodeRequired, "direction"},
		{`"what":"force","direction":"press","value":1,"unit":"gf"`, "", ""},
		{`"what":"force","direction":"up","value":1,"unit":"gf"`, validation.CodeWrongType, "direction"},
		{`"what":"travel","value":1,"unit":"mm"`, validation.CodeRequired, "direction"},
		{`"what":"travel","direction":"reverse","value":1,"unit":"mm"`, "", ""},
		{`"what":"hold","value":1,"unit":"s"`, "", ""},
		{`"what":"hold","direction":"up","value":1,"unit":"s"`, validation.CodeWrongType, "direction"},
		{`"what":"hold","direction":"forward","value":1,"unit":"s"`, "", ""},
		{`"what":"release","missed":true,"value":0,"unit":"s"`, "", ""},
		{`"what":"release","missed":true,"unit":"s"`, "", ""},
		{`"what":"release","missed":true,"value":0.5,"unit":"s"`, validation.CodeWrongType, "missed"},
		{`"what":"hold","missed":true,"value":0,"unit":"s"`, validation.CodeWrongType, "missed"},
		{`"what":"unintended","value":1,"unit":"gf"`, "", ""},
		{`"what":"switch-force","value":1,"unit":"gf"`, "", ""},
		{`"what":"switch-force","switch":"power","value":1,"unit":"gf"`, "", ""},
		{`"what":"switch-force","switch":"mode","value":1,"unit":"gf"`, "", ""},
		{`"what":"hold","switch":"mode","value":1,"unit":"s"`, validation.CodeWrongType, "switch"},
		{`"what":"grip","value":1,"unit":"gf"`, validation.CodeWrongType, "what"},
		{`"value":1,"unit":"gf"`, validation.CodeRequired, "what"},
	} {
		code, field := read(t, model.KindReadingTaken, json.RawMessage(`{"site":"chin","state":"rested",`+c.body+`}`))
		if code != c.code || field != c.field {
			t.Errorf("%s: %q at %q, want %q at %q", c.body, code, field, c.code, c.field)
		}
	}
}

// TestWhatAnAmendmentMayCarry: any kind of a visit but its start, its signature
// and another amendment.
func TestWhatAnAmendmentMayCarry(t *testing.T) {
	never := map[string]bool{model.KindVisitStarted: true, model.KindVisitSigned: true, model.KindAmendmentMade: true,
		model.KindClientOpened: true, model.KindClientChanged: true, model.KindClientAssigned: true, model.KindControlListed: true}
	for kind, body := range bases {
		code, field := read(t, model.KindAmendmentMade, json.RawMessage(`{"reason":"late","kind":"`+kind+`","change":`+body+`}`))
		if never[kind] != (code == validation.CodeWrongType && field == "kind") || !never[kind] && code != "" {
			t.Errorf("an amendment of %s: %q at %q", kind, code, field)
		}
	}
	for _, c := range []struct{ body, code, field string }{
		{`{"reason":"late","kind":"plan-agreed"}`, validation.CodeRequired, "change"},
		{`{"reason":"late","change":{}}`, validation.CodeRequired, "kind"},
		{`{"reason":"late","kind":"plan-agreed","change":[]}`, validation.CodeWrongType, "change"},
		{`{"reason":"late","kind":"plan-agreed","change":{"recheck":"soon"}}`, validation.CodeWrongType, "change.recheck"},
	} {
		if code, field := read(t, model.KindAmendmentMade, json.RawMessage(c.body)); code != c.code || field != c.field {
			t.Errorf("%s: %q at %q, want %q at %q", c.body, code, field, c.code, c.field)
		}
	}
	inner := model.AmendmentMade{Reason: "late", Kind: model.KindPlanAgreed, Change: model.Raw(`{"recheck":"soon"}`)}
	_, err := record.ReadChange(&inner)
	var bad *validation.Error
	if !errors.As(err, &bad) || bad.Path != "change.recheck" {
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
		{model.KindPlanAgreed, 1, true, ""},
		{model.KindPlanAgreed, 2, false, ""},
		{model.KindPlanAgreed, 0, false, validation.CodeTooOld},
		{"photo-added", 1, false, ""},
	} {
		event := model.Event{Kind: c.kind, Schema: c.schema, Body: model.Raw(`{"recheck":"2026-05-01"}`)}
		body, err := record.ReadBody(&event)
		var bad *validation.Error
		if errors.As(err, &bad) != (c.code != "") || bad != nil && (bad.Code != c.code || bad.Path != "schema") {
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
		if _, field := read(t, model.KindPlaceMeasured, json.RawMessage(body)); field != want {
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
		{model.KindControlListed, map[string]any{"name": "", "mounts": []string{"tray"}}, validation.CodeRequired, "name"},
		{model.KindControlListed, map[string]any{"class": "fast", "start_gf": 60, "operate_gf": 50}, validation.CodeWrongType, "class"},
		{model.KindControlListed, map[string]any{"start_gf": 10_001, "operate_gf": 0}, validation.CodeOutOfRange, "start_gf"},
		{model.KindKitPacked, map[string]any{"controls": []map[string]any{{"id": "k1", "name": "a", "class": "small"}, {"id": "k1", "name": "a", "class": "fast"}}},
			validation.CodeWrongType, "controls[1].class"},
		{model.KindKitPacked, map[string]any{"controls.0.start_gf": 10_001, "controls.0.operate_gf": 0}, validation.CodeOutOfRange, "controls[0].start_gf"},
		{model.KindPlaceMeasured, map[string]any{"place": "a b", "width_mm": 3}, validation.CodeWrongType, "place"},
		{model.KindPlaceMeasured, map[string]any{"kind": "gate", "rise_mm": 100, "run_mm": 1200}, validation.CodeWrongType, "kind"},
		{model.KindPlaceMeasured, map[string]any{"kind": "ramp", "width_mm": 3, "rise_mm": 100, "run_mm": 1200}, validation.CodeOutOfRange, "width_mm"},
		{model.KindOverrideMade, map[string]any{"level": "fast", "until": "2026-03-01"}, validation.CodeWrongType, "level"},
	} {
		expect(t, c.kind, c.changes, c.code, c.field)
	}
}
