package passage_test

import (
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
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

// rect is a rectangular chair with the axle ahead and behind as given.
func rect(t *testing.T, front, rear, width float64) *passage.Chair {
	t.Helper()
	return must[*passage.Chair](t)(passage.FromOutline([]passage.Point{
		{X: front, Y: width / 2}, {X: -rear, Y: width / 2}, {X: -rear, Y: -width / 2}, {X: front, Y: -width / 2}}))
}

var fits = passage.Fits{ClearanceMM: 0, Turn: passage.Left}

// TestPassagesAsComputedElsewhere checks the closed forms and, beside them, the
// judgement of the real outline of the same rectangle.
func TestPassagesAsComputedElsewhere(t *testing.T) {
	length := must[float64](t)
	for _, row := range reftables.Rows(t, "passage.csv") {
		x := args(t, row)
		switch what := row.Text("what"); what {
		case "ladder":
			row.Close(length(passage.LadderMM(x[0], x[1])))
		case "square-corner":
			row.Close(length(passage.SquareCornerMM(x[0], x[1])))
			row.Close(squareCorner(t, rect(t, x[0]/2, x[0]/2, x[1]), row.Number("want")))
		case "corner-needs":
			row.Close(corner(t, rect(t, x[0]*0.3, x[0]*0.7, x[1]), x[2], 2000).NeedsMM)
		case "corner-longest":
			row.Close(longest(t, x[0], x[1], x[2]))
		case "doorway":
			row.Close(length(passage.DoorwayMM(x[0], x[1], x[2])))
			row.Close(must[*passage.Result](t)(rect(t, x[0]*0.6, x[0]*0.4, x[1]).Doorway(
				passage.Doorway{ClearMM: x[2], CorridorMM: 1500, Fits: fits})).NeedsMM)
		case "arc-path":
			row.Close(must[*passage.ArcNeeds](t)(rect(t, x[0], x[1], x[2]).Arc(x[3], passage.Left)).PathMM)
		default:
			row.Close(pivot(t, what, x))
		}
	}
}

func corner(t *testing.T, c *passage.Chair, in, out float64) *passage.Result {
	t.Helper()
	return must[*passage.Result](t)(c.Corner(passage.Corner{InMM: in, OutMM: out, Fits: fits}))
}

// squareCorner finds the least equal corridors near a guess.
func squareCorner(t *testing.T, c *passage.Chair, guess float64) float64 {
	t.Helper()
	low, high := guess-20, guess+20
	for range 12 {
		if mid := (low + high) / 2; corner(t, c, mid, mid).LeftMM < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// longest finds the longest chair of a width that passes a corner.
func longest(t *testing.T, in, out, width float64) float64 {
	t.Helper()
	low, high := width, 2400.0
	for range 16 {
		if mid := (low + high) / 2; corner(t, rect(t, mid/2, mid/2, width), in, out).LeftMM < 0 {
			high = mid
		} else {
			low = mid
		}
	}
	return low
}

func pivot(t *testing.T, what string, x []float64) float64 {
	t.Helper()
	needs := must[passage.PivotNeeds](t)(passage.Pivot(passage.Rect{FrontMM: x[0], RearMM: x[1], WidthMM: x[2]}))
	switch what {
	case "pivot-front":
		return needs.FrontMM
	case "pivot-rear":
		return needs.RearMM
	case "pivot-circle":
		full := must[*passage.Result](t)(rect(t, x[0], x[1], x[2]).FullTurn(passage.Room{WidthMM: 3000, DepthMM: 3000}))
		if full.NeedsMM != needs.CircleMM {
			t.Errorf("the outline turns in %v mm, the rectangle in %v", full.NeedsMM, needs.CircleMM)
		}
		return needs.CircleMM
	case "pivot-in":
		return needs.InMM
	case "pivot-out":
		return needs.OutMM
	case "half-turn":
		_, half, err := rect(t, x[0], x[1], x[2]).HalfTurn(passage.Corridor{WidthMM: 2000})
		if err != nil || half.OneTurnMM != needs.HalfTurnMM {
			t.Errorf("the outline turns about in %v mm (%v), the rectangle in %v", half.OneTurnMM, err, needs.HalfTurnMM)
		}
		return needs.HalfTurnMM
	}
	t.Fatalf("unknown row %q", what)
	return 0
}

func TestSlopesAsComputedElsewhere(t *testing.T) {
	for _, row := range reftables.Rows(t, "ramp.csv") {
		x := args(t, row)
		got := must[*passage.Incline](t)(passage.InclineOf(x[0], x[1]))
		switch row.Text("what") {
		case "percent":
			row.Close(got.Percent)
		case "degrees", "run-for-degrees":
			row.Close(got.Degrees)
		case "along":
			row.Close(got.AlongMM)
		case "one-in":
			row.Close(got.OneIn)
		default:
			t.Errorf("unknown row %q", row.Text("what"))
		}
	}
}

func TestStoppingAsComputedElsewhere(t *testing.T) {
	for _, row := range reftables.Rows(t, "stopping.csv") {
		x := args(t, row)
		got := must[*passage.Stop](t)(passage.Stopping(passage.Braking{SpeedKMH: x[0], ReactionS: x[1], Deceleration: x[2], DownDegrees: x[3]}))
		if row.Text("what") == "total" {
			row.Close(got.TotalM)
		} else {
			row.Close(got.BrakingM)
		}
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
	refs := passage.References()
	if len(rows) != len(refs) {
		t.Errorf("%d figures in the app, %d in the table", len(refs), len(rows))
	}
	for _, row := range rows {
		found := false
		for _, r := range refs {
			if r.ID != row.Text("what") {
				continue
			}
			found = true
			row.Close(asPrinted(&r))
			if r.Section != row.Text("args") || string(r.Status) != row.Text("status") {
				t.Errorf("%s: section %q, status %q", r.ID, r.Section, r.Status)
			}
		}
		if !found {
			t.Errorf("%s is not in the app", row.Text("what"))
		}
	}
	if _, err := passage.Compare("ada-0", 1); err == nil {
		t.Error("an unknown figure is compared")
	}
	if provenance.Statuses()[0] != provenance.Published {
		t.Error("the best founded status is not published")
	}
}
