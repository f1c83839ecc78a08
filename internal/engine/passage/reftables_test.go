package passage_test

import (
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/model"
	"doorsill/internal/reftables"
)

func must[T any](t *testing.T) func(T, error) T {
	return func(x T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
}

func args(t *testing.T, row reftables.Row) []float64 {
	t.Helper()
	var list []float64
	for _, f := range strings.Fields(row.Text("args")) {
		x, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, x)
	}
	return list
}

// rect is a chair with the axle ahead and behind as given.
func rect(t *testing.T, front, rear, width float64) *passage.Chair {
	t.Helper()
	return must[*passage.Chair](t)(passage.NewChair(passage.Measures{LengthMM: front + rear, WidthMM: width, Drive: passage.Mid, AxleBackMM: front}))
}

var fits = passage.Fits{}

// asked is a question of the app.
type asked struct {
	chair model.ChairMeasured
	place model.PlaceMeasured
}

// ask puts the sizes of a row, after how far the chair goes ahead of and behind
// its axle and its width, into the fields of a place.
func ask(kind string, x []float64, clearance float64) asked {
	a := asked{model.ChairMeasured{LengthMM: x[0] + x[1], WidthMM: x[2], Drive: "mid", AheadMM: x[0], ClearanceMM: clearance}, model.PlaceMeasured{Kind: kind}}
	fields := map[string][]*float64{
		passage.KindDoor: {&a.place.WidthMM}, passage.KindOff: {&a.place.WidthMM, &a.place.CorridorMM}, passage.KindTurn: {&a.place.WidthMM},
		passage.KindCorridor: {&a.place.CorridorMM}, passage.KindHalf: {&a.place.CorridorMM}, passage.KindCorner: {&a.place.CorridorMM, &a.place.Corridor2MM},
	}[kind]
	for i, field := range fields {
		*field = x[3+i]
	}
	return a
}

func (a asked) check() *passage.QuickCheck { return passage.QuickCheckOf(&a.chair, &a.place) }

func (a asked) draw(t *testing.T) *passage.Result {
	t.Helper()
	return must[*passage.Result](t)(passage.Draw(&a.chair, &a.place))
}

// said returns the figures that the sentence of a quick check gives.
func said(t *testing.T, g *passage.QuickCheck) func(name string) float64 {
	return func(name string) float64 {
		t.Helper()
		arg := g.Say.Arg(name)
		if limit := g.Say.Arg("limit"); arg == nil && limit != nil {
			arg = limit.Messages[0].Arg(name)
		}
		if arg == nil {
			t.Fatalf("%q gives no %q", say(g.Say), name)
		}
		return arg.Number.Float()
	}
}

// reachable is more room than any place of the tables leaves, so that the best
// turn is searched for; little is less than a turn on the spot leaves.
const (
	reachable = 200
	little    = 20
)

// kinds are the first words of rows and the kinds of place that they are about.
var kinds = map[string]string{"door": passage.KindDoor, "corridor": passage.KindCorridor, "corner": passage.KindCorner,
	"doorway": passage.KindOff, "turn": passage.KindTurn, "half": passage.KindHalf}

// TestPassagesAsComputedElsewhere checks the quick check of each kind of place and
// its drawing.
func TestPassagesAsComputedElsewhere(t *testing.T) {
	for _, row := range reftables.Rows(t, "passage.csv") {
		x := args(t, row)
		about, figure, _ := strings.Cut(row.Text("what"), "-")
		kind := kinds[about]
		switch figure {
		case "left":
			if about == "load" {
				figure := said(t, loaded(x))
				row.Close(figure("rating") - figure("total"))
				continue
			}
			a := ask(kind, x, little)
			row.Close(a.check().LeftMM)
			row.Close(a.draw(t).LeftMM)
		case "each", "three":
			a := ask(kind, x, reachable)
			row.Close(said(t, a.check())("each"))
			row.Close(a.draw(t).EachMM)
		case "spot":
			row.Close(said(t, ask(kind, x, little).check())("each"))
		case "over":
			figure := said(t, loaded(x))
			row.Close(figure("total") - figure("rating"))
		default:
			leastSize(t, row, about, x)
		}
	}
}

func loaded(x []float64) *passage.QuickCheck {
	return passage.QuickCheckOf(&model.ChairMeasured{ChairKG: x[0], PersonKG: x[1]}, &model.PlaceMeasured{Kind: passage.KindLoad, LimitKG: x[2]})
}

