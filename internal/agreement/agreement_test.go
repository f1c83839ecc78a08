package agreement

import (
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/decimal"
	"doorsill/internal/model"
)

// part is a part of a result.
type part func(*model.Result)

// rate makes one therapist's ratings of a trial from parts of a result.
func rate(visit, by string, parts ...part) ratings {
	v := model.Visit{ID: visit, Client: "client"}
	v.Started.By, v.Started.At = by, "2026-03-0"+visit[1:]+"T09:00:00.000Z"
	var result model.Result
	for _, add := range parts {
		add(&result)
	}
	return rating{visit: v, list: authoring.Standard(), result: &result}.read()
}

func item(id, level string) part {
	return itemOf(model.ItemResult{ID: id, State: model.StateAnswered, Level: level})
}

func itemOf(item model.ItemResult) part {
	return func(r *model.Result) { r.Items = append(r.Items, item) }
}

func stopBy(item string) part {
	return func(r *model.Result) { r.Effects = append(r.Effects, model.RaisedEffect{Effect: "stop", Item: item}) }
}

func tired(direction string, gf int) part {
	return func(r *model.Result) {
		value := decimal.Int(gf)
		r.Quantities = append(r.Quantities, model.Quantity{Name: "mean-tired", Site: "chin", Direction: direction, Value: &value, Unit: "gf", Origin: model.OriginMeasured})
	}
}

