package record_test

import (
	"strings"
	"testing"

	"doorsill/internal/record"
)

// TestTextsUpToTheirLength: at most so many characters, however many bytes they
// take. What must not be empty is marked in PROTOCOL.md, section 2.
func TestTextsUpToTheirLength(t *testing.T) {
	for _, c := range []struct {
		kind, field string
		longest     int
		needed      bool
	}{
		{record.KindClientOpened, "ref", 64, false},
		{record.KindClientOpened, "name", 200, true},
		{record.KindClientOpened, "reason", 20_000, false},
		{record.KindClientOpened, "visiting", 20_000, false},
		{record.KindClientChanged, "fields.ref", 64, false},
		{record.KindClientChanged, "fields.name", 200, true},
		{record.KindClientChanged, "fields.reason", 20_000, false},
		{record.KindClientChanged, "fields.visiting", 20_000, false},
		{record.KindVisitStarted, "checklist.id", 64, true},
		{record.KindVisitStarted, "checklist.version", 64, true},
		{record.KindVisitNoted, "fields.goals", 20_000, false},
		{record.KindAnswerGiven, "reason", 20_000, false},
		{record.KindAnswerGiven, "note", 20_000, false},
		{record.KindReadingTaken, "note", 20_000, false},
		{record.KindReadingMarked, "reason", 20_000, true},
		{record.KindRunTimed, "route", 200, false},
		{record.KindRunTimed, "note", 20_000, false},
		{record.KindRunMarked, "reason", 20_000, true},
		{record.KindSetupChosen, "control", 200, false},
		{record.KindSetupChosen, "place", 200, false},
		{record.KindSetupChosen, "window", 200, false},
		{record.KindPlanAgreed, "note", 20_000, false},
		{record.KindOverrideMade, "text", 20_000, true},
		{record.KindOverrideMade, "mitigation", 20_000, false},
		{record.KindOverrideMade, "agreed", 20_000, false},
		{record.KindVisitSigned, "name", 200, true},
		{record.KindAmendmentMade, "reason", 20_000, true},
		{record.KindControlListed, "name", 200, true},
		{record.KindControlListed, "connector", 200, false},
		{record.KindControlListed, "measured_by", 200, false},
		{record.KindKitPacked, "controls.0.name", 200, true},
		{record.KindNeedsNoted, "rejected.lip", 20_000, false},
		{record.KindPlaceMeasured, "name", 200, true},
		{record.KindSettingChanged, "profile", 200, false},
		{record.KindSettingChanged, "before", 200, true},
		{record.KindSettingChanged, "after", 200, true},
		{record.KindSettingChanged, "unit", 64, false},
		{record.KindSettingChanged, "why", 20_000, true},
		{record.KindSettingChanged, "result", 20_000, false},
		{record.KindSettingChanged, "firmware", 200, false},
		{record.KindSettingChanged, "word", 200, false},
		{record.KindSettingTried, "note", 20_000, false},
		{record.KindMountNoted, "note", 20_000, false},
	} {
		field := strings.Replace(c.field, "controls.0.", "controls[0].", 1)
		for _, letter := range []string{"x", "é"} {
			expect(t, c.kind, map[string]any{c.field: strings.Repeat(letter, c.longest)}, "", "")
			expect(t, c.kind, map[string]any{c.field: strings.Repeat(letter, c.longest+1)}, record.CodeOutOfRange, field)
		}
		code := ""
		if c.needed {
			code = record.CodeRequired
		}
		expect(t, c.kind, map[string]any{c.field: ""}, code, field)
		expect(t, c.kind, map[string]any{c.field: 7}, record.CodeWrongType, field)
	}
	for longest, code := range map[int]string{64: "", 65: record.CodeOutOfRange} {
		facts := map[string]any{"facts": map[string]bool{strings.Repeat("é", longest): true}}
		expect(t, record.KindAnswerGiven, facts, code, "facts")
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
		{record.KindClientOpened, "priority", "urgent soon routine"},
		{record.KindClientOpened, "course", courses},
		{record.KindClientChanged, "fields.priority", "urgent soon routine"},
		{record.KindClientChanged, "fields.course", courses},
		{record.KindClientAssigned, "status", "waiting active hold closed"},
		{record.KindVisitStarted, "unit", "gf N ozf lbf"},
		{record.KindAnswerGiven, "level", "4 3 2 1 0 yes no"},
		{record.KindReadingTaken, "site", sites},
		{record.KindReadingTaken, "direction", "forward reverse left right press"},
		{record.KindReadingTaken, "state", "rested tired"},
		{record.KindRunTimed, "place", "indoors outdoors rough"},
		{record.KindRunTimed, "state", "rested tired"},
		{record.KindSetupChosen, "class", classes},
		{record.KindSetupChosen, "site", sites},
		{record.KindOverrideMade, "level", levels},
		{record.KindOverrideMade, "reason", "known-driver harder-trial fluctuating accepted-risk waiting-for-part other"},
		{record.KindVisitSigned, "level", levels},
		{record.KindControlListed, "class", classes},
		{record.KindKitPacked, "controls.0.class", classes},
		{record.KindNeedsNoted, "base", "stable adjustable moves|"},
		{record.KindNeedsNoted, "course", courses + "|"},
		{record.KindNeedsNoted, "wish_site", sites + "|"},
		{record.KindNeedsNoted, "moisture.chin", "dry damp wet"},
		{record.KindChairMeasured, "drive", "front mid rear"},
		{record.KindPlaceMeasured, "kind", "door door-off-corridor corner turn-on-spot half-turn three-point corridor ramp threshold load"},
		{record.KindSettingChanged, "key", "fwd_speed_max rev_speed_max turn_speed accel decel turn_accel turn_decel min_speed power " +
			"tremor_damping dead_zone throw_forward throw_reverse throw_left throw_right axis_rotation active_directions latched_drive " +
			"standby_time sleep_on_tilt attendant_speed tracking"},
		{record.KindSettingChanged, "problem", "overshoots-turns contacts stalls-on-sill head-thrown-back trunk-falls-on-stop long-stop " +
			"jerky-turns wobble-on-straight lurch stuck-on-carpet tremor-path late-stop creeps unintended-starts short-travel weak-direction " +
			"arm-lies-turned weak-reverse drifts-on-camber helper-dragged|"},
		{record.KindSettingTried, "outcome", "better same worse"},
		{record.KindMountNoted, "kind", mounts},
		{record.KindMountNoted, "fixed_to", "seat back armrest tray"},
	} {
		words, mayBeEmpty := strings.CutSuffix(c.words, "|")
		field := strings.Replace(c.field, "controls.0.", "controls[0].", 1)
		for _, word := range strings.Fields(words) {
			expect(t, c.kind, map[string]any{c.field: word}, "", "")
		}
		for _, wrong := range []string{"other-word", "Chin", "chin-left", "hand", "-left", "nose-left", "hand-xxxx", "hand-xxxxx", "hand_right", "5", strings.Fields(words)[0] + " "} {
			if !strings.Contains(" "+words+" ", " "+wrong+" ") {
				expect(t, c.kind, map[string]any{c.field: wrong}, record.CodeWrongType, field)
			}
		}
		code := record.CodeRequired
		if mayBeEmpty || c.field == "level" && c.kind == record.KindAnswerGiven {
			continue
		}
		expect(t, c.kind, map[string]any{c.field: ""}, code, field)
	}
}