// leastSize checks the rows about the least size that a place could have.
func leastSize(t *testing.T, row reftables.Row, about string, x []float64) {
	t.Helper()
	switch what := row.Text("what"); what {
	case "corner-needs":
		c := ask(passage.KindCorner, []float64{x[0] * 0.3, x[0] * 0.7, x[1], x[2], 600}, little)
		row.Close(said(t, c.check())("needs"))
		row.Close(c.draw(t).NeedsMM)
	case "doorway-needs":
		d := ask(passage.KindOff, []float64{x[0] * 0.6, x[0] * 0.4, x[1], x[2], x[1] + 1}, little)
		row.Close(said(t, d.check())("needs"))
		row.Close(d.draw(t).NeedsMM)
	case "half-needs":
		h := ask(passage.KindHalf, x, little)
		row.Close(said(t, h.check())("needs"))
		row.Close(h.draw(t).NeedsMM)
	case "turn-circle":
		c := ask(passage.KindTurn, append(x, 3000), little)
		row.Close(said(t, c.check())("needs"))
		row.Close(c.draw(t).NeedsMM)
	case "corner-square":
		least := edge(row.Number("want")+20, row.Number("want")-20, func(size float64) asked {
			return ask(passage.KindCorner, []float64{x[0] / 2, x[0] / 2, x[1], size, size}, little)
		})
		row.Close(least)
	case "corner-longest":
		longest := edge(x[2], 2400, func(length float64) asked {
			return ask(passage.KindCorner, []float64{length / 2, length / 2, x[2], x[0], x[1]}, little)
		})
		row.Close(longest)
	default:
		t.Fatalf("unknown row %q about %s", what, about)
	}
}

// edge finds the size between one that some motion gets through with and one that
// none does.
func edge(through, stuck float64, of func(size float64) asked) float64 {
	for range 20 {
		if mid := (through + stuck) / 2; of(mid).check().LeftMM < 0 {
			stuck = mid
		} else {
			through = mid
		}
	}
	return through
}

func TestSlopesAsComputedElsewhere(t *testing.T) {
	for _, row := range reftables.Rows(t, "ramp.csv") {
		x := args(t, row)
		got := must[*passage.Incline](t)(passage.InclineOf(x[0], x[1]))
		said := said(t, passage.QuickCheckOf(&measured, &model.PlaceMeasured{Kind: passage.KindRamp, RiseMM: x[0], RunMM: x[1]}))
		switch row.Text("what") {
		case "percent":
			row.Close(got.Percent)
			row.Close(said("percent"))
		case "degrees", "run-for-degrees":
			row.Close(got.Degrees)
			row.Close(said("degrees"))
		case "one-in":
			row.Close(got.OneIn)
			row.Close(said("run"))
		default:
			t.Errorf("unknown row %q", row.Text("what"))
		}
	}
}

func TestWayBeforeReleaseAsComputedElsewhere(t *testing.T) {
	for _, row := range reftables.Rows(t, "release_way.csv") {
		x := args(t, row)
		row.Close(must[*passage.ReleaseWay](t)(passage.WayBeforeRelease(x[0], x[1])).Metres)
	}
}

// asPrinted is a figure in the unit of the standard: inches, or the x of 1 in x.
func asPrinted(r *passage.Reference) float64 {
	const inch = 25.4
	if r.Unit == "mm" {
		return r.Value / inch
	}
	return r.Value
}

// TestReferenceFiguresAsPublished checks every figure of the standard, its
// section and how sure we are of it, in both directions.
func TestReferenceFiguresAsPublished(t *testing.T) {
	rows := reftables.Rows(t, "ada.csv")
	if ids := figures(); len(rows) != len(ids) {
		t.Errorf("%d figures in the app, %d in the table", len(ids), len(rows))
	}
	for _, row := range rows {
		r := must[passage.Compared](t)(passage.Compare(row.Text("what"), none)).Reference
		row.Close(asPrinted(r))
		if r.Section != row.Text("args") || string(r.Status) != row.Text("status") {
			t.Errorf("%s: section %q, status %q", r.ID, r.Section, r.Status)
		}
	}
	if _, err := passage.Compare("ada-0", 1); err == nil {
		t.Error("an unknown figure is compared")
	}
	if provenance.Statuses()[0] != provenance.Published {
		t.Error("the best founded status is not published")
	}
}
