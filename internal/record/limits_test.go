package record_test

import (
	"encoding/json"
	"errors"
	"maps"
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/validation"
)

// The limits, lengths and words below are those of PROTOCOL.md, section 2.

// bases are bodies that are read as they stand; the tests change one field.
var bases = map[string]string{
	model.KindClientOpened:   `{"team":"north","name":"Robin","referred":"2026-02-20","priority":"soon","course":"slow"}`,
	model.KindClientChanged:  `{"fields":{"ref":"N-1"}}`,
	model.KindClientAssigned: `{"assignee":"marit","status":"hold","version":3,"by":"lena"}`,
	model.KindVisitStarted: `{"client":"c1","team":"north","unit":"gf","checklist":{"id":"standard","version":"1",
		"hash":"0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a"}}`,
	model.KindVisitNoted:     `{"fields":{"goals":"shop alone"}}`,
	model.KindAnswerGiven:    `{"item":"pos-pelvis","state":"answered","level":"3"}`,
	model.KindAnswerChosen:   `{"item":"pos-pelvis","keep":"tab-a:1","drop":["tab-b:2"]}`,
	model.KindReadingTaken:   `{"what":"force","site":"chin","direction":"left","state":"tired","value":30,"unit":"gf"}`,
	model.KindReadingMarked:  `{"reading":"tab-a:3","slip":true,"reason":"leaned"}`,
	model.KindReadingMoved:   `{"reading":"tab-a:3","direction":"left","state":"tired"}`,
	model.KindRunTimed:       `{"place":"indoors","state":"rested","seconds":60,"metres":20}`,
	model.KindRunMarked:      `{"run":"tab-a:4","slip":true,"reason":"bumped"}`,
	model.KindSetupChosen:    `{"class":"small","site":"chin","throw":{"left":60},"needed":["left"]}`,
	model.KindPlanAgreed:     `{"recheck":"2026-05-01"}`,
	model.KindOverrideMade:   `{"level":"practise","reason":"other","text":"known","from":"2026-03-02","until":"2026-03-09"}`,
	model.KindVisitSigned:    `{"level":"practise","result":"0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a0a","name":"Marit"}`,
	model.KindAmendmentMade:  `{"reason":"late","kind":"plan-agreed","change":{"note":"y"}}`,
	model.KindControlListed:  `{"team":"north","name":"Blue","class":"small","operate_gf":10000}`,
	model.KindKitPacked:      `{"controls":[{"id":"k1","name":"Blue","class":"small","operate_gf":10000}]}`,
	model.KindNeedsNoted:     `{"base":"stable","moisture":{"chin":"dry"},"rejected":{"lip":"sore"}}`,
	model.KindNeedsUnset:     `{"fields":["base"]}`,
	model.KindChairMeasured:  `{"length_mm":1000,"width_mm":600,"drive":"mid","ahead_mm":400}`,
	model.KindPlaceMeasured:  `{"place":"p1","kind":"door","name":"front"}`,
	model.KindSettingChanged: `{"key":"power","before":"10","after":"20","why":"slow"}`,
	model.KindSettingTried:   `{"setting":"tab-a:4","outcome":"better"}`,
	model.KindMountNoted:     `{"kind":"tray","fixed_to":"tray"}`,
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
	_, err := record.ReadBody(&model.Event{Kind: kind, Schema: 1, Body: model.Raw(body)})
	var bad *validation.Error
	if !errors.As(err, &bad) {
		if err != nil {
			t.Fatal(err)
		}
		return "", ""
	}
	if bad.Want == "" {
		t.Errorf("%s: %v does not say what is wanted", kind, bad)
	}
	return bad.Code, strings.TrimPrefix(bad.Path, "body.")
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
	if len(bases) != 26 {
		t.Errorf("%d kinds, want all 26", len(bases))
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
		{model.KindRunTimed, "seconds", 0, 14_400, nil},
		{model.KindRunTimed, "metres", 0, 20_000, nil},
		{model.KindRunTimed, "things", 0, 9_999, nil},
		{model.KindRunTimed, "people", 0, 9_999, nil},
		{model.KindRunTimed, "prompts", 0, 9_999, nil},
		{model.KindRunTimed, "rescues", 0, 9_999, nil},
		{model.KindRunTimed, "unmeant", 0, 9_999, nil},
		{model.KindRunTimed, "presses", 0, 9_999, nil},
		{model.KindSetupChosen, "start_gf", 0, 10_000, nil},
		{model.KindSetupChosen, "operate_gf", 0, 10_000, nil},
		{model.KindSetupChosen, "travel_mm", 0, 150, nil},
		{model.KindSetupChosen, "throw.left", 20, 100, nil},
		{model.KindSetupChosen, "throw.forward", 20, 100, nil},
		{model.KindSetupChosen, "switch_press_gf", 0, 2_000, nil},
		{model.KindSetupChosen, "power_press_gf", 0, 2_000, nil},
		{model.KindSetupChosen, "mode_press_gf", 0, 2_000, nil},
		{model.KindControlListed, "start_gf", 0, 10_000, nil},
		{model.KindControlListed, "operate_gf", 0, 10_000, nil},
		{model.KindControlListed, "travel_mm", 0, 150, nil},
		{model.KindControlListed, "lever_mm", 0, 500, nil},
		{model.KindControlListed, "weight_g", 0, 20_000, nil},
		{model.KindKitPacked, "controls.0.start_gf", 0, 10_000, nil},
		{model.KindKitPacked, "controls.0.operate_gf", 0, 10_000, nil},
		{model.KindKitPacked, "controls.0.travel_mm", 0, 150, nil},
		{model.KindKitPacked, "controls.0.lever_mm", 0, 500, nil},
		{model.KindNeedsNoted, "hours_driving", 0, 24, nil},
		{model.KindNeedsNoted, "commands_per_min", 0, 120, nil},
		{model.KindNeedsNoted, "seconds_per_command", 0, 60, nil},
		{model.KindNeedsNoted, "wrist_deg", -90, 90, nil},
		{model.KindNeedsNoted, "task_share", 1, 100, nil},
		{model.KindNeedsNoted, "task_per_min", 0, 120, nil},
		{model.KindNeedsNoted, "task_seconds", 0, 60, nil},
		{model.KindNeedsNoted, "task_wrist_deg", -90, 90, nil},
		{model.KindNeedsNoted, "task_hours", 0, 24, nil},
		{model.KindNeedsNoted, "wait_weeks", 0, 260, nil},
		{model.KindChairMeasured, "length_mm", 400, 2_000, nil},
		{model.KindChairMeasured, "width_mm", 400, 900, nil},
		{model.KindChairMeasured, "ahead_mm", 0, 1_000, nil}, // the length of the base
		{model.KindChairMeasured, "clearance_mm", 0, 200, nil},
		{model.KindChairMeasured, "slope_deg", 3, 20, nil},
		{model.KindChairMeasured, "chair_kg", 0, 500, nil},
		{model.KindChairMeasured, "person_kg", 3, 350, nil},
		{model.KindPlaceMeasured, "width_mm", 400, 2_000, nil},
		{model.KindPlaceMeasured, "width_mm", 400, 2_000, map[string]any{"kind": "corridor"}},
		{model.KindPlaceMeasured, "width_mm", 400, 10_000, map[string]any{"kind": "turn-on-spot"}},
		{model.KindPlaceMeasured, "width_mm", 400, 10_000, map[string]any{"kind": "half-turn"}},
		{model.KindPlaceMeasured, "width_mm", 400, 10_000, map[string]any{"kind": "three-point"}},
		{model.KindPlaceMeasured, "width_mm", 400, 10_000, map[string]any{"kind": "ramp"}},
		{model.KindPlaceMeasured, "corridor_mm", 600, 3_000, nil},
		{model.KindPlaceMeasured, "corridor2_mm", 600, 3_000, nil},
		{model.KindPlaceMeasured, "rise_mm", 0, 3_000, nil},
		{model.KindPlaceMeasured, "run_mm", 0, 60_000, nil},
		{model.KindPlaceMeasured, "run_mm", 200, 5_000, map[string]any{"rise_mm": 100}}, // 1 in 2 to 1 in 50
		{model.KindPlaceMeasured, "landing_mm", 0, 5_000, nil},
		{model.KindPlaceMeasured, "height_mm", 0, 300, nil},
		{model.KindPlaceMeasured, "limit_kg", 0, 1_000, nil},
		{model.KindMountNoted, "forward_mm", 0, 1_200, nil},
		{model.KindMountNoted, "up_mm", 0, 1_200, nil},
		{model.KindMountNoted, "side_mm", -1_200, 1_200, nil},
		{model.KindMountNoted, "pitch_deg", -180, 180, nil},
		{model.KindMountNoted, "roll_deg", -180, 180, nil},
		{model.KindMountNoted, "yaw_deg", -180, 180, nil},
		{model.KindMountNoted, "gap_mm", 0, 300, nil},
		{model.KindMountNoted, "clear_s", 0, 600, nil},
	} {
		field := strings.Replace(c.field, "controls.0.", "controls[0].", 1)
		for _, inside := range []float64{c.low, c.high} {
			expect(t, c.kind, with1(c.beside, c.field, inside), "", "")
		}
		for _, outside := range []float64{c.low - 1, c.high + 1} {
			expect(t, c.kind, with1(c.beside, c.field, outside), validation.CodeOutOfRange, field)
		}
		beyond, code := c.high+0.001, validation.CodeOutOfRange
		if c.high == 9_999 {
			beyond, code = 0.5, validation.CodeWrongType // counts are whole
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
		"slope_deg": model.KindChairMeasured, "person_kg": model.KindChairMeasured, "width_mm": model.KindPlaceMeasured,
		"corridor_mm": model.KindPlaceMeasured, "corridor2_mm": model.KindPlaceMeasured,
	} {
		expect(t, kind, map[string]any{field: 0}, "", "")
		expect(t, kind, map[string]any{field: 0.5}, validation.CodeOutOfRange, field)
	}
	expect(t, model.KindChairMeasured, map[string]any{"width_mm": 0}, validation.CodeOutOfRange, "width_mm")
}

func TestVersionsFromOne(t *testing.T) {
	for version, code := range map[int]string{1: "", 0: validation.CodeOutOfRange, -1: validation.CodeOutOfRange} {
		expect(t, model.KindClientAssigned, map[string]any{"version": version}, code, "version")
	}
}

// TestRampsBetweenTwoAndFiftyTimesTheirRise: without a rise or a run there is
// no slope to check.
func TestRampsBetweenTwoAndFiftyTimesTheirRise(t *testing.T) {
	for _, c := range []struct {
		rise, run float64
		code      string
	}{
		{100, 200, ""}, {100, 199, validation.CodeOutOfRange}, {100, 5_000, ""}, {100, 5_001, validation.CodeOutOfRange},
		{0, 60_000, ""}, {3_000, 0, ""}, {1, 2, ""}, {1, 1, validation.CodeOutOfRange},
	} {
		expect(t, model.KindPlaceMeasured, map[string]any{"kind": "ramp", "rise_mm": c.rise, "run_mm": c.run}, c.code, "run_mm")
	}
}

// TestWhatMovesTheChairIsNotAboveFullCommand holds where full command is known.
func TestWhatMovesTheChairIsNotAboveFullCommand(t *testing.T) {
	for _, c := range []struct {
		start, operate float64
		code           string
	}{{50, 50, ""}, {50.5, 50, validation.CodeOutOfRange}, {49, 50, ""}, {50, 0, ""}, {0.5, 0.25, validation.CodeOutOfRange}} {
		expect(t, model.KindControlListed, map[string]any{"start_gf": c.start, "operate_gf": c.operate}, c.code, "start_gf")
		expect(t, model.KindKitPacked, map[string]any{"controls.0.start_gf": c.start, "controls.0.operate_gf": c.operate}, c.code, "controls[0].start_gf")
	}
}

func TestAtMostTwoHundredControls(t *testing.T) {
	for n, code := range map[int]string{200: "", 201: validation.CodeOutOfRange} {
		var controls []any
		for i := range n {
			controls = append(controls, map[string]any{"id": "k" + strconv.Itoa(i), "name": "Blue", "class": "small"})
		}
		expect(t, model.KindKitPacked, map[string]any{"controls": controls}, code, "controls")
		_, err := record.ReadBody(&model.Event{Kind: model.KindKitPacked, Schema: 1, Body: model.Raw(with(t, model.KindKitPacked, map[string]any{"controls": controls}))})
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
		expect(t, model.KindReadingTaken, reading, "", "")
		for _, wrong := range []float64{c.tooMuch, -0.01} {
			reading["value"] = wrong
			expect(t, model.KindReadingTaken, reading, validation.CodeOutOfRange, "value")
		}
		reading["value"] = 0
		expect(t, model.KindReadingTaken, reading, "", "")
		reading["unit"] = ""
		expect(t, model.KindReadingTaken, reading, validation.CodeRequired, "unit")
		for _, unit := range []string{"gf", "N", "ozf", "lbf", "mm", "s", "kg"} {
			if isForce := strings.Contains(c.what, "force") || c.what == "unintended"; unit == c.unit || isForce && strings.Contains("gf N ozf lbf", unit) {
				continue
			}
			reading["unit"] = unit
			expect(t, model.KindReadingTaken, reading, validation.CodeWrongUnit, "unit")
		}
	}
}
