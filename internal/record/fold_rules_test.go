package record_test

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/record"
)

// line is an event of a story; zeros stand for the next number of tablet a at
// the next position.
type line struct {
	kind, body string
	tablet     string
	seen       int64
	waits      bool // it has no position yet
}

// entries puts a story into order: each tablet counts by itself, positions
// count through all that do not wait.
func entries(t *testing.T, story []line) []model.Entry {
	t.Helper()
	var list []model.Entry
	numbers, pos := map[string]int64{}, int64(0)
	for _, l := range story {
		if l.tablet == "" {
			l.tablet = "a"
		}
		numbers[l.tablet]++
		entry := model.Entry{Raw: sample(func(e map[string]any) {
			e["tablet"], e["n"], e["kind"], e["seen"], e["body"] = l.tablet, numbers[l.tablet], l.kind, l.seen, json.RawMessage(l.body)
		})}
		if !l.waits {
			pos++
			entry.Pos = pos
		}
		list = append(list, entry)
	}
	return list
}

// plain is what a fold gave, as JSON without types.
func plain(t *testing.T, folded any) map[string]any {
	t.Helper()
	var all map[string]any
	if err := json.Unmarshal(encode(t, folded), &all); err != nil {
		t.Fatal(err)
	}
	return all
}

func visitOf(t *testing.T, story ...line) map[string]any {
	t.Helper()
	visit, err := record.FoldVisit(entries(t, story), model.Logs{})
	if err != nil {
		t.Fatal(err)
	}
	return plain(t, visit)
}

// heads are the levels that stand for an item, "!" after one that is due again.
func heads(visit map[string]any, item string) string {
	var list []string
	for _, answer := range visit["answers"].([]any) {
		if answer.(map[string]any)["item"] != item {
			continue
		}
		for _, head := range answer.(map[string]any)["heads"].([]any) {
			level := head.(map[string]any)["level"].(string)
			if head.(map[string]any)["due"] == true {
				level += "!"
			}
			list = append(list, level)
		}
	}
	return strings.Join(list, " ")
}

func answered(item, level string) string {
	return `{"item":"` + item + `","state":"answered","level":"` + level + `"}`
}

var (
	opened  = line{kind: model.KindClientOpened, body: `{"team":"north","ref":"N-1","name":"Robin","born":"1961-05-04","referred":"2026-02-20","priority":"soon","course":"slow","reason":"stroke","visiting":"dog"}`}
	started = line{kind: model.KindVisitStarted, body: bases[model.KindVisitStarted]}
)

// TestAClientsFieldsAreReplacedByName: section 3, rule 2.
func TestAClientsFieldsAreReplacedByName(t *testing.T) {
	for field, value := range map[string]string{"ref": "N-2", "name": "Ash", "born": "1962-06-05", "referred": "2026-03-01", "priority": "urgent",
		"course": "fast", "reason": "fall", "visiting": "cat"} {
		before, err := record.FoldClient(entries(t, []line{opened}))
		if err != nil {
			t.Fatal(err)
		}
		after, err := record.FoldClient(entries(t, []line{opened, {kind: model.KindClientChanged, body: `{"fields":{"` + field + `":"` + value + `"}}`}}))
		if err != nil {
			t.Fatal(err)
		}
		want := plain(t, before)
		want[field] = value
		want["changed"].(map[string]any)["ref"], want["changed"].(map[string]any)["pos"] = "a:2", 2.0
		if got := plain(t, after); string(encode(t, got)) != string(encode(t, want)) {
			t.Errorf("%s: got %v\nwant %v", field, got, want)
		}
	}
}

func TestTheFirstOpeningAndStartCount(t *testing.T) {
	again := opened
	again.body, again.tablet = strings.Replace(opened.body, "Robin", "Ash", 1), "b"
	client, err := record.FoldClient(entries(t, []line{opened, again}))
	if got := plain(t, client); err != nil || got["name"] != "Robin" || got["changed"].(map[string]any)["ref"] != "a:1" {
		t.Errorf("%v, %v", got, err)
	}
	other := started
	other.body, other.tablet = strings.Replace(started.body, "c1", "c2", 1), "b"
	if got := visitOf(t, started, other); got["client"] != "c1" || got["started"].(map[string]any)["ref"] != "a:1" {
		t.Errorf("%v", got)
	}
}