func reportOf(t *testing.T, pairs ...paired) Report {
	t.Helper()
	g := gathering{pairs: pairs}
	r, err := g.report()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestFewPairsGiveNoFigure(t *testing.T) {
	pair := paired{rate("v1", "a", item("saf-look", "3")), rate("v2", "b", item("saf-look", "2"))}
	for pairs := 1; pairs <= FewPairs; pairs++ {
		list := make([]paired, pairs)
		for i := range list {
			list[i] = pair
		}
		r := reportOf(t, list...)
		for _, cell := range append(r.Items, r.Together...) {
			hidden := cell.Same == nil && cell.Within == nil && cell.Say == ""
			if few := pairs < FewPairs; cell.N != pairs || cell.Few != few || hidden != few {
				t.Errorf("%d pairs: %+v", pairs, cell)
			}
		}
	}
}

func TestStopsOfOneRaterAreListedAtOnceNewestFirst(t *testing.T) {
	stop := stopBy("saf-drowsy")
	r := reportOf(t,
		paired{rate("v1", "a", item("saf-drowsy", "0"), stop), rate("v2", "b", item("saf-drowsy", "2"))},
		paired{rate("v3", "a", item("saf-drowsy", "0"), stop), rate("v4", "b", item("saf-drowsy", "0"), stop)},
		paired{rate("v5", "a", item("saf-drowsy", "2")), rate("v6", "c", item("saf-drowsy", "0"), stop)},
	)
	if len(r.Stops) != 2 || r.Stops[0].Second != "v6" || r.Stops[0].ByFirst || r.Stops[0].SecondBy != "c" || !r.Stops[1].ByFirst {
		t.Errorf("got %+v", r.Stops)
	}
	if r.Stops[0].Title == "" || r.Stops[0].Client != "client" || !strings.HasPrefix(r.Stops[0].At, "2026-03-06") {
		t.Errorf("who and what is not said: %+v", r.Stops[0])
	}
}

func TestForcesThatLieApartNameWhere(t *testing.T) {
	r := reportOf(t, paired{
		rate("v1", "a", tired("left", 60), tired("right", 60), tired("forward", 50)),
		rate("v2", "b", tired("left", 90), tired("right", 63), tired("reverse", 40)),
	})
	if r.Force == nil || r.Force.N != 2 || !r.Force.Few || r.Force.ICC != nil {
		t.Errorf("force %+v", r.Force)
	}
	if len(r.Apart) != 1 || r.Apart[0].Site != "chin" || r.Apart[0].Direction != "left" || r.Apart[0].State != "tired" || r.Apart[0].Percent != 40 {
		t.Errorf("apart %+v", r.Apart)
	}
}

func TestOnlyAnswersThatStandAloneOnOneScaleAreCompared(t *testing.T) {
	r := reportOf(t, paired{
		rate("v1", "a", item("saf-look", "3"), itemOf(model.ItemResult{ID: "saf-hazard", State: model.StateNotTested}),
			itemOf(model.ItemResult{ID: "saf-edge", State: model.StateAnswered, Level: "3", Choice: true}), item("no-such", "3")),
		rate("v2", "b", item("saf-look", "3"), item("saf-hazard", "1"), item("saf-edge", "3"), item("no-such", "3")),
	})
	if len(r.Items) != 1 || r.Items[0].Item != "saf-look" {
		t.Errorf("got %+v", r.Items)
	}
}

func TestLevelsOfEachKindOfItem(t *testing.T) {
	bands := checklist.Item{Type: checklist.TypeNumber, Bands: make([]checklist.Band, 4)}
	for _, c := range []struct {
		item   checklist.Item
		result model.ItemResult
		want   level
		ok     bool
	}{
		{checklist.Item{Type: checklist.TypeHelp}, model.ItemResult{Level: "4"}, level{4, 5}, true}, {checklist.Item{Type: checklist.TypeHelp}, model.ItemResult{Level: "5"}, level{}, false},
		{checklist.Item{Type: checklist.TypeFit}, model.ItemResult{Level: "0"}, level{0, 4}, true}, {checklist.Item{Type: checklist.TypeFit}, model.ItemResult{Level: "-1"}, level{}, false},
		{checklist.Item{Type: checklist.TypeYesNo}, model.ItemResult{Level: "yes"}, level{1, 2}, true}, {checklist.Item{Type: checklist.TypeYesNo}, model.ItemResult{Level: "no"}, level{0, 2}, true},
		{checklist.Item{Type: checklist.TypeYesNo}, model.ItemResult{}, level{}, false},
		{bands, model.ItemResult{Band: 1}, level{3, 4}, true}, {bands, model.ItemResult{Band: 4}, level{0, 4}, true},
		{bands, model.ItemResult{}, level{}, false}, {bands, model.ItemResult{Band: 5}, level{}, false},
	} {
		if got, ok := levelOf(&c.item, &c.result); ok != c.ok || ok && got != c.want {
			t.Errorf("%s %+v: %+v %v", c.item.Type, c.result, got, ok)
		}
	}
}

// TestTheLogTellsWhoHadBeenSentTheOthersAnswers: an event names how far its
// tablet had pulled, so it shows whether only the app kept two raters apart.
func TestTheLogTellsWhoHadBeenSentTheOthersAnswers(t *testing.T) {
	entry := func(pos, seen int64, by, kind string) model.Entry {
		raw := `{"tablet":"tab-` + by + `","n":` + strconv.FormatInt(pos, 10) + `,"kind":"` + kind + `","subject":"v","author":"` + by +
			`","at":"2026-03-01T09:00:00.000Z","zone":"Etc/UTC","schema":1,"seen":` + strconv.FormatInt(seen, 10) + `,"body":{}}`
		return model.Entry{Pos: pos, Raw: []byte(raw)}
	}
	read := func(by string, entries ...model.Entry) (r rating) {
		r.visit.Started.By = by
		for _, e := range entries {
			if err := r.notice(e, model.Logs{}); err != nil {
				t.Fatal(err)
			}
		}
		return r
	}
	first := read("a", entry(10, 0, "a", "visit-started"), entry(11, 9, "a", "answer-given"), entry(20, 9, "a", "visit-signed"))
	for _, c := range []struct {
		name   string
		second rating
		had    bool
	}{
		{"saw only that a visit was begun", read("b", entry(12, 10, "b", "visit-started"), entry(13, 10, "b", "answer-given"), entry(14, 10, "b", "visit-signed")), false},
		{"had been sent the first answer", read("b", entry(12, 10, "b", "visit-started"), entry(13, 11, "b", "answer-given"), entry(14, 11, "b", "visit-signed")), true},
		{"was sent it after signing", read("b", entry(12, 10, "b", "visit-started"), entry(14, 10, "b", "visit-signed"), entry(21, 20, "b", "plan-agreed")), false},
		{"somebody else had been sent it", read("b", entry(12, 10, "b", "visit-started"), entry(13, 11, "c", "answer-given"), entry(14, 10, "b", "visit-signed")), false},
	} {
		if got := c.second.had(first); got != c.had {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// TestItemsTogetherTakeTheirIntervalFromTrials: two items of each trial, of which
// one trial in six is apart.
func TestItemsTogetherTakeTheirIntervalFromTrials(t *testing.T) {
	var pairs []paired
	for i := range 6 {
		level := "3"
		if i == 0 {
			level = "1"
		}
		pairs = append(pairs, paired{rate("v1", "a", item("saf-look", "3"), item("ind-door", "3")), rate("v2", "b", item("saf-look", level), item("ind-door", level))})
	}
	r := reportOf(t, pairs...)
	if len(r.Together) == 0 || r.Together[0].N != 12 || !strings.Contains(r.Together[0].Say, "from 6 trials") {
		t.Fatalf("together %+v", r.Together)
	}
	if same := r.Together[0].Same; same.Low == nil || *same.Low != 50 {
		t.Errorf("same %+v, want at least 50: three of six draws are the trial apart", same)
	}
	if r = reportOf(t, pairs[:3]...); r.Together[0].Same.Low != nil || !strings.Contains(r.Together[0].Say, "too few trials") {
		t.Errorf("of three trials %+v", r.Together[0].Same)
	}
}