// TestListsOfWords: each word of a list is checked, and named by its place.
func TestListsOfWords(t *testing.T) {
	for _, word := range strings.Fields(mounts) {
		expect(t, record.KindControlListed, map[string]any{"mounts": []string{"tray", word}}, "", "")
	}
	expect(t, record.KindControlListed, map[string]any{"mounts": []string{"glue"}}, record.CodeWrongType, "mounts[0]")
	for _, direction := range []string{"forward", "reverse", "left", "right"} {
		expect(t, record.KindSetupChosen, map[string]any{"needed": []string{direction}, "throw": map[string]int{direction: 50}}, "", "")
	}
	expect(t, record.KindSetupChosen, map[string]any{"needed": []string{"left", "press"}}, record.CodeWrongType, "needed[1]")
	expect(t, record.KindSetupChosen, map[string]any{"throw.press": 50}, record.CodeWrongType, "throw.press")
	for _, text := range []string{"present", "story", "goals", "consent", "stop-holder", "risks", "note"} {
		expect(t, record.KindVisitNoted, map[string]any{"fields": map[string]string{text: "said"}}, "", "")
	}
	expect(t, record.KindVisitNoted, map[string]any{"fields.weather": "wet"}, record.CodeWrongType, "fields.weather")
	expect(t, record.KindVisitNoted, map[string]any{"fields": map[string]string{}}, record.CodeRequired, "fields")
	for _, site := range strings.Fields(sites) {
		expect(t, record.KindNeedsNoted, map[string]any{"moisture": map[string]string{site: "wet"}, "rejected": map[string]string{site: "sore"}}, "", "")
		expect(t, record.KindNeedsUnset, map[string]any{"fields": []string{"moisture." + site}}, "", "")
	}
	expect(t, record.KindNeedsNoted, map[string]any{"rejected.nose": "sore"}, record.CodeWrongType, "rejected.nose")
	for _, need := range strings.Fields("rough_ground helper_drives reverse_key blocked hours_driving commands_per_min seconds_per_command wrist_deg " +
		"task_share task_per_min task_seconds task_wrist_deg task_hours wait_weeks base course wish_site wish_control") {
		expect(t, record.KindNeedsUnset, map[string]any{"fields": []string{need}}, "", "")
	}
	expect(t, record.KindNeedsUnset, map[string]any{"fields": []string{}}, record.CodeRequired, "fields")
	expect(t, record.KindNeedsUnset, map[string]any{"fields": []string{"base", "moisture"}}, record.CodeWrongType, "fields[1]")
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
		expect(t, record.KindNeedsNoted, only, "", "")
	}
	expect(t, record.KindNeedsNoted, map[string]any{"base": "", "moisture": nil, "rejected": nil}, record.CodeRequired, "body")
	for _, class := range strings.Fields(classes) {
		expect(t, record.KindNeedsNoted, map[string]any{"wish_control": "class:" + class}, "", "")
	}
	expect(t, record.KindNeedsNoted, map[string]any{"wish_control": "class:"}, record.CodeRequired, "wish_control")
	expect(t, record.KindNeedsNoted, map[string]any{"wish_control": "a b"}, record.CodeWrongType, "wish_control")
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
				expect(t, record.KindSettingChanged, setting, "", "")
			}
			for _, outside := range []string{c.below, c.above} {
				setting[field] = outside
				expect(t, record.KindSettingChanged, setting, record.CodeOutOfRange, field)
				expect(t, record.KindSettingChanged, map[string]any{"key": c.key, "unit": "step", field: outside}, "", "")
			}
		}
	}
}
