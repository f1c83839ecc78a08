package record_test

import (
	"strings"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// TestTextsUpToTheirLength: at most so many characters, however many bytes they
// take. What must not be empty is marked in PROTOCOL.md, section 2.
func TestTextsUpToTheirLength(t *testing.T) {
	for _, c := range []struct {
		kind, field string
		longest     int
		needed      bool
	}{
		{model.KindClientOpened, "ref", 64, false},
		{model.KindClientOpened, "name", 200, true},
		{model.KindClientOpened, "reason", 20_000, false},
		{model.KindClientOpened, "visiting", 20_000, false},
		{model.KindClientChanged, "fields.ref", 64, false},
		{model.KindClientChanged, "fields.name", 200, true},
		{model.KindClientChanged, "fields.reason", 20_000, false},
		{model.KindClientChanged, "fields.visiting", 20_000, false},
		{model.KindVisitStarted, "checklist.id", 64, true},
		{model.KindVisitStarted, "checklist.version", 64, true},
		{model.KindVisitNoted, "fields.goals", 20_000, false},
		{model.KindAnswerGiven, "reason", 20_000, false},
		{model.KindAnswerGiven, "note", 20_000, false},
		{model.KindReadingTaken, "note", 20_000, false},
		{model.KindReadingMarked, "reason", 20_000, true},
		{model.KindReadingMoved, "note", 20_000, false},
		{model.KindRunTimed, "route", 200, false},
		{model.KindRunTimed, "note", 20_000, false},
		{model.KindRunMarked, "reason", 20_000, true},
		{model.KindSetupChosen, "control", 200, false},
		{model.KindSetupChosen, "place", 200, false},
		{model.KindSetupChosen, "window", 200, false},
		{model.KindPlanAgreed, "note", 20_000, false},
		{model.KindOverrideMade, "text", 20_000, true},
		{model.KindOverrideMade, "mitigation", 20_000, false},
		{model.KindOverrideMade, "agreed", 20_000, false},
		{model.KindVisitSigned, "name", 200, true},
		{model.KindVisitSigned, "format", 64, false},
		{model.KindVisitSigned, "engine", 64, false},
		{model.KindVisitSigned, "catalogue", 64, false},
		{model.KindAmendmentMade, "reason", 20_000, true},
		{model.KindControlListed, "name", 200, true},
		{model.KindControlListed, "connector", 200, false},
		{model.KindControlListed, "measured_by", 200, false},
		{model.KindKitPacked, "controls.0.name", 200, true},
		{model.KindNeedsNoted, "rejected.lip", 20_000, false},
		{model.KindPlaceMeasured, "name", 200, true},
		{model.KindSettingChanged, "profile", 200, false},
		{model.KindSettingChanged, "before", 200, true},
		{model.KindSettingChanged, "after", 200, true},
		{model.KindSettingChanged, "unit", 64, false},
		{model.KindSettingChanged, "why", 20_000, true},
		{model.KindSettingChanged, "result", 20_000, false},
		{model.KindSettingChanged, "firmware", 200, false},
		{model.KindSettingChanged, "word", 200, false},
		{model.KindSettingTried, "note", 20_000, false},
		{model.KindMountNoted, "note", 20_000, false},
	} {
		field := strings.Replace(c.field, "controls.0.", "controls[0].", 1)
		for _, letter := range []string{"x", "é"} {
			expect(t, c.kind, map[string]any{c.field: strings.Repeat(letter, c.longest)}, "", "")
			expect(t, c.kind, map[string]any{c.field: strings.Repeat(letter, c.longest+1)}, validation.CodeOutOfRange, field)
		}
		code := ""
		if c.needed {
			code = validation.CodeRequired
		}
		expect(t, c.kind, map[string]any{c.field: ""}, code, field)
		expect(t, c.kind, map[string]any{c.field: 7}, validation.CodeWrongType, field)
	}
	for longest, code := range map[int]string{64: "", 65: validation.CodeOutOfRange} {
		facts := map[string]any{"facts": map[string]bool{strings.Repeat("é", longest): true}}
		expect(t, model.KindAnswerGiven, facts, code, "facts")
	}
}

const (
	sites = "chin lip tongue head-back head-left head-right cheek-left cheek-right hand-left hand-right thumb-left thumb-right " +
		"index-left index-right middle-left middle-right ring-left ring-right little-left little-right forearm-left forearm-right " +
		"elbow-left elbow-right shoulder-left shoulder-right knee-left knee-right foot-left foot-right toe-left toe-right"
	classes = "standard small very-light force-sensing switched breath scanning attendant non-contact"
	levels  = "pause practise accompanied home-ground wider-ground"
	courses = "stable slow fast fluctuating improving"
	mounts  = "fixed swing-away gooseneck tray midline behind-head glove"
)

// TestWordsFromTheirLists reads each word of a list, and refuses one that is
// not in it. A list that may be empty ends in "|".
func TestWordsFromTheirLists(t *testing.T) {
	for _, c := range []struct{ kind, field, words string }{
		{model.KindClientOpened, "priority", "urgent soon routine"},
		{model.KindClientOpened, "course", courses},
		{model.KindClientChanged, "fields.priority", "urgent soon routine"},
		{model.KindClientChanged, "fields.course", courses},
		{model.KindClientAssigned, "status", "waiting active hold closed"},
		{model.KindVisitStarted, "unit", "gf N ozf lbf"},
		{model.KindAnswerGiven, "level", "4 3 2 1 0 yes no"},
		{model.KindReadingTaken, "site", sites},
		{model.KindReadingTaken, "direction", "forward reverse left right press"},
		{model.KindReadingTaken, "state", "rested tired"},
		{model.KindRunTimed, "place", "indoors outdoors rough"},
		{model.KindRunTimed, "state", "rested tired"},
		{model.KindSetupChosen, "class", classes},
		{model.KindSetupChosen, "site", sites},
		{model.KindOverrideMade, "level", levels},
		{model.KindOverrideMade, "reason", "known-driver harder-trial fluctuating accepted-risk waiting-for-part other"},
		{model.KindVisitSigned, "level", "none " + levels},
		{model.KindControlListed, "class", classes},
		{model.KindKitPacked, "controls.0.class", classes},
		{model.KindNeedsNoted, "base", "stable adjustable moves|"},
		{model.KindNeedsNoted, "course", courses + "|"},
		{model.KindNeedsNoted, "wish_site", sites + "|"},
		{model.KindNeedsNoted, "moisture.chin", "dry damp wet"},
		{model.KindChairMeasured, "drive", "front mid rear"},
		{model.KindPlaceMeasured, "kind", "door door-off-corridor corner turn-on-spot half-turn three-point corridor ramp threshold load"},
		{model.KindSettingChanged, "key", "fwd_speed_max rev_speed_max turn_speed accel decel turn_accel turn_decel min_speed power " +
			"tremor_damping dead_zone throw_forward throw_reverse throw_left throw_right axis_rotation active_directions latched_drive " +
			"standby_time sleep_on_tilt attendant_speed tracking"},
		{model.KindSettingChanged, "problem", "overshoots-turns contacts stalls-on-sill head-thrown-back trunk-falls-on-stop long-stop " +
			"jerky-turns wobble-on-straight lurch stuck-on-carpet tremor-path late-stop creeps unintended-starts short-travel weak-direction " +
			"arm-lies-turned weak-reverse drifts-on-camber helper-dragged|"},
		{model.KindSettingTried, "outcome", "better same worse"},
		{model.KindMountNoted, "kind", mounts},
		{model.KindMountNoted, "fixed_to", "seat back armrest tray"},
	} {
		words, mayBeEmpty := strings.CutSuffix(c.words, "|")
		field := strings.Replace(c.field, "controls.0.", "controls[0].", 1)
		for _, word := range strings.Fields(words) {
			expect(t, c.kind, map[string]any{c.field: word}, "", "")
		}
		for _, wrong := range []string{"other-word", "Chin", "chin-left", "hand", "-left", "nose-left", "hand-xxxx", "hand-xxxxx", "hand_right", "5", strings.Fields(words)[0] + " "} {
			if !strings.Contains(" "+words+" ", " "+wrong+" ") {
				expect(t, c.kind, map[string]any{c.field: wrong}, validation.CodeWrongType, field)
			}
		}
		code := validation.CodeRequired
		if mayBeEmpty || c.field == "level" && c.kind == model.KindAnswerGiven {
			continue
		}
		expect(t, c.kind, map[string]any{c.field: ""}, code, field)
	}
}

// TestListsOfWords: each word of a list is checked, and named by its place.
func TestListsOfWords(t *testing.T) {
	for _, word := range strings.Fields(mounts) {
		expect(t, model.KindControlListed, map[string]any{"mounts": []string{"tray", word}}, "", "")
	}
	expect(t, model.KindControlListed, map[string]any{"mounts": []string{"glue"}}, validation.CodeWrongType, "mounts[0]")
	for _, direction := range []string{"forward", "reverse", "left", "right"} {
		expect(t, model.KindSetupChosen, map[string]any{"needed": []string{direction}, "throw": map[string]int{direction: 50}}, "", "")
	}
	expect(t, model.KindSetupChosen, map[string]any{"needed": []string{"left", "press"}}, validation.CodeWrongType, "needed[1]")
	expect(t, model.KindSetupChosen, map[string]any{"throw.press": 50}, validation.CodeWrongType, "throw.press")
	for _, text := range []string{"present", "story", "goals", "consent", "stop-holder", "risks", "note"} {
		expect(t, model.KindVisitNoted, map[string]any{"fields": map[string]string{text: "said"}}, "", "")
	}
	expect(t, model.KindVisitNoted, map[string]any{"fields.weather": "wet"}, validation.CodeWrongType, "fields.weather")
	expect(t, model.KindVisitNoted, map[string]any{"fields": map[string]string{}}, validation.CodeRequired, "fields")
	for _, site := range strings.Fields(sites) {
		expect(t, model.KindNeedsNoted, map[string]any{"moisture": map[string]string{site: "wet"}, "rejected": map[string]string{site: "sore"}}, "", "")
		expect(t, model.KindNeedsUnset, map[string]any{"fields": []string{"moisture." + site}}, "", "")
	}
	expect(t, model.KindNeedsNoted, map[string]any{"rejected.nose": "sore"}, validation.CodeWrongType, "rejected.nose")
	for _, need := range strings.Fields("rough_ground helper_drives reverse_key blocked hours_driving commands_per_min seconds_per_command wrist_deg " +
		"task_share task_per_min task_seconds task_wrist_deg task_hours wait_weeks base course wish_site wish_control") {
		expect(t, model.KindNeedsUnset, map[string]any{"fields": []string{need}}, "", "")
	}
	expect(t, model.KindNeedsUnset, map[string]any{"fields": []string{}}, validation.CodeRequired, "fields")
	expect(t, model.KindNeedsUnset, map[string]any{"fields": []string{"base", "moisture"}}, validation.CodeWrongType, "fields[1]")
}

// TestOneNeedIsEnough: each by itself, also no and nought.
func TestOneNeedIsEnough(t *testing.T) {
	for need, value := range map[string]any{
		"rough_ground": false, "helper_drives": false, "reverse_key": false, "blocked": false, "hours_driving": 0, "commands_per_min": 0,
		"seconds_per_command": 0, "wrist_deg": 0, "task_share": 1, "task_per_min": 0, "task_seconds": 0, "task_wrist_deg": 0, "task_hours": 0,
		"wait_weeks": 0, "base": "moves", "course": "slow", "wish_site": "chin", "wish_control": "k1",
		"moisture": map[string]string{"chin": "dry"}, "rejected": map[string]string{"chin": ""},
	} {
		only := map[string]any{"base": "", "moisture": nil, "rejected": nil}
		only[need] = value
		expect(t, model.KindNeedsNoted, only, "", "")
	}
	expect(t, model.KindNeedsNoted, map[string]any{"base": "", "moisture": nil, "rejected": nil}, validation.CodeRequired, "body")
	for _, class := range strings.Fields(classes) {
		expect(t, model.KindNeedsNoted, map[string]any{"wish_control": "class:" + class}, "", "")
	}
	expect(t, model.KindNeedsNoted, map[string]any{"wish_control": "class:"}, validation.CodeRequired, "wish_control")
	expect(t, model.KindNeedsNoted, map[string]any{"wish_control": "a b"}, validation.CodeWrongType, "wish_control")
}

// TestSettingsInTheirUnits: numbers in "%", "deg" and "s" have limits, makers'
// steps and words have none.
func TestSettingsInTheirUnits(t *testing.T) {
	for _, c := range []struct{ key, unit, low, high, below, above string }{
		{"power", "%", "0", "100", "-1", "101"},
		{"dead_zone", "%", "0", "50", "-1", "51"},
		{"throw_left", "%", "20", "100", "19", "101"},
		{"throw_forward", "%", "20", "100", "19", "101"},
		{"axis_rotation", "deg", "0", "359", "-1", "360"},
		{"standby_time", "s", "0", "3600", "-1", "3601"},
	} {
		for _, field := range []string{"before", "after"} {
			setting := map[string]any{"key": c.key, "unit": c.unit, "before": c.low, "after": c.low}
			for _, inside := range []string{c.low, c.high, "fast"} {
				setting[field] = inside
				expect(t, model.KindSettingChanged, setting, "", "")
			}
			for _, outside := range []string{c.below, c.above} {
				setting[field] = outside
				expect(t, model.KindSettingChanged, setting, validation.CodeOutOfRange, field)
				expect(t, model.KindSettingChanged, map[string]any{"key": c.key, "unit": "step", field: outside}, "", "")
			}
		}
	}
}
