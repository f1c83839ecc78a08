package authoring_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
)

func each(d *checklist.Definition, visit func(section string, item checklist.Item)) {
	for _, section := range d.Sections {
		for _, item := range section.Items {
			visit(section.Code, item)
		}
	}
}

// raising lists the items that can raise an effect, in order.
func raising(effect string) []string {
	var ids []string
	each(authoring.Standard(), func(_ string, item checklist.Item) {
		if slices.ContainsFunc(item.Effects, func(e checklist.Effect) bool { return e.Effect == effect }) {
			ids = append(ids, item.ID)
		}
	})
	return ids
}

func TestTheStandardChecklistHasThisManyItems(t *testing.T) {
	d := authoring.Standard()
	if d.Count() != 105 {
		t.Errorf("%d items, want 105", d.Count())
	}
	sizes := map[string]int{}
	types := map[string]int{}
	var codes []string
	for _, section := range d.Sections {
		codes = append(codes, section.Code)
	}
	each(d, func(section string, item checklist.Item) {
		sizes[section]++
		types[item.Type]++
		if !strings.HasPrefix(item.ID, section+"-") {
			t.Errorf("%s is in section %s", item.ID, section)
		}
	})
	wantCodes := []string{"pos", "ctl", "mnt", "saf", "per", "ind", "out", "hom", "eqp", "hnd"}
	wantSizes := map[string]int{"pos": 12, "ctl": 13, "mnt": 13, "saf": 10, "per": 6, "ind": 11, "out": 11, "hom": 8, "eqp": 12, "hnd": 9}
	wantTypes := map[string]int{checklist.TypeFit: 49, checklist.TypeHelp: 19, checklist.TypeNumber: 14, checklist.TypeCount: 14, checklist.TypeYesNo: 9}
	for _, diff := range []string{cmp.Diff(wantCodes, codes), cmp.Diff(wantSizes, sizes), cmp.Diff(wantTypes, types)} {
		if diff != "" {
			t.Errorf("-want +got\n%s", diff)
		}
	}
}

// What each answer limits the level to is held by testdata/levels/ceilings.csv.
func TestTheseStandardItemsCanStop(t *testing.T) {
	for effect, want := range map[string]string{
		checklist.Stop: "pos-trunk pos-head pos-feet pos-belt pos-skin pos-tilt pos-lines mnt-stop mnt-cables" +
			" saf-restraint saf-episodes saf-drowsy saf-wish eqp-brake eqp-centre eqp-fault eqp-radio eqp-wheels eqp-vent",
		checklist.StopControl: "pos-pelvis pos-head pos-spasm ctl-reserve ctl-travel ctl-release ctl-noise ctl-pain ctl-strain ctl-wet" +
			" mnt-swforce mnt-rigid mnt-clear mnt-urgent mnt-contact eqp-centre",
		checklist.StopVehicle: "eqp-vehicle",
	} {
		if diff := cmp.Diff(strings.Fields(want), raising(effect)); diff != "" {
			t.Errorf("%s: -want +got\n%s", effect, diff)
		}
	}
	if stops, controls := len(raising(checklist.Stop)), len(raising(checklist.StopControl)); stops != 19 || controls != 16 {
		t.Errorf("%d items can stop driving and %d a control", stops, controls)
	}
}

