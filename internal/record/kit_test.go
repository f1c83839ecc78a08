package record_test

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/validation"
)

// due says what must be tried again in a vector, by ref.
func due(v model.Visit) string {
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
			visit, err := record.FoldVisit(entries, model.Logs{})
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
		visit, err := record.FoldVisit(entries, model.Logs{})
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
	fold := record.NewVisitFold(model.Logs{})
	var before model.Visit
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
		{model.KindControlListed, `{` + control + `}`, "", ""},
		{model.KindControlListed, `{` + control + `,"sealing":"IPX4","mounts":["tray"],"measured":"2026-03-01"}`, "", ""},
		{model.KindControlListed, `{"team":"north","class":"standard"}`, validation.CodeRequired, "body.name"},
		{model.KindControlListed, `{` + control + `,"class":"fast"}`, validation.CodeWrongType, "body.class"},
		{model.KindControlListed, `{` + control + `,"start_gf":300}`, validation.CodeOutOfRange, "body.start_gf"},
		{model.KindControlListed, `{` + control + `,"operate_gf":-1}`, validation.CodeOutOfRange, "body.operate_gf"},
		{model.KindControlListed, `{` + control + `,"sealing":"waterproof"}`, validation.CodeWrongType, "body.sealing"},
		{model.KindControlListed, `{` + control + `,"mounts":["tray","glue"]}`, validation.CodeWrongType, "body.mounts[1]"},
		{model.KindControlListed, `{` + control + `,"measured":"March"}`, validation.CodeWrongType, "body.measured"},
		{model.KindControlListed, `{` + control + `,"power_jack":"yes"}`, validation.CodeWrongType, "body.power_jack"},
		{model.KindKitPacked, `{}`, "", ""},
		{model.KindKitPacked, `{"controls":{}}`, validation.CodeWrongType, "body.controls"},
		{model.KindKitPacked, `{"controls":["k1"]}`, validation.CodeWrongType, "body.controls[0]"},
		{model.KindKitPacked, `{"controls":[{"id":"k1","name":"a","class":"small"},{"id":"k1","name":"b","class":"small"}]}`, validation.CodeOutOfRange, "body.controls[1].id"},
		{model.KindKitPacked, `{"controls":[{"id":"k1","name":"a","class":"small","travel_mm":400}]}`, validation.CodeOutOfRange, "body.controls[0].travel_mm"},
		{model.KindNeedsNoted, `{"wrist_deg":0}`, "", ""},
		{model.KindNeedsNoted, `{}`, validation.CodeRequired, "body"},
		{model.KindNeedsNoted, `{"task_share":20,"task_hours":2}`, "", ""},
		{model.KindNeedsNoted, `{"task_share":0}`, validation.CodeOutOfRange, "body.task_share"},
		{model.KindNeedsNoted, `{"task_per_min":121}`, validation.CodeOutOfRange, "body.task_per_min"},
		{model.KindNeedsUnset, `{"fields":["wait_weeks","moisture.chin"]}`, "", ""},
		{model.KindNeedsUnset, `{}`, validation.CodeRequired, "body.fields"},
		{model.KindNeedsUnset, `{"fields":["weeks"]}`, validation.CodeWrongType, "body.fields[0]"},
		{model.KindNeedsUnset, `{"fields":["base","moisture.nose"]}`, validation.CodeWrongType, "body.fields[1]"},
		{model.KindReadingTaken, `{"what":"switch-force","site":"chin","switch":"mode","state":"tired","value":30,"unit":"gf"}`, "", ""},
		{model.KindReadingTaken, `{"what":"switch-force","site":"chin","switch":"horn","state":"tired","value":30,"unit":"gf"}`, validation.CodeWrongType, "body.switch"},
		{model.KindReadingTaken, `{"what":"force","site":"chin","direction":"left","switch":"mode","state":"tired","value":30,"unit":"gf"}`, validation.CodeWrongType, "body.switch"},
		{model.KindSetupChosen, `{"class":"small","site":"chin","needed":["left"],"mode_press_gf":2001}`, validation.CodeOutOfRange, "body.mode_press_gf"},
		{model.KindNeedsNoted, `{"hours_driving":25}`, validation.CodeOutOfRange, "body.hours_driving"},
		{model.KindNeedsNoted, `{"commands_per_min":-1}`, validation.CodeOutOfRange, "body.commands_per_min"},
		{model.KindNeedsNoted, `{"base":"wobbly"}`, validation.CodeWrongType, "body.base"},
		{model.KindNeedsNoted, `{"moisture":{"chin":"soggy"}}`, validation.CodeWrongType, "body.moisture.chin"},
		{model.KindNeedsNoted, `{"moisture":{"nose":"dry"}}`, validation.CodeWrongType, "body.moisture.nose"},
		{model.KindNeedsNoted, `{"wish_control":"class:small"}`, "", ""},
		{model.KindNeedsNoted, `{"wish_control":"class:big"}`, validation.CodeWrongType, "body.wish_control"},
		{model.KindNeedsNoted, `{"rough_ground":1}`, validation.CodeWrongType, "body.rough_ground"},
		{model.KindChairMeasured, `{"length_mm":1100,"width_mm":640,"drive":"mid","ahead_mm":600,"clearance_mm":25}`, "", ""},
		{model.KindChairMeasured, `{"length_mm":1100,"width_mm":64,"drive":"mid","ahead_mm":600}`, validation.CodeOutOfRange, "body.width_mm"},
		{model.KindChairMeasured, `{"length_mm":1100,"width_mm":640,"drive":"six"}`, validation.CodeWrongType, "body.drive"},
		{model.KindChairMeasured, `{"length_mm":1100,"width_mm":640,"drive":"mid","ahead_mm":1200}`, validation.CodeOutOfRange, "body.ahead_mm"},
		{model.KindChairMeasured, `{"length_mm":1100,"width_mm":640,"drive":"mid","slope_deg":1}`, validation.CodeOutOfRange, "body.slope_deg"},
		{model.KindChairMeasured, `{"length_mm":1100,"width_mm":640,"drive":"mid","person_kg":700}`, validation.CodeOutOfRange, "body.person_kg"},
		{model.KindPlaceMeasured, `{` + place + `,"kind":"door","width_mm":815}`, "", ""},
		{model.KindPlaceMeasured, `{"place":"p1","gone":true}`, "", ""},
		{model.KindPlaceMeasured, `{` + place + `,"kind":"gate"}`, validation.CodeWrongType, "body.kind"},
		{model.KindPlaceMeasured, `{"place":"p1","kind":"door"}`, validation.CodeRequired, "body.name"},
		{model.KindPlaceMeasured, `{` + place + `,"kind":"door","width_mm":81.5}`, validation.CodeOutOfRange, "body.width_mm"},
		{model.KindPlaceMeasured, `{` + place + `,"kind":"turn-on-spot","width_mm":4500}`, "", ""},
		{model.KindPlaceMeasured, `{` + place + `,"kind":"corridor","corridor_mm":90}`, validation.CodeOutOfRange, "body.corridor_mm"},
		{model.KindPlaceMeasured, `{` + place + `,"kind":"ramp","rise_mm":100,"run_mm":120}`, validation.CodeOutOfRange, "body.run_mm"},
		{model.KindPlaceMeasured, `{` + place + `,"kind":"threshold","height_mm":400}`, validation.CodeOutOfRange, "body.height_mm"},
		{model.KindSettingChanged, `{"key":"power",` + setting + `}`, "", ""},
		{model.KindSettingChanged, `{"key":"speed",` + setting + `}`, validation.CodeWrongType, "body.key"},
		{model.KindSettingChanged, `{"key":"power","before":"10","after":"20"}`, validation.CodeRequired, "body.why"},
		{model.KindSettingChanged, `{"key":"power",` + setting + `,"problem":"sulks"}`, validation.CodeWrongType, "body.problem"},
		{model.KindSettingChanged, `{"key":"dead_zone","before":"10","after":"60","unit":"%","why":"x"}`, validation.CodeOutOfRange, "body.after"},
		{model.KindSettingChanged, `{"key":"throw_left","before":"10","after":"60","unit":"%","why":"x"}`, validation.CodeOutOfRange, "body.before"},
		{model.KindSettingChanged, `{"key":"axis_rotation","before":"0","after":"400","unit":"deg","why":"x"}`, validation.CodeOutOfRange, "body.after"},
		{model.KindSettingChanged, `{"key":"power","before":"low","after":"step 12","unit":"step","why":"x"}`, "", ""},
		{model.KindSettingTried, `{"setting":"tab-a:4","outcome":"better","note":"stops in a metre"}`, "", ""},
		{model.KindSettingTried, `{"setting":"","outcome":"same"}`, validation.CodeRequired, "body.setting"},
		{model.KindSettingTried, `{"setting":"tab-a:4","outcome":"nice"}`, validation.CodeWrongType, "body.outcome"},
		{model.KindMountNoted, `{"kind":"tray","fixed_to":"tray","side_mm":-40}`, "", ""},
		{model.KindMountNoted, `{"kind":"tray","fixed_to":"wall"}`, validation.CodeWrongType, "body.fixed_to"},
		{model.KindMountNoted, `{"kind":"tray","fixed_to":"tray","up_mm":-1}`, validation.CodeOutOfRange, "body.up_mm"},
		{model.KindMountNoted, `{"kind":"tray","fixed_to":"tray","yaw_deg":200}`, validation.CodeOutOfRange, "body.yaw_deg"},
		{model.KindAmendmentMade, `{"reason":"x","kind":"mount-noted","change":{"kind":"tray","fixed_to":"wall"}}`, validation.CodeWrongType, "body.change.fixed_to"},
		{model.KindAmendmentMade, `{"reason":"x","kind":"control-listed","change":{}}`, validation.CodeWrongType, "body.kind"},
	}
	for _, tt := range tests {
		t.Run(tt.kind+" "+tt.body, func(t *testing.T) {
			_, err := record.ReadBody(&model.Event{Kind: tt.kind, Schema: 1, Body: model.Raw(tt.body)})
			if tt.code == "" {
				if err != nil {
					t.Errorf("got %v, want it read", err)
				}
				return
			}
			var bad *validation.Error
			if !errors.As(err, &bad) || bad.Code != tt.code || bad.Path != tt.field || bad.Want == "" {
				t.Errorf("got %v (%+v), want %s at %q", err, bad, tt.code, tt.field)
			}
		})
	}
}

