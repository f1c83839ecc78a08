package intake

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"doorsill/internal/decimal"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// forecastCase is one file of testdata/forecast. The tablet asks the engine the
// same from the same visits, so that both show the same date.
type forecastCase struct {
	Name   string `json:"name"`
	Course string `json:"course"`
	Visits []struct {
		Visit  model.Visit  `json:"visit"`
		Scored model.Result `json:"scored"`
	} `json:"visits"`
	Question model.TrendQuestion `json:"question"`
}

func TestTheServerAsksWhatTheTabletAsks(t *testing.T) {
	paths, err := filepath.Glob("../../testdata/forecast/*.json")
	if err != nil || len(paths) < 3 {
		t.Fatalf("found %d files (%v), want at least 3", len(paths), err)
	}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var f forecastCase
		if err := json.Unmarshal(data, &f); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		over := overVisits{course: f.Course}
		for _, one := range f.Visits {
			over.visits = append(over.visits, visitMeasures(&one.Visit, &one.Scored))
		}
		if got, want := asJSON(t, over.question()), asJSON(t, f.Question); got != want {
			t.Errorf("%s: got\n%s\nwant\n%s", f.Name, got, want)
		}
	}
}

// falling is a client who loses 6 gf tired every three weeks, driving a control
// of 20 gf: reserve 3 comes 8 weeks after the last visit of day 84. There are
// five visits, so that their lying on a line is believed.
func falling(course string, wait *float64) *overVisits {
	o := &overVisits{course: course}
	rested := 110.0
	for i, tired := range []float64{100, 94, 88, 82, 76} {
		day := i * 21
		o.visits = append(o.visits, &store.VisitMeasures{At: dateOf(day), Day: day, Site: "chin", OperateGF: 20, Needed: []string{"left"}, RecheckWeeks: 12, WaitWeeks: wait,
			Forces: []store.VisitForce{{Site: "chin", Direction: "left", Usable: &tired, Rested: &rested, Tired: &tired}}})
	}
	return o
}

func TestTheForecastBringsTheRecheckForward(t *testing.T) {
	twenty := 20.0
	for _, c := range []struct {
		name, course, agreed string
		wait                 *float64
		want                 store.Summary
	}{
		{"sooner than agreed", "slow", "1970-07-01", nil, store.Summary{Recheck: "1970-05-21", RecheckForecast: true, ReserveOn: "1970-05-21"}},
		{"nothing agreed", "slow", "", nil, store.Summary{Recheck: "1970-05-21", RecheckForecast: true, ReserveOn: "1970-05-21"}},
		{"agreed sooner", "slow", "1970-04-10", nil, store.Summary{Recheck: "1970-04-10", ReserveOn: "1970-05-21"}},
		{"a wait that is too long", "slow", "", &twenty, store.Summary{Recheck: "1970-04-23", RecheckForecast: true, ReserveOn: "1970-05-21", ExpectedOn: "1970-08-13"}},
		{"improving", "improving", "1970-07-01", nil, store.Summary{Recheck: "1970-07-01"}},
	} {
		line := store.Summary{Recheck: c.agreed}
		falling(c.course, c.wait).forecast(&line)
		if got, want := asJSON(t, line), asJSON(t, c.want); got != want {
			t.Errorf("%s: got %s, want %s", c.name, got, want)
		}
	}
}

// TestAReserveCountsFromTheLastDayWithForce: visits after it move nothing, and of
// two on one day the later stands, here one in which no force was measured.
func TestAReserveCountsFromTheLastDayWithForce(t *testing.T) {
	const day = 112
	measured, alone := *falling("slow", nil).visits[4], &store.VisitMeasures{At: dateOf(day) + "T15:00:00Z", Day: day}
	measured.At, measured.Day = dateOf(day)+"T08:00:00Z", day
	for _, after := range [][]*store.VisitMeasures{{alone}, {&measured, alone}} {
		o := falling("slow", nil)
		o.visits = append(o.visits, after...)
		var line store.Summary
		o.forecast(&line)
		if line.ReserveOn != "1970-05-21" {
			t.Errorf("%d visits on day 112: reserve 3 on %s, want 8 weeks after day 84", len(after), line.ReserveOn)
		}
	}
}

func TestTheDayOfAReserve(t *testing.T) {
	early, mid, late := decimal.Int(2), decimal.Int(4), decimal.Int(6)
	for _, c := range []struct {
		reach model.Reach
		want  string
	}{
		{model.Reach{Already: true, Weeks: &mid}, "1970-01-11"},
		{model.Reach{Weeks: &mid, Early: &early, Late: &late}, "1970-02-08"},
		{model.Reach{Early: &early, Late: &late}, "1970-01-25"},
		{model.Reach{Late: &late}, ""},
	} {
		if got := reserveOn(10, &c.reach); got != c.want {
			t.Errorf("%+v: %q, want %q", c.reach, got, c.want)
		}
	}
}

func asJSON(t *testing.T, value any) string {
	t.Helper()
	data, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSpace(string(data))
}

// TestWhyAVisitWasNotScoredHoldsNoEntry: what is logged names the field, never
// what stood there, nor the key of a map, which somebody entered.
func TestWhyAVisitWasNotScoredHoldsNoEntry(t *testing.T) {
	in := &Intake{}
	var told string
	in.OnUnscored(func(visit, why string) { told = visit + ": " + why })
	refused := func(path string) error {
		return fmt.Errorf("score: %w", &validation.Error{Path: path, Want: "gf", Got: "secret"})
	}
	for _, c := range []struct {
		want string
		err  error
	}{
		{"v1: refused: readings[12].unit", refused("readings[12].unit")},
		{"v1: refused: answers[1].heads[0].level", refused("answers[1].heads[0].level")},
		{"v1: refused: needs.rejected", refused("needs.rejected.secret")},
		{"v1: refused: setup.throw", refused("setup.throw.secret.more")},
		{"v1: refused: setup", refused("setup.secret.more")},
		{"v1: refused: setup", refused("setup..secret")},
		{"v1: refused: ", refused("secret")},
		{"v1: the checklist is not known", errNoChecklist},
		{"v1: fault in the engine", errors.New("index out of range: secret")},
	} {
		if in.unscored("v1", c.err); told != c.want {
			t.Errorf("told %q, want %q", told, c.want)
		}
	}
}