func TestTheseStandardItemsAreWorkedOut(t *testing.T) {
	got := map[string]string{}
	each(authoring.Standard(), func(_ string, item checklist.Item) {
		if item.From != "" {
			got[item.From] = item.ID
		}
	})
	want := map[string]string{
		checklist.FromForceReserve: "ctl-reserve", checklist.FromTravelReserve: "ctl-travel", checklist.FromSpread: "ctl-spread",
		checklist.FromTiredRatio: "ctl-tired", checklist.FromHold: "ctl-hold", checklist.FromRelease: "ctl-release",
		checklist.FromNoise: "ctl-noise", checklist.FromSwitchReserve: "mnt-swforce", checklist.FromPresses: "mnt-swmiss",
		checklist.FromContacts: "ind-contacts", checklist.FromPrompts: "ind-prompts", checklist.FromRescues: "ind-rescues",
		checklist.FromRough: "out-rough",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

func TestTheseFactsAreAskedBesideStandardItems(t *testing.T) {
	var got []string
	each(authoring.Standard(), func(_ string, item checklist.Item) {
		for _, ask := range item.Asks {
			got = append(got, ask.Fact)
		}
	})
	if diff := cmp.Diff([]string{"no-carer-plan", "no-carer-plan", "only-stop", "mount-before-face", "ramp-over-limit"}, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

func TestEveryStandardItemCanBeReadAloud(t *testing.T) {
	d := authoring.Standard()
	titles := map[string]string{}
	each(d, func(_ string, item checklist.Item) {
		if words := len(strings.Fields(item.Title)); words < 2 || words > 4 {
			t.Errorf("%s: title %q has %d words", item.ID, item.Title, words)
		}
		if other, used := titles[item.Title]; used {
			t.Errorf("%s and %s are both called %q", other, item.ID, item.Title)
		}
		titles[item.Title] = item.ID
		for name, text := range map[string]string{"prompt": item.Prompt, "why": item.Why, "if_poor": item.IfPoor} {
			if len(text) < 5 {
				t.Errorf("%s: %s is %q", item.ID, name, text)
			}
		}
		if got := len(d.LevelsOf(&item)) + len(item.Bands); got < 2 {
			t.Errorf("%s: %d answers in words", item.ID, got)
		}
	})
}

// A few texts letter by letter, one of each type, so that no edit goes unseen.
func TestStandardWordsStandAsAgreed(t *testing.T) {
	d := authoring.Standard()
	band := func(bound float64, text string) checklist.Band { return checklist.Band{Bound: &bound, Text: text} }
	for id, want := range map[string]struct {
		prompt string
		levels []checklist.Level
		bands  []checklist.Band
	}{
		"pos-trunk": {"Does the trunk stay upright in gentle turns, starts and stops?", []checklist.Level{
			{Level: "3", Text: "steady without thought"}, {Level: "2", Text: "leans but recovers alone"},
			{Level: "1", Text: "leans and needs a push back"}, {Level: "0", Text: "falls sideways or forwards on a gentle stop"},
		}, nil},
		"mnt-stop": {"Is there at all times a separate way to stop the chair (driver or attendant)?", []checklist.Level{
			{Level: "yes", Text: "shown to work today, by a named person"}, {Level: "no", Text: "none, or not shown to work"},
		}, nil},
		"ind-door": {"Go through the narrowest needed door both ways.", []checklist.Level{
			{Level: "4", Name: "Alone", Text: "done safely, first try, no help of any kind"},
			{Level: "3", Name: "Alone, slow", Text: "safe and unaided, but slow, tiring, or with one own correction"},
			{Level: "2", Name: "With words", Text: "needs at least one spoken, gestured or pointed cue; nobody touches"},
			{Level: "1", Name: "With hands", Text: "someone touches chair, control or person, or uses the stop, at least once"},
			{Level: "0", Name: "Not yet", Text: "not done, or unsafe even with help"},
		}, nil},
		"hom-door": {"Tightest needed door: clear width minus widest part of chair and control.", nil, []checklist.Band{
			band(100, "easy"), band(60, "careful"), band(30, "tight"), band(0, "scrapes"), {Text: "does not fit"},
		}},
		"ind-rescues": {"Times someone had to take over or use the stop in this trial (tally).", nil, []checklist.Band{
			band(0, "none"), band(1, "one"), band(2, "two"), {Text: "three or more"},
		}},
	} {
		item := d.Item(id)
		if item == nil {
			t.Errorf("%s is missing", id)
			continue
		}
		for _, diff := range []string{cmp.Diff(want.prompt, item.Prompt), cmp.Diff(want.levels, d.LevelsOf(item)), cmp.Diff(want.bands, item.Bands)} {
			if diff != "" {
				t.Errorf("%s: -want +got\n%s", id, diff)
			}
		}
	}
}

// A few items field by field, as every number and effect of them weighs.
func TestStandardItemsAreJudgedAsAgreed(t *testing.T) {
	bands := func(bounds ...float64) []float64 { return bounds }
	least, most := 0.0, 20.0
	for id, want := range map[string]struct {
		item  checklist.Item // without its words
		bands []float64      // bounds
	}{
		"ctl-release": {checklist.Item{
			Type: checklist.TypeNumber, Weight: 3, Group: checklist.GroupNeed, Unit: "s", From: checklist.FromRelease, Better: "low", Decimals: 1, Min: &least, Max: &most,
			Effects: []checklist.Effect{
				{Effect: checklist.StopControl, When: []checklist.Condition{{Bands: []int{4}}, {Facts: []string{checklist.FactReleaseMissed}}}},
				{Effect: checklist.LimitAccompanied, When: []checklist.Condition{{Bands: []int{3}}}},
			},
		}, bands(1, 1.5, 2.5)},
		"per-sides": {checklist.Item{
			Type: checklist.TypeCount, Weight: 3, Group: checklist.GroupNeed, Unit: "of 10", Better: "high", Sides: true, Of: 10,
			Effects: []checklist.Effect{
				{Effect: checklist.LimitAccompanied, When: []checklist.Condition{
					{Bands: []int{3, 4}, States: []string{checklist.StateNotTested}}, {Facts: []string{checklist.FactUnequalSides}},
				}},
			},
		}, bands(10, 9, 7)},
		"pos-head": {checklist.Item{
			Type: checklist.TypeFit, Weight: 3, Group: checklist.GroupNeed, BeforeMoving: true,
			Effects: []checklist.Effect{
				{Effect: checklist.Stop, When: []checklist.Condition{{Levels: []string{"0"}}}},
				{Effect: checklist.StopControl, When: []checklist.Condition{{Levels: []string{"1"}, Facts: []string{checklist.FactHeadBorne}}}},
				{Effect: checklist.LimitAccompanied, When: []checklist.Condition{{Levels: []string{"1"}}}},
			},
		}, nil},
	} {
		got := *authoring.Standard().Item(id)
		var bounds []float64
		for i, band := range got.Bands {
			if last := i == len(got.Bands)-1; last != (band.Bound == nil) {
				t.Errorf("%s: bound of band %d is %v", id, i+1, band.Bound)
			} else if !last {
				bounds = append(bounds, *band.Bound)
			}
		}
		got.ID, got.Title, got.Prompt, got.Why, got.IfPoor, got.Levels, got.Bands = "", "", "", "", "", nil, nil
		for _, diff := range []string{cmp.Diff(want.item, got), cmp.Diff(want.bands, bounds)} {
			if diff != "" {
				t.Errorf("%s: -want +got\n%s", id, diff)
			}
		}
	}
}

func TestTheStandardChecklistHasNoWarnings(t *testing.T) {
	_, warnings, err := authoring.Check("standard.json", authoring.Standard().Raw())
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range warnings {
		t.Error(w)
	}
}

// TestWhatASettingMakesDueIsAsked: a change of settings makes items due again that
// the standard checklist has.
func TestWhatASettingMakesDueIsAsked(t *testing.T) {
	for _, id := range model.RetestItems() {
		if authoring.Standard().Item(id) == nil {
			t.Errorf("no item %s", id)
		}
	}
}

// TestTheseAreAskedBeforeMoving: without an answer to each of them there is no
// level yet.
func TestTheseAreAskedBeforeMoving(t *testing.T) {
	var got []string
	each(authoring.Standard(), func(_ string, item checklist.Item) {
		if item.BeforeMoving {
			got = append(got, item.ID)
		}
	})
	want := strings.Fields("pos-trunk pos-head pos-feet pos-lines mnt-stop saf-episodes saf-drowsy saf-wish eqp-brake eqp-centre")
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

// TestEarlierVersionsStayAsTheyWere: visits name a version by the hash of its
// bytes, so that none of them may change or go.
func TestEarlierVersionsStayAsTheyWere(t *testing.T) {
	hashes := map[string]string{
		"2026.1": "39113567d0c2f6d5b28c2700cabc420ef4ffa3e29b621c2eac211f3d2fd9d19e",
		"2026.2": "385dcec0dfcf1831374ebf4b7110232c7c9f574f480cfd09f4d7fe844846eefc",
		"2026.3": "634d3cdedf9fb7c03c830fa7bb4f21906f0b1717a03604b7560b9daedfa6e673",
	}
	versions := authoring.StandardVersions()
	if versions[0] != authoring.Standard() {
		t.Error("the present version is not the first")
	}
	for _, version := range versions {
		switch want, known := hashes[version.Version]; {
		case version.ID != authoring.Standard().ID:
			t.Errorf("version %s is of checklist %s", version.Version, version.ID)
		case !known:
			t.Errorf("version %s is new: write its hash %s here", version.Version, version.Hash())
		case want != version.Hash():
			t.Errorf("version %s was given out with the hash %s and is changed: keep its bytes of before in earlier/standard-%[1]s.json and raise the version", version.Version, want)
		}
		if authoring.StandardVersion(version.Hash()) != version {
			t.Errorf("version %s is not found by its hash", version.Version)
		}
		delete(hashes, version.Version)
	}
	if len(hashes) > 0 {
		t.Errorf("no longer there: %v: keep their bytes in earlier, for visits that were started with them", hashes)
	}
	if authoring.StandardVersion("") != nil {
		t.Error("a version without a hash")
	}
}
