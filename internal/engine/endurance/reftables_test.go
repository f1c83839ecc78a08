package endurance_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"doorsill/internal/engine/endurance"
	"doorsill/internal/reftables"
)

func numbers(t *testing.T, fields []string) []float64 {
	t.Helper()
	var list []float64
	for _, f := range fields {
		x, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, x)
	}
	return list
}

func must[T any](t *testing.T) func(T, error) T {
	return func(x T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
}

func TestHoldingTimesAsPublished(t *testing.T) {
	hold := must[endurance.Hold](t)
	for _, row := range reftables.Rows(t, "endurance.csv") {
		args := strings.Fields(row.Text("args"))
		region := endurance.Region(args[0])
		x := numbers(t, args[1:])
		switch what := row.Text("what"); what {
		case "hold":
			row.Close(hold(endurance.HoldingTime(region, x[0])).Seconds)
		case "exponent":
			half, one := hold(endurance.HoldingTime(region, 0.1)), hold(endurance.HoldingTime(region, 1))
			row.Close(math.Log(half.Seconds/one.Seconds) / math.Log(0.1))
		case "inside-band":
			h := hold(endurance.HoldingTime(region, x[0]))
			if seconds := row.Number("want"); seconds < h.Low || seconds > h.High {
				t.Errorf("a measured %v s lies outside the band %v to %v s (%s)", seconds, h.Low, h.High, row.Text("source"))
			}
		default:
			t.Errorf("unknown row %q", what)
		}
	}
}

func TestLimitsForRepeatedWorkAsPublished(t *testing.T) {
	limit := must[endurance.Limit](t)
	for _, row := range reftables.Rows(t, "duty.csv") {
		args := strings.Fields(row.Text("args"))
		switch what := row.Text("what"); what {
		case "hour-limit":
			row.Close(must[endurance.HourLimit](t)(endurance.OneHour(0.05, args[0] == "sustained")).Limit)
		case "duty":
			x := numbers(t, args)
			row.Close(must[float64](t)(endurance.DutyCycle(x[0], x[1])))
		case "acgih":
			row.Close(limit(endurance.ACGIH(numbers(t, args)[0])).Share)
		case "potvin":
			row.Close(limit(endurance.Potvin(numbers(t, args)[0])).Share)
		case "allowed":
			row.Close(must[endurance.Allowance](t)(endurance.Allowed("thumb-left", numbers(t, args)[0])).Share)
		default:
			t.Errorf("unknown row %q", what)
		}
	}
}

// tasks reads groups of share, commands a minute, seconds, bend, degrees and
// hours.
func tasks(t *testing.T, args []string) []endurance.Task {
	t.Helper()
	var list []endurance.Task
	for ; len(args) >= 6; args = args[6:] {
		x := numbers(t, append(append([]string{}, args[:3]...), args[4:6]...))
		list = append(list, endurance.Task{Site: "thumb-right", Share: x[0], PerMinute: x[1], Seconds: x[2],
			Bend: endurance.Wrist(args[3]), Degrees: x[3], Hours: x[4]})
	}
	return list
}

func TestStrainIndexAsPublished(t *testing.T) {
	for _, row := range reftables.Rows(t, "strain.csv") {
		args := strings.Fields(row.Text("args"))
		switch what := row.Text("what"); what {
		case "index":
			row.Close(must[endurance.Strain](t)(endurance.StrainIndex(tasks(t, args)[0])).Index)
		case "composite":
			row.Close(must[endurance.StrainSum](t)(endurance.Composite(tasks(t, args))).Index)
		case "cumulative":
			x := numbers(t, args)
			row.Close(must[endurance.StrainSum](t)(endurance.Cumulative([]endurance.DayTask{
				{Index: x[0], Hours: x[1]}, {Index: x[2], Hours: x[3]}})).Index)
		}
	}
}