func TestFoldsNameABrokenEntry(t *testing.T) {
	broken := []model.Entry{{Pos: 7, Raw: model.Raw(`{"tablet":`)}}
	_, client := record.FoldClient(broken)
	_, control := record.FoldControl(broken)
	for _, err := range []error{client, control} {
		if err == nil || !strings.Contains(err.Error(), "position 7") {
			t.Errorf("got %v, want an error that names position 7", err)
		}
	}
}

// TestWhatStandsForAnItem: section 3, rules 4 and 5.
func TestWhatStandsForAnItem(t *testing.T) {
	given := func(tablet, level string, seen int64, waits bool) line {
		return line{kind: model.KindAnswerGiven, body: answered("pos-head", level), tablet: tablet, seen: seen, waits: waits}
	}
	choice := func(keep, drop string) line {
		return line{kind: model.KindAnswerChosen, body: `{"item":"pos-head","keep":"` + keep + `","drop":["` + drop + `"]}`}
	}
	for _, c := range []struct {
		name  string
		story []line
		want  string
	}{
		{"the first position was seen", []line{given("b", "3", 0, false), given("a", "1", 1, false)}, "1"},
		{"it was not", []line{given("b", "3", 0, false), given("a", "1", 0, false)}, "3 1"},
		{"what waits has no position to be seen", []line{given("b", "3", 9, true), given("c", "1", 9, true)}, "3 1"},
		{"a choice", []line{given("b", "3", 0, false), given("c", "1", 0, false), choice("b:1", "c:1")}, "3"},
		{"a choice that comes before any answer", []line{choice("b:1", "c:1"), given("b", "3", 0, false)}, "3"},
		{"a choice about another item", []line{
			{kind: model.KindAnswerGiven, body: answered("pos-feet", "2"), tablet: "c"}, choice("b:1", "c:1"), given("b", "3", 0, false)}, "3"},
		{"a choice that drops all", []line{given("b", "3", 0, false), choice("c:1", "b:1")}, "3"},
	} {
		if got := heads(visitOf(t, append([]line{}, c.story...)...), "pos-head"); got != c.want {
			t.Errorf("%s: %q stands, want %q", c.name, got, c.want)
		}
	}
	feet := visitOf(t, line{kind: model.KindAnswerGiven, body: answered("pos-feet", "2"), tablet: "c"}, choice("b:1", "c:1"))
	if got := heads(feet, "pos-feet"); got != "2" {
		t.Errorf("a choice took %q from another item", got)
	}
}

// TestMarksOfRuns: section 3, rule 6. A mark that says no slip takes the reason
// away, whatever else it says.
func TestMarksOfRuns(t *testing.T) {
	run := line{kind: model.KindRunTimed, body: bases[model.KindRunTimed]}
	mark := func(ref string, slip bool) line {
		body, _ := json.Marshal(map[string]any{"run": ref, "slip": slip, "reason": "bumped"})
		return line{kind: model.KindRunMarked, body: string(body), tablet: "m"}
	}
	reading := line{kind: model.KindReadingTaken, body: bases[model.KindReadingTaken]}
	for _, c := range []struct {
		name  string
		story []line
		want  []any
	}{
		{"one of two", []line{run, run, mark("a:2", true)}, []any{nil, "bumped"}},
		{"one that there is not", []line{run, run, mark("z:9", true)}, []any{nil, nil}},
		{"before it comes", []line{mark("a:2", true), run, run}, []any{nil, "bumped"}},
		{"taken back", []line{run, run, mark("a:1", true), mark("a:1", false)}, []any{nil, nil}},
		{"a reading of that name", []line{reading, run, mark("a:1", true)}, []any{nil}},
	} {
		var got []any
		for _, r := range visitOf(t, c.story...)["runs"].([]any) {
			got = append(got, r.(map[string]any)["slip"])
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: slips %v, want %v", c.name, got, c.want)
		}
	}
}

// needs are two values for each need, and what they are in the visit.
var needs = map[string][2]any{
	"rough_ground": {true, false}, "helper_drives": {true, false}, "reverse_key": {true, false}, "blocked": {true, false},
	"hours_driving": {1.5, 2.0}, "commands_per_min": {3.0, 4.0}, "seconds_per_command": {5.0, 6.0}, "wrist_deg": {0.0, -7.0},
	"task_share": {8.0, 9.0}, "task_per_min": {10.0, 11.0}, "task_seconds": {12.0, 13.0}, "task_wrist_deg": {14.0, 15.0}, "task_hours": {16.0, 17.0},
	"wait_weeks": {18.0, 19.0}, "base": {"moves", "stable"}, "course": {"fast", "slow"}, "wish_site": {"chin", "lip"}, "wish_control": {"k1", "k2"},
}

