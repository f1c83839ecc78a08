package record_test

import (
	"encoding/json"
	"errors"
	"maps"
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/record"
)

// The limits, lengths and words below are those of PROTOCOL.md, section 2.

// bases are bodies that are read as they stand; the tests change one field.
var bases = map[string]string{
	record.KindClientOpened:   `{"team":"north","name":"Robin","referred":"2026-02-20","priority":"soon","course":"slow"}`,
	record.KindClientChanged:  `{"fields":{"ref":"N-1"}}`,
	record.KindClientAssigned: `{"assignee":"marit","status":"hold","version":3,"by":"lena"}`,
	record.KindVisitStarted: `{"client":"c1","team":"north","unit":"gf","checklist":{"id":"standard","version":"1",
		"hash":"0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a"}}`,
	record.KindVisitNoted:     `{"fields":{"goals":"shop alone"}}`,
	record.KindAnswerGiven:    `{"item":"pos-pelvis","state":"answered","level":"3"}`,
	record.KindAnswerChosen:   `{"item":"pos-pelvis","keep":"tab-a:1","drop":["tab-b:2"]}`,
	record.KindReadingTaken:   `{"what":"force","site":"chin","direction":"left","state":"tired","value":30,"unit":"gf"}`,
	record.KindReadingMarked:  `{"reading":"tab-a:3","slip":true,"reason":"leaned"}`,
	record.KindRunTimed:       `{"place":"indoors","state":"rested","seconds":60,"metres":20}`,
	record.KindRunMarked:      `{"run":"tab-a:4","slip":true,"reason":"bumped"}`,
	record.KindSetupChosen:    `{"class":"small","site":"chin","throw":{"left":60},"needed":["left"]}`,
	record.KindPlanAgreed:     `{"recheck":"2026-05-01"}`,
	record.KindOverrideMade:   `{"level":"practise","reason":"other","text":"known","from":"2026-03-02","until":"2026-03-09"}`,
	record.KindVisitSigned:    `{"level":"practise","result":"0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a","name":"Marit"}`,
	record.KindAmendmentMade:  `{"reason":"late","kind":"plan-agreed","change":{"note":"y"}}`,
	record.KindControlListed:  `{"team":"north","name":"Blue","class":"small","operate_gf":10000}`,
	record.KindKitPacked:      `{"controls":[{"id":"k1","name":"Blue","class":"small","operate_gf":10000}]}`,
	record.KindNeedsNoted:     `{"base":"stable","moisture":{"chin":"dry"},"rejected":{"lip":"sore"}}`,
	record.KindNeedsUnset:     `{"fields":["base"]}`,
	record.KindChairMeasured:  `{"length_mm":1000,"width_mm":600,"drive":"mid","ahead_mm":400}`,
	record.KindPlaceMeasured:  `{"place":"p1","kind":"door","name":"front"}`,
	record.KindSettingChanged: `{"key":"power","before":"10","after":"20","why":"slow"}`,
	record.KindSettingTried:   `{"setting":"tab-a:4","outcome":"better"}`,
	record.KindMountNoted:     `{"kind":"tray","fixed_to":"tray"}`,
}