// Full bodies that concern the kit pass our checks and come back as they were
// written.
func TestKitBodiesComeBack(t *testing.T) {
	yes, no, number, nought := true, false, 2.5, 0.0
	bodies := map[string]any{
		model.KindControlListed: &model.ControlListed{
			Team: "north", Name: "Blue stick", Class: "standard", StartGF: 60, OperateGF: 250, TravelMM: 28, LeverMM: 40,
			Sealing: "IP54", PowerJack: true, ModeJack: true, Connector: "nine-pin", Attendant: true, WeightG: 310,
			Mounts: []string{"fixed", "tray"}, Measured: "2026-02-01", MeasuredBy: "I. Lead", Gone: true},
		model.KindKitPacked: &model.KitPacked{Controls: []model.PackedControl{{
			ID: "k1", Name: "Blue stick", Class: "small", StartGF: 15, OperateGF: 50, TravelMM: 10, LeverMM: 20,
			Sealing: "IPX4", PowerJack: true, ModeJack: true, Attendant: true}}},
		model.KindNeedsNoted: &model.NeedsNoted{
			RoughGround: &yes, HelperDrives: &no, ReverseKey: &yes, Blocked: &no, HoursDriving: &number, CommandsPerMin: &number,
			SecondsPerCommand: &number, WristDeg: &nought, WaitWeeks: &number, Base: "stable", Course: "slow", WishSite: "chin",
			WishControl: "k1", Moisture: map[string]string{"chin": "wet"}, Rejected: map[string]string{"lip": "sore"}},
		model.KindChairMeasured: &model.ChairMeasured{
			LengthMM: 1100, WidthMM: 640, Drive: "rear", AheadMM: 700, ClearanceMM: 25, SlopeDeg: 8, ChairKG: 140, PersonKG: 62},
		model.KindPlaceMeasured: &model.PlaceMeasured{
			Place: "p1", Kind: "ramp", Name: "garden", WidthMM: 900, CorridorMM: 950, Corridor2MM: 1000, RiseMM: 100, RunMM: 1200,
			LandingMM: 1500, HeightMM: 12, LimitKG: 300, Gone: true},
		model.KindSettingChanged: &model.SettingChanged{
			Key: "decel", Profile: "indoor", Before: "40", After: "45", Unit: "%", Problem: "long-stop", Why: "rolled on",
			Result: "stops in a metre", Firmware: "2.1", Word: "braking"},
		model.KindSettingTried: &model.SettingTried{Setting: "tab-a:4", Outcome: "worse", Note: "lurches"},
		model.KindMountNoted: &model.MountNoted{
			Kind: "midline", FixedTo: "back", ForwardMM: 500, UpMM: 560, SideMM: -20, PitchDeg: -15, RollDeg: 1, YawDeg: 2, GapMM: 8,
			ClearS: 2.5, Index: true, Tilt: true, Recline: true, Transfer: true, Collision: true, Note: "cable behind"},
		model.KindVisitStarted: &model.VisitStarted{Client: "c1", Team: "north", Unit: "gf", SecondOf: "v1",
			Checklist: model.ChecklistRef{ID: "standard", Version: "1", Hash: strings.Repeat("0a", 32)}},
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