// TestNeedsReplaceWhatTheyName: section 3, rule 10.
func TestNeedsReplaceWhatTheyName(t *testing.T) {
	all := map[string]any{"moisture": map[string]string{"chin": "wet", "lip": "dry"}, "rejected": map[string]string{"toe-left": "sore"}}
	for need, values := range needs {
		all[need] = values[0]
	}
	noted := func(what map[string]any) line {
		return line{kind: model.KindNeedsNoted, body: string(encode(t, what))}
	}
	unset := func(field string) line {
		return line{kind: model.KindNeedsUnset, body: `{"fields":["` + field + `"]}`, tablet: "b"}
	}
	want := plain(t, all)
	compare := func(name string, visit map[string]any, ref string) {
		t.Helper()
		got := maps.Clone(visit["needs"].(map[string]any))
		if got["ref"] != ref {
			t.Errorf("%s: said by %v, want %s", name, got["ref"], ref)
		}
		for _, stamp := range []string{"ref", "by", "at", "pos"} {
			delete(got, stamp)
		}
		if string(encode(t, got)) != string(encode(t, want)) {
			t.Errorf("%s: got %v\nwant %v", name, got, want)
		}
	}
	compare("all", visitOf(t, noted(all)), "a:1")
	for need, values := range needs {
		want[need] = values[1]
		compare(need, visitOf(t, noted(all), noted(map[string]any{need: values[1]})), "a:2")
		delete(want, need)
		compare("no "+need, visitOf(t, noted(all), unset(need)), "b:1")
		want[need] = values[0]
	}
	delete(want["moisture"].(map[string]any), "chin")
	compare("no moisture at the chin", visitOf(t, noted(all), unset("moisture.chin")), "b:1")
	want["moisture"].(map[string]any)["chin"] = "damp"
	compare("another moisture", visitOf(t, noted(all), noted(map[string]any{"moisture": map[string]string{"chin": "damp"}})), "a:2")
	want["moisture"].(map[string]any)["chin"] = "wet"
	delete(want, "rejected")
	compare("taken back in", visitOf(t, noted(all), noted(map[string]any{"rejected": map[string]string{"toe-left": ""}})), "a:2")
}