// with is the base body of a kind in which fields have other values; a name
// such as "throw.left" or "controls.0.name" leads to what lies deeper.
func with(t *testing.T, kind string, changes map[string]any) json.RawMessage {
	t.Helper()
	var body any
	if err := json.Unmarshal([]byte(bases[kind]), &body); err != nil {
		t.Fatalf("%s: %v", kind, err)
	}
	for name, value := range changes {
		at, path := body, strings.Split(name, ".")
		for _, key := range path[:len(path)-1] {
			if list, ok := at.([]any); ok {
				n, _ := strconv.Atoi(key)
				at = list[n]
			} else {
				at = at.(map[string]any)[key]
			}
		}
		at.(map[string]any)[path[len(path)-1]] = value
	}
	raw, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// read says what ReadBody says: the code and the field, or nothing.
func read(t *testing.T, kind string, body json.RawMessage) (code, field string) {
	t.Helper()
	err := record.CheckBody(record.Event{Kind: kind, Schema: 1, Body: body})
	var bad *record.Refusal
	if !errors.As(err, &bad) {
		if err != nil {
			t.Fatal(err)
		}
		return "", ""
	}
	if bad.Want == "" {
		t.Errorf("%s: %v does not say what is wanted", kind, bad)
	}
	return bad.Code, strings.TrimPrefix(bad.Field, "body.")
}

// expect reads the base body with a changed field; an empty code is no refusal.
func expect(t *testing.T, kind string, changes map[string]any, code, field string) {
	t.Helper()
	gotCode, gotField := read(t, kind, with(t, kind, changes))
	if gotCode != code || code != "" && gotField != field {
		t.Errorf("%s with %.80v: %q at %q, want %q at %q", kind, changes, gotCode, gotField, code, field)
	}
}

func TestBasesAreRead(t *testing.T) {
	for kind := range bases {
		expect(t, kind, nil, "", "")
	}
	if len(bases) != 25 {
		t.Errorf("%d kinds, want all 25", len(bases))
	}
}

// TestNumbersUpToTheirLimits tries both limits of every number, and what lies
// just beyond. Where zero lies outside of the limits it stands for "not known".
func TestNumbersUpToTheirLimits(t *testing.T) {
	for _, c := range []struct {
		kind, field string
		low, high   float64
		beside      map[string]any
	}{
		{record.KindRunTimed, "seconds", 0, 14_400, nil},
		{record.KindRunTimed, "metres", 0, 20_000, nil},
		{record.KindRunTimed, "things", 0, 9_999, nil},
		{record.KindRunTimed, "people", 0, 9_999, nil},
		{record.KindRunTimed, "prompts", 0, 9_999, nil},
		{record.KindRunTimed, "rescues", 0, 9_999, nil},
		{record.KindRunTimed, "unmeant", 0, 9_999, nil},
		{record.KindRunTimed, "presses", 0, 9_999, nil},
		{record.KindSetupChosen, "start_gf", 0, 10_000, nil},
		{record.KindSetupChosen, "operate_gf", 0, 10_000, nil},
		{record.KindSetupChosen, "travel_mm", 0, 150, nil},
		{record.KindSetupChosen, "throw.left", 20, 100, nil},
		{record.KindSetupChosen, "throw.forward", 20, 100, nil},
		{record.KindSetupChosen, "switch_press_gf", 0, 2_000, nil},
		{record.KindSetupChosen, "power_press_gf", 0, 2_000, nil},
		{record.KindSetupChosen, "mode_press_gf", 0, 2_000, nil},
		{record.KindControlListed, "start_gf", 0, 10_000, nil},
		{record.KindControlListed, "operate_gf", 0, 10_000, nil},
		{record.KindControlListed, "travel_mm", 0, 150, nil},
		{record.KindControlListed, "lever_mm", 0, 500, nil},
		{record.KindControlListed, "weight_g", 0, 20_000, nil},
		{record.KindKitPacked, "controls.0.start_gf", 0, 10_000, nil},
		{record.KindKitPacked, "controls.0.operate_gf", 0, 10_000, nil},
		{record.KindKitPacked, "controls.0.travel_mm", 0, 150, nil},
		{record.KindKitPacked, "controls.0.lever_mm", 0, 500, nil},
		{record.KindNeedsNoted, "hours_driving", 0, 24, nil},
		{record.KindNeedsNoted, "commands_per_min", 0, 120, nil},
		{record.KindNeedsNoted, "seconds_per_command", 0, 60, nil},
		{record.KindNeedsNoted, "wrist_deg", -90, 90, nil},
		{record.KindNeedsNoted, "task_share", 1, 100, nil},
		{record.KindNeedsNoted, "task_per_min", 0, 120, nil},
		{record.KindNeedsNoted, "task_seconds", 0, 60, nil},
		{record.KindNeedsNoted, "task_wrist_deg", -90, 90, nil},
		{record.KindNeedsNoted, "task_hours", 0, 24, nil},
		{record.KindNeedsNoted, "wait_weeks", 0, 260, nil},
		{record.KindChairMeasured, "length_mm", 400, 2_000, nil},
		{record.KindChairMeasured, "width_mm", 400, 900, nil},
		{record.KindChairMeasured, "ahead_mm", 0, 1_000, nil}, // the length of the base
		{record.KindChairMeasured, "clearance_mm", 0, 200, nil},
		{record.KindChairMeasured, "slope_deg", 3, 20, nil},
		{record.KindChairMeasured, "chair_kg", 0, 500, nil},
		{record.KindChairMeasured, "person_kg", 3, 350, nil},
		{record.KindPlaceMeasured, "width_mm", 400, 2_000, nil},
		{record.KindPlaceMeasured, "width_mm", 400, 2_000, map[string]any{"kind": "corridor"}},
		{record.KindPlaceMeasured, "width_mm", 400, 10_000, map[string]any{"kind": "turn-on-spot"}},
		{record.KindPlaceMeasured, "width_mm", 400, 10_000, map[string]any{"kind": "half-turn"}},
		{record.KindPlaceMeasured, "width_mm", 400, 10_000, map[string]any{"kind": "three-point"}},
		{record.KindPlaceMeasured, "width_mm", 400, 10_000, map[string]any{"kind": "ramp"}},
		{record.KindPlaceMeasured, "corridor_mm", 600, 3_000, nil},
		{record.KindPlaceMeasured, "corridor2_mm", 600, 3_000, nil},
		{record.KindPlaceMeasured, "rise_mm", 0, 3_000, nil},
		{record.KindPlaceMeasured, "run_mm", 0, 60_000, nil},
		{record.KindPlaceMeasured, "run_mm", 200, 5_000, map[string]any{"rise_mm": 100}}, // 1 in 2 to 1 in 50
		{record.KindPlaceMeasured, "landing_mm", 0, 5_000, nil},
		{record.KindPlaceMeasured, "height_mm", 0, 300, nil},
		{record.KindPlaceMeasured, "limit_kg", 0, 1_000, nil},
		{record.KindMountNoted, "forward_mm", 0, 1_200, nil},
		{record.KindMountNoted, "up_mm", 0, 1_200, nil},
		{record.KindMountNoted, "side_mm", -1_200, 1_200, nil},
		{record.KindMountNoted, "pitch_deg", -180, 180, nil},
		{record.KindMountNoted, "roll_deg", -180, 180, nil},
		{record.KindMountNoted, "yaw_deg", -180, 180, nil},
		{record.KindMountNoted, "gap_mm", 0, 300, nil},
		{record.KindMountNoted, "clear_s", 0, 600, nil},
	} {
		field := strings.Replace(c.field, "controls.0.", "controls[0].", 1)
		for _, inside := range []float64{c.low, c.high} {
			expect(t, c.kind, with1(c.beside, c.field, inside), "", "")
		}
		for _, outside := range []float64{c.low - 1, c.high + 1} {
			expect(t, c.kind, with1(c.beside, c.field, outside), record.CodeOutOfRange, field)
		}
		beyond, code := c.high+0.001, record.CodeOutOfRange
		if c.high == 9_999 {
			beyond, code = 0.5, record.CodeWrongType // counts are whole
		}
		expect(t, c.kind, with1(c.beside, c.field, beyond), code, field)
	}
}

func with1(beside map[string]any, field string, value any) map[string]any {
	changes := map[string]any{field: value}
	maps.Copy(changes, beside)
	return changes
}

func TestZeroIsNotKnown(t *testing.T) {
	for field, kind := range map[string]string{
		"slope_deg": record.KindChairMeasured, "person_kg": record.KindChairMeasured, "width_mm": record.KindPlaceMeasured,
		"corridor_mm": record.KindPlaceMeasured, "corridor2_mm": record.KindPlaceMeasured,
	} {
		expect(t, kind, map[string]any{field: 0}, "", "")
		expect(t, kind, map[string]any{field: 0.5}, record.CodeOutOfRange, field)
	}
	expect(t, record.KindChairMeasured, map[string]any{"width_mm": 0}, record.CodeOutOfRange, "width_mm")
}

func TestVersionsFromOne(t *testing.T) {
	for version, code := range map[int]string{1: "", 0: record.CodeOutOfRange, -1: record.CodeOutOfRange} {
		expect(t, record.KindClientAssigned, map[string]any{"version": version}, code, "version")
	}
}

// TestRampsBetweenTwoAndFiftyTimesTheirRise: without a rise or a run there is
// no slope to check.
func TestRampsBetweenTwoAndFiftyTimesTheirRise(t *testing.T) {
	for _, c := range []struct {
		rise, run float64
		code      string
	}{
		{100, 200, ""}, {100, 199, record.CodeOutOfRange}, {100, 5_000, ""}, {100, 5_001, record.CodeOutOfRange},
		{0, 60_000, ""}, {3_000, 0, ""}, {1, 2, ""}, {1, 1, record.CodeOutOfRange},
	} {
		expect(t, record.KindPlaceMeasured, map[string]any{"kind": "ramp", "rise_mm": c.rise, "run_mm": c.run}, c.code, "run_mm")
	}
}

// TestWhatMovesTheChairIsNotAboveFullCommand holds where full command is known.
func TestWhatMovesTheChairIsNotAboveFullCommand(t *testing.T) {
	for _, c := range []struct {
		start, operate float64
		code           string
	}{{50, 50, ""}, {50.5, 50, record.CodeOutOfRange}, {49, 50, ""}, {50, 0, ""}, {0.5, 0.25, record.CodeOutOfRange}} {
		expect(t, record.KindControlListed, map[string]any{"start_gf": c.start, "operate_gf": c.operate}, c.code, "start_gf")
		expect(t, record.KindKitPacked, map[string]any{"controls.0.start_gf": c.start, "controls.0.operate_gf": c.operate}, c.code, "controls[0].start_gf")
	}
}

func TestAtMostTwoHundredControls(t *testing.T) {
	for n, code := range map[int]string{200: "", 201: record.CodeOutOfRange} {
		var controls []any
		for i := range n {
			controls = append(controls, map[string]any{"id": "k" + strconv.Itoa(i), "name": "Blue", "class": "small"})
		}
		expect(t, record.KindKitPacked, map[string]any{"controls": controls}, code, "controls")
		err := record.CheckBody(record.Event{Kind: record.KindKitPacked, Schema: 1, Body: with(t, record.KindKitPacked, map[string]any{"controls": controls})})
		if code != "" && err.Error() != "body.controls: expected at most 200 controls, got 201" {
			t.Error(err)
		}
	}
}

// TestReadingsUpToTheirLimits: the limits of forces are in gram-force, whatever
// the unit (1 gf is 9.80665 mN, NIST SP 811, 2008, App. B).
func TestReadingsUpToTheirLimits(t *testing.T) {
	for _, c := range []struct {
		what, unit    string
		most, tooMuch float64
	}{
		{"force", "gf", 10_000, 10_000.01}, {"force", "N", 98.0665, 98.0666},
		{"force", "ozf", 352.739, 352.740}, {"force", "lbf", 22.0462, 22.0463},
		{"switch-force", "gf", 10_000, 10_001}, {"unintended", "gf", 5_000, 5_001}, {"unintended", "N", 49.03325, 49.0333},
		{"travel", "mm", 150, 150.1}, {"hold", "s", 600, 600.1}, {"release", "s", 20, 20.1},
	} {
		reading := map[string]any{"what": c.what, "unit": c.unit, "value": c.most}
		expect(t, record.KindReadingTaken, reading, "", "")
		for _, wrong := range []float64{c.tooMuch, -0.01} {
			reading["value"] = wrong
			expect(t, record.KindReadingTaken, reading, record.CodeOutOfRange, "value")
		}
		reading["value"] = 0
		expect(t, record.KindReadingTaken, reading, "", "")
		reading["unit"] = ""
		expect(t, record.KindReadingTaken, reading, record.CodeRequired, "unit")
		for _, unit := range []string{"gf", "N", "ozf", "lbf", "mm", "s", "kg"} {
			if isForce := strings.Contains(c.what, "force") || c.what == "unintended"; unit == c.unit || isForce && strings.Contains("gf N ozf lbf", unit) {
				continue
			}
			reading["unit"] = unit
			expect(t, record.KindReadingTaken, reading, record.CodeWrongUnit, "unit")
		}
	}
}
