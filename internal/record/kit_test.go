package record_test

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"doorsill/internal/record"
)

// due says what must be tried again in a vector, by ref.
func due(v record.Visit) string {
	var refs []string
	for _, r := range v.Readings {
		if r.Due {
			refs = append(refs, string(r.Ref))
		}
	}
	for _, answer := range v.Answers {
		for _, head := range answer.Heads {
			if head.Due {
				refs = append(refs, string(head.Ref))
			}
		}
	}
	return strings.Join(refs, " ")
}

// The vectors hold what the fold gives; this says by hand what must be tried
// again after a change of a setting.
func TestWhatIsDueAgain(t *testing.T) {
	tests := []struct{ vector, want string }{
		{"setting-due", "tab-a:2 tab-a:4"},
		{"setting-retested", "tab-a:3 tab-a:5"},
		{"setting-unseen", "tab-b:1 tab-b:2"},
		{"amended-setting", "tab-a:2 tab-a:3"},
		{"signed", ""},
	}
	for _, tt := range tests {
		t.Run(tt.vector, func(t *testing.T) {
			_, entries := loadVector(t, tt.vector+".json")
			visit, err := record.FoldVisit(entries)
			if err != nil {
				t.Fatal(err)
			}
			if got := due(visit); got != tt.want {
				t.Errorf("due again: got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestPlacesKeepTheirOrder(t *testing.T) {
	for vector, want := range map[string]string{"places": "p1 p3 p4", "places-back": "p1 p2"} {
		_, entries := loadVector(t, vector+".json")
		visit, err := record.FoldVisit(entries)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, place := range visit.Places {
			got = append(got, place.Place)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: got %v, want %s", vector, got, want)
		}
	}
}

// A visit that was given out does not change when the fold goes on.
func TestNeedsGivenOutStay(t *testing.T) {
	_, entries := loadVector(t, "needs-add-up.json")
	fold := record.NewVisitFold()
	var before record.Visit
	for i, entry := range entries {
		event, err := record.Decode(entry.Raw)
		if err != nil {
			t.Fatal(err)
		}
		body, err := record.ReadBody(&event)
		if err != nil {
			t.Fatal(err)
		}
		fold.Add(entry.Pos, &event, body)
		if i == 1 {
			before = fold.Visit()
		}
	}
	if got := before.Needs.Moisture["chin"]; got != "damp" {
		t.Errorf("moisture at the chin of the earlier visit: got %q, want damp", got)
	}
}

func TestKitBodiesRefused(t *testing.T) {
	const control = `"team":"north","name":"Blue stick","class":"standard","start_gf":60,"operate_gf":250,"travel_mm":28`
	const place = `"place":"p1","name":"hall"`
	const setting = `"before":"10","after":"20","why":"x"`
	tests := []struct{ kind, body, code, field string }{
		{record.KindControlListed, `{` + control + `}`, "", ""},
		{record.KindControlListed, `{` + control + `,"sealing":"IPX4","mounts":["tray"],"measured":"2026-03-01"}`, "", ""},
		{record.KindControlListed, `{"team":"north","class":"standard"}`, record.CodeRequired, "body.name"},
		{record.KindControlListed, `{` + control + `,"class":"fast"}`, record.CodeWrongType, "body.class"},
		{record.KindControlListed, `{` + control + `,"start_gf":300}`, record.CodeOutOfRange, "body.start_gf"},
		{record.KindControlListed, `{` + control + `,"operate_gf":-1}`, record.CodeOutOfRange, "body.operate_gf"},
		{record.KindControlListed, `{` + control + `,"sealing":"waterproof"}`, record.CodeWrongType, "body.sealing"},
		{record.KindControlListed, `{` + control + `,"mounts":["tray","glue"]}`, record.CodeWrongType, "body.mounts[1]"},
		{record.KindControlListed, `{` + control + `,"measured":"March"}`, record.CodeWrongType, "body.measured"},
		{record.KindControlListed, `{` + control + `,"power_jack":"yes"}`, record.CodeWrongType, "body.power_jack"},
		{record.KindKitPacked, `{}`, "", ""},
		{record.KindKitPacked, `{"controls":{}}`, record.CodeWrongType, "body.controls"},
		{record.KindKitPacked, `{"controls":["k1"]}`, record.CodeWrongType, "body.controls[0]"},
		{record.KindKitPacked, `{"controls":[{"id":"k1","name":"a","class":"small"},{"id":"k1","name":"b","class":"small"}]}`, record.CodeOutOfRange, "body.controls[1].id"},
		{record.KindKitPacked, `{"controls":[{"id":"k1","name":"a","class":"small","travel_mm":400}]}`, record.CodeOutOfRange, "body.controls[0].travel_mm"},
		{record.KindNeedsNoted, `{"wrist_deg":0}`, "", ""},
		{record.KindNeedsNoted, `{}`, record.CodeRequired, "body"},
		{record.KindNeedsNoted, `{"task_share":20,"task_hours":2}`, "", ""},
		{record.KindNeedsNoted, `{"task_share":0}`, record.CodeOutOfRange, "body.task_share"},
		{record.KindNeedsNoted, `{"task_per_min":121}`, record.CodeOutOfRange, "body.task_per_min"},
		{record.KindNeedsUnset, `{"fields":["wait_weeks","moisture.chin"]}`, "", ""},
		{record.KindNeedsUnset, `{}`, record.CodeRequired, "body.fields"},
		{record.KindNeedsUnset, `{"fields":["weeks"]}`, record.CodeWrongType, "body.fields[0]"},
		{record.KindNeedsUnset, `{"fields":["base","moisture.nose"]}`, record.CodeWrongType, "body.fields[1]"},
		{record.KindReadingTaken, `{"what":"switch-force","site":"chin","switch":"mode","state":"tired","value":30,"unit":"gf"}`, "", ""},
		{record.KindReadingTaken, `{"what":"switch-force","site":"chin","switch":"horn","state":"tired","value":30,"unit":"gf"}`, record.CodeWrongType, "body.switch"},
		{record.KindReadingTaken, `{"what":"force","site":"chin","direction":"left","switch":"mode","state":"tired","value":30,"unit":"gf"}`, record.CodeWrongType, "body.switch"},
		{record.KindSetupChosen, `{"class":"small","site":"chin","needed":["left"],"mode_press_gf":2001}`, record.CodeOutOfRange, "body.mode_press_gf"},
		{record.KindNeedsNoted, `{"hours_driving":25}`, record.CodeOutOfRange, "body.hours_driving"},
		{record.KindNeedsNoted, `{"commands_per_min":-1}`, record.CodeOutOfRange, "body.commands_per_min"},
		{record.KindNeedsNoted, `{"base":"wobbly"}`, record.CodeWrongType, "body.base"},
		{record.KindNeedsNoted, `{"moisture":{"chin":"soggy"}}`, record.CodeWrongType, "body.moisture.chin"},
		{record.KindNeedsNoted, `{"moisture":{"nose":"dry"}}`, record.CodeWrongType, "body.moisture.nose"},
		{record.KindNeedsNoted, `{"wish_control":"class:small"}`, "", ""},
		{record.KindNeedsNoted, `{"wish_control":"class:big"}`, record.CodeWrongType, "body.wish_control"},
		{record.KindNeedsNoted, `{"rough_ground":1}`, record.CodeWrongType, "body.rough_ground"},
		{record.KindChairMeasured, `{"length_mm":1100,"width_mm":640,"drive":"mid","ahead_mm":600,"clearance_mm":25}`, "", ""},
		{record.KindChairMeasured, `{"length_mm":1100,"width_mm":64,"drive":"mid","ahead_mm":600}`, record.CodeOutOfRange, "body.width_mm"},
		{record.KindChairMeasured, `{"length_mm":1100,"width_mm":640,"drive":"six"}`, record.CodeWrongType, "body.drive"},
		{record.KindChairMeasured, `{"length_mm":1100,"width_mm":640,"drive":"mid","ahead_mm":1200}`, record.CodeOutOfRange, "body.ahead_mm"},
		{record.KindChairMeasured, `{"length_mm":1100,"width_mm":640,"drive":"mid","slope_deg":1}`, record.CodeOutOfRange, "body.slope_deg"},
		{record.KindChairMeasured, `{"length_mm":1100,"width_mm":640,"drive":"mid","person_kg":700}`, record.CodeOutOfRange, "body.person_kg"},
		{record.KindPlaceMeasured, `{` + place + `,"kind":"door","width_mm":815}`, "", ""},
		{record.KindPlaceMeasured, `{"place":"p1","gone":true}`, "", ""},
		{record.KindPlaceMeasured, `{` + place + `,"kind":"gate"}`, record.CodeWrongType, "body.kind"},
		{record.KindPlaceMeasured, `{"place":"p1","kind":"door"}`, record.CodeRequired, "body.name"},
		{record.KindPlaceMeasured, `{` + place + `,"kind":"door","width_mm":81.5}`, record.CodeOutOfRange, "body.width_mm"},
		{record.KindPlaceMeasured, `{` + place + `,"kind":"turn-on-spot","width_mm":4500}`, "", ""},
		{record.KindPlaceMeasured, `{` + place + `,"kind":"corridor","corridor_mm":90}`, record.CodeOutOfRange, "body.corridor_mm"},
		{record.KindPlaceMeasured, `{` + place + `,"kind":"ramp","rise_mm":100,"run_mm":120}`, record.CodeOutOfRange, "body.run_mm"},
		{record.KindPlaceMeasured, `{` + place + `,"kind":"threshold","height_mm":400}`, record.CodeOutOfRange, "body.height_mm"},
		{record.KindSettingChanged, `{"key":"power",` + setting + `}`, "", ""},
		{record.KindSettingChanged, `{"key":"speed",` + setting + `}`, record.CodeWrongType, "body.key"},
		{record.KindSettingChanged, `{"key":"power","before":"10","after":"20"}`, record.CodeRequired, "body.why"},
		{record.KindSettingChanged, `{"key":"power",` + setting + `,"problem":"sulks"}`, record.CodeWrongType, "body.problem"},
		{record.KindSettingChanged, `{"key":"dead_zone","before":"10","after":"60","unit":"%","why":"x"}`, record.CodeOutOfRange, "body.after"},
		{record.KindSettingChanged, `{"key":"throw_left","before":"10","after":"60","unit":"%","why":"x"}`, record.CodeOutOfRange, "body.before"},
		{record.KindSettingChanged, `{"key":"axis_rotation","before":"0","after":"400","unit":"deg","why":"x"}`, record.CodeOutOfRange, "body.after"},
		{record.KindSettingChanged, `{"key":"power","before":"low","after":"step 12","unit":"step","why":"x"}`, "", ""},
		{record.KindSettingTried, `{"setting":"tab-a:4","outcome":"better","note":"stops in a metre"}`, "", ""},
		{record.KindSettingTried, `{"setting":"","outcome":"same"}`, record.CodeRequired, "body.setting"},
		{record.KindSettingTried, `{"setting":"tab-a:4","outcome":"nice"}`, record.CodeWrongType, "body.outcome"},
		{record.KindMountNoted, `{"kind":"tray","fixed_to":"tray","side_mm":-40}`, "", ""},
		{record.KindMountNoted, `{"kind":"tray","fixed_to":"wall"}`, record.CodeWrongType, "body.fixed_to"},
		{record.KindMountNoted, `{"kind":"tray","fixed_to":"tray","up_mm":-1}`, record.CodeOutOfRange, "body.up_mm"},
		{record.KindMountNoted, `{"kind":"tray","fixed_to":"tray","yaw_deg":200}`, record.CodeOutOfRange, "body.yaw_deg"},
		{record.KindAmendmentMade, `{"reason":"x","kind":"mount-noted","change":{"kind":"tray","fixed_to":"wall"}}`, record.CodeWrongType, "body.change.fixed_to"},
		{record.KindAmendmentMade, `{"reason":"x","kind":"control-listed","change":{}}`, record.CodeWrongType, "body.kind"},
	}
	for _, tt := range tests {
		t.Run(tt.kind+" "+tt.body, func(t *testing.T) {
			err := record.CheckBody(record.Event{Kind: tt.kind, Schema: 1, Body: json.RawMessage(tt.body)})
			if tt.code == "" {
				if err != nil {
					t.Errorf("got %v, want it read", err)
				}
				return
			}
			var bad *record.Refusal
			if !errors.As(err, &bad) || bad.Code != tt.code || bad.Field != tt.field || bad.Want == "" {
				t.Errorf("got %v (%+v), want %s at %q", err, bad, tt.code, tt.field)
			}
		})
	}
}

// The field methods are written by hand; every field of every kit body comes
// back as it was written.
func TestKitBodiesComeBack(t *testing.T) {
	yes, no, number, nought := true, false, 2.5, 0.0
	bodies := map[string]any{
		record.KindControlListed: &record.ControlListed{
			Team: "north", Name: "Blue stick", Class: "standard", StartGF: 60, OperateGF: 250, TravelMM: 28, LeverMM: 40,
			Sealing: "IP54", PowerJack: true, ModeJack: true, Connector: "nine-pin", Attendant: true, WeightG: 310,
			Mounts: []string{"fixed", "tray"}, Measured: "2026-02-01", MeasuredBy: "I. Lead", Gone: true},
		record.KindKitPacked: &record.KitPacked{Controls: []record.PackedControl{{
			ID: "k1", Name: "Blue stick", Class: "small", StartGF: 15, OperateGF: 50, TravelMM: 10, LeverMM: 20,
			Sealing: "IPX4", PowerJack: true, ModeJack: true, Attendant: true}}},
		record.KindNeedsNoted: &record.NeedsNoted{
			RoughGround: &yes, HelperDrives: &no, ReverseKey: &yes, Blocked: &no, HoursDriving: &number, CommandsPerMin: &number,
			SecondsPerCommand: &number, WristDeg: &nought, WaitWeeks: &number, Base: "stable", Course: "slow", WishSite: "chin",
			WishControl: "k1", Moisture: map[string]string{"chin": "wet"}, Rejected: map[string]string{"lip": "sore"}},
		record.KindChairMeasured: &record.ChairMeasured{
			LengthMM: 1100, WidthMM: 640, Drive: "rear", AheadMM: 700, ClearanceMM: 25, SlopeDeg: 8, ChairKG: 140, PersonKG: 62},
		record.KindPlaceMeasured: &record.PlaceMeasured{
			Place: "p1", Kind: "ramp", Name: "garden", WidthMM: 900, CorridorMM: 950, Corridor2MM: 1000, RiseMM: 100, RunMM: 1200,
			LandingMM: 1500, HeightMM: 12, LimitKG: 300, Gone: true},
		record.KindSettingChanged: &record.SettingChanged{
			Key: "decel", Profile: "indoor", Before: "40", After: "45", Unit: "%", Problem: "long-stop", Why: "rolled on",
			Result: "stops in a metre", Firmware: "2.1", Word: "braking"},
		record.KindSettingTried: &record.SettingTried{Setting: "tab-a:4", Outcome: "worse", Note: "lurches"},
		record.KindMountNoted: &record.MountNoted{
			Kind: "midline", FixedTo: "back", ForwardMM: 500, UpMM: 560, SideMM: -20, PitchDeg: -15, RollDeg: 1, YawDeg: 2, GapMM: 8,
			ClearS: 2.5, Index: true, Tilt: true, Recline: true, Transfer: true, Collision: true, Note: "cable behind"},
		record.KindVisitStarted: &record.VisitStarted{Client: "c1", Team: "north", Unit: "gf", SecondOf: "v1",
			Checklist: record.ChecklistRef{ID: "standard", Version: "1", Hash: strings.Repeat("0a", 32)}},
	}
	for kind, want := range bodies {
		raw := sample(func(e map[string]any) { e["kind"], e["body"] = kind, want })
		event, err := record.Decode(raw)
		if err != nil {
			t.Fatal(err)
		}
		got, err := record.ReadBody(&event)
		if err != nil {
			t.Fatalf("%s: %v", kind, err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: got %+v\nwant %+v", kind, got, want)
		}
	}
}