// TestDueAgain: section 3, rule 11. All keys make stopping due but those that do
// not change how the chair answers to its driver, and only releases, stop
// commands and the stop call.
func TestDueAgain(t *testing.T) {
	changed := func(key string) line {
		return line{kind: model.KindSettingChanged, body: strings.Replace(bases[model.KindSettingChanged], "power", key, 1)}
	}
	call := line{kind: model.KindAnswerGiven, body: answered("saf-stopcall", "4"), tablet: "b", seen: 1}
	other := line{kind: model.KindAnswerGiven, body: answered("pos-head", "4"), tablet: "b", seen: 0}
	never := map[string]bool{"standby_time": true, "sleep_on_tilt": true, "attendant_speed": true}
	for _, key := range model.SettingKeys() {
		want := map[bool]string{false: "4!", true: "4"}[never[key]]
		if got := heads(visitOf(t, call, changed(key)), "saf-stopcall"); got != want {
			t.Errorf("after a change of %s: %s, want %s", key, got, want)
		}
	}
	unseen := call
	unseen.seen = 0
	waiting := changed("decel")
	waiting.waits = true
	late := call
	late.waits, late.seen = true, 99
	for _, c := range []struct {
		name  string
		story []line
		item  string
		want  string
	}{
		{"the change was seen", []line{changed("decel"), call}, "saf-stopcall", "4"},
		{"it was not seen", []line{changed("decel"), unseen}, "saf-stopcall", "4!"},
		{"it waits on another tablet", []line{waiting, late}, "saf-stopcall", "4!"},
		{"another item", []line{changed("decel"), other}, "pos-head", "4"},
		{"another item before", []line{other, changed("decel")}, "pos-head", "4"},
	} {
		if got := heads(visitOf(t, c.story...), c.item); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestReleasesDueAgain: a release that was timed after the change at the same
// site is enough, and no other reading is.
func TestReleasesDueAgain(t *testing.T) {
	reading := func(what, site, tablet string, seen int64) line {
		unit := map[string]string{"release": "s", "hold": "s"}[what]
		return line{kind: model.KindReadingTaken, tablet: tablet, seen: seen,
			body: `{"what":"` + what + `","site":"` + site + `","state":"rested","value":1,"unit":"` + unit + `"}`}
	}
	changed := line{kind: model.KindSettingChanged, body: strings.Replace(bases[model.KindSettingChanged], "power", "decel", 1)}
	for _, c := range []struct {
		name  string
		story []line
		due   bool
	}{
		{"before", []line{reading("release", "chin", "b", 0), changed}, true},
		{"nothing timed", []line{changed}, false},
		{"before, and a hold after", []line{reading("release", "chin", "b", 0), changed, reading("hold", "chin", "b", 2)}, true},
		{"a hold from another tablet", []line{changed, reading("hold", "chin", "b", 0)}, false},
		{"before and after", []line{reading("release", "chin", "b", 0), changed, reading("release", "chin", "b", 2)}, false},
		{"after, and one from before that comes late", []line{changed, reading("release", "chin", "a", 9), reading("release", "chin", "b", 0)}, false},
		{"after, at another site", []line{reading("release", "chin", "b", 0), changed, reading("release", "lip", "b", 2)}, true},
		{"before, and taken out as a slip", []line{reading("release", "chin", "b", 0), changed,
			{kind: model.KindReadingMarked, body: `{"reading":"b:1","slip":true,"reason":"leaned"}`}}, false},
		{"before, at the chosen site", []line{
			{kind: model.KindSetupChosen, body: bases[model.KindSetupChosen]}, reading("release", "chin", "b", 0), changed}, true},
		{"after, at another site than the chosen one", []line{
			{kind: model.KindSetupChosen, body: bases[model.KindSetupChosen]}, reading("release", "lip", "b", 0), changed}, false},
	} {
		visit, err := record.FoldVisit(entries(t, c.story), model.Logs{})
		if err != nil {
			t.Fatal(err)
		}
		if got := slices.Contains(record.DueAgain(&visit), "ctl-release"); got != c.due {
			t.Errorf("%s: due %v, want %v", c.name, got, c.due)
		}
		for _, r := range plain(t, visit)["readings"].([]any) {
			if one := r.(map[string]any); one["what"] == "hold" && one["due"] != nil {
				t.Errorf("%s: a hold is due again", c.name)
			}
		}
	}
}

// TestTheStopCallIsDueUntilOneStands: an answer that has seen the change is
// enough, beside one that has not; that it was not tested is no such answer.
func TestTheStopCallIsDueUntilOneStands(t *testing.T) {
	changed := line{kind: model.KindSettingChanged, body: strings.Replace(bases[model.KindSettingChanged], "power", "decel", 1)}
	call := func(tablet, body string, seen int64) line {
		return line{kind: model.KindAnswerGiven, body: body, tablet: tablet, seen: seen}
	}
	shown, untested := answered("saf-stopcall", "4"), `{"item":"saf-stopcall","state":"not-tested"}`
	for _, c := range []struct {
		name  string
		story []line
		due   bool
	}{
		{"no change", []line{call("b", shown, 0)}, false},
		{"no change, and another item that was not tested", []line{call("b", strings.Replace(untested, "saf-stopcall", "pos-head", 1), 0)}, false},
		{"before the change", []line{call("b", shown, 0), changed}, true},
		{"one that had not seen it, and one that had", []line{changed, call("b", shown, 0), call("a", shown, 1)}, false},
		{"one that had not seen it, and not tested since", []line{changed, call("b", shown, 0), call("a", untested, 1)}, true},
	} {
		visit, err := record.FoldVisit(entries(t, c.story), model.Logs{})
		if err != nil {
			t.Fatal(err)
		}
		if got := slices.Contains(record.DueAgain(&visit), "saf-stopcall"); got != c.due {
			t.Errorf("%s: due %v, want %v", c.name, got, c.due)
		}
	}
}

// TestAmendmentsNameTheirItem: section 3, rule 8.
func TestAmendmentsNameTheirItem(t *testing.T) {
	amended := func(kind, change string) line {
		return line{kind: model.KindAmendmentMade, body: `{"reason":"late","kind":"` + kind + `","change":` + change + `}`}
	}
	visit := visitOf(t, line{kind: model.KindVisitSigned, body: bases[model.KindVisitSigned]},
		amended(model.KindAnswerGiven, answered("pos-head", "3")),
		amended(model.KindAnswerChosen, `{"item":"pos-feet","keep":"a:1","drop":["b:1"]}`),
		amended(model.KindPlanAgreed, `{"note":"soon"}`))
	var items []any
	for _, a := range visit["amendments"].([]any) {
		items = append(items, a.(map[string]any)["item"])
	}
	if want := []any{"pos-head", "pos-feet", nil}; !slices.Equal(items, want) {
		t.Errorf("items %v, want %v", items, want)
	}
}

// TestAVisitGivenOutStays: the fold goes on, and what it gave out does not
// change with it.
func TestAVisitGivenOutStays(t *testing.T) {
	first := []line{
		{kind: model.KindVisitNoted, body: `{"fields":{"goals":"shop alone"}}`},
		{kind: model.KindAnswerGiven, body: answered("saf-stopcall", "4")},
		{kind: model.KindReadingTaken, body: bases[model.KindReadingTaken]},
		{kind: model.KindRunTimed, body: bases[model.KindRunTimed]},
		{kind: model.KindSettingChanged, body: bases[model.KindSettingChanged]},
		{kind: model.KindNeedsNoted, body: bases[model.KindNeedsNoted]},
	}
	then := []line{
		{kind: model.KindVisitNoted, body: `{"fields":{"goals":"the park"}}`},
		{kind: model.KindAnswerGiven, body: answered("saf-stopcall", "1")},
		{kind: model.KindAnswerGiven, body: answered("pos-head", "1")},
		{kind: model.KindReadingMarked, body: `{"reading":"a:3","slip":true,"reason":"leaned"}`},
		{kind: model.KindRunMarked, body: `{"run":"a:4","slip":true,"reason":"bumped"}`},
		{kind: model.KindSettingTried, body: `{"setting":"a:5","outcome":"worse"}`},
		{kind: model.KindNeedsNoted, body: `{"moisture":{"chin":"wet"},"rejected":{"lip":"healed","chin":"sore"}}`},
	}
	fold := record.NewVisitFold(model.Logs{})
	add := func(list []model.Entry) {
		for _, entry := range list {
			event, err := record.Decode(entry.Raw)
			if err != nil {
				t.Fatal(err)
			}
			body, err := record.ReadBody(&event)
			if err != nil {
				t.Fatal(err)
			}
			fold.Add(entry.Pos, &event, body)
		}
	}
	all := entries(t, append(slices.Clone(first), then...))
	add(all[:len(first)])
	given := fold.Visit()
	before := string(encode(t, given))
	add(all[len(first):])
	if after := string(encode(t, given)); after != before {
		t.Errorf("before %s\nafter  %s", before, after)
	}
	if now := string(encode(t, fold.Visit())); now == before {
		t.Error("the fold did not go on")
	}
}

// TestWhatAFoldKnows: readings, runs and settings by their refs, and whether it
// was signed and amended.
func TestWhatAFoldKnows(t *testing.T) {
	fold := record.NewVisitFold(model.Logs{})
	story := []line{
		{kind: model.KindReadingTaken, body: bases[model.KindReadingTaken]},
		{kind: model.KindRunTimed, body: bases[model.KindRunTimed]},
		{kind: model.KindSettingChanged, body: bases[model.KindSettingChanged]},
		{kind: model.KindVisitSigned, body: bases[model.KindVisitSigned]},
		{kind: model.KindAmendmentMade, body: bases[model.KindAmendmentMade]},
	}
	for i, entry := range entries(t, story) {
		if signed, amended := fold.Signed(), fold.Amended(); signed != (i > 3) || amended {
			t.Errorf("before event %d: signed %v, amended %v", i+1, signed, amended)
		}
		event, _ := record.Decode(entry.Raw)
		body, err := record.ReadBody(&event)
		if err != nil {
			t.Fatal(err)
		}
		fold.Add(entry.Pos, &event, body)
	}
	for ref, want := range map[model.Ref][3]bool{"a:1": {true, false, false}, "a:2": {false, true, false}, "a:3": {false, false, true}, "a:9": {}} {
		reading, isReading := fold.Reading(ref)
		run, isRun := fold.Run(ref)
		setting, isSetting := fold.Setting(ref)
		if got := [3]bool{isReading, isRun, isSetting}; got != want {
			t.Errorf("%s: %v, want %v", ref, got, want)
		}
		if isReading && reading.Ref != ref || isRun && run.Ref != ref || isSetting && setting.Ref != ref {
			t.Errorf("%s: another one was found", ref)
		}
	}
	if !fold.Amended() {
		t.Error("not amended")
	}
}

func TestSitesAreThoseOfTheProtocol(t *testing.T) {
	if got := model.Sites(); strings.Join(got, " ") != sites {
		t.Errorf("got %v\nwant %s", got, sites)
	}
}
