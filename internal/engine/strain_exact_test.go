package engine_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/model"
)

// limitsOf lists what is said of the limits whose name begins so: the figure, or the
// message where there is none.
func limitsOf(r *model.Result, start string) []string {
	var list []string
	for i := range r.Limits {
		q := &r.Limits[i]
		if !strings.HasPrefix(q.Name, start) {
			continue
		}
		is := q.Message.String()
		if q.Value != nil {
			is = q.Value.Text()
		}
		list = append(list, q.Name+": "+is)
	}
	return list
}

// TestAnyPartOfAnotherTaskIsAskedFor in full: a single number of it is enough.
func TestAnyPartOfAnotherTaskIsAskedFor(t *testing.T) {
	parts := map[string]func(n *model.NeedsNoted){
		"task-share": func(n *model.NeedsNoted) { n.TaskShare = new(5.0) }, "task-commands-a-minute": func(n *model.NeedsNoted) { n.TaskPerMin = new(2.0) },
		"task-seconds-a-command": func(n *model.NeedsNoted) { n.TaskSeconds = new(1.0) }, "wrist-angle": func(n *model.NeedsNoted) { n.TaskWristDeg = new(0.0) },
		"": func(n *model.NeedsNoted) { n.TaskHours = new(2.0) },
	}
	all := []string{"task-share", "task-commands-a-minute", "task-seconds-a-command", "wrist-angle"}
	for id, give := range parts {
		result := scoreOf(t, usualDay("index-right", 48, commands(20, 1), bentFor(0, 4), func(v *model.Visit) { give(&v.Needs.NeedsNoted) }))
		lacks := slices.DeleteFunc(slices.Clone(all), func(one string) bool { return one == id })
		name := "strain-composite"
		if id == "" {
			name = "strain-cumulative"
		}
		want := []string{name + ": endurance.task-lacks lacks=" + strings.Join(lacks, ",")}
		if got := limitsOf(&result, "strain-c"); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", id, got, want)
		}
		// Of a limb without an index the task is said to be of another.
		result = scoreOf(t, usualDay("knee-right", 48, commands(20, 1), bentFor(0, 4), func(v *model.Visit) { give(&v.Needs.NeedsNoted) }))
		if got := limitsOf(&result, "strain"); !slices.Equal(got, []string{"strain-cumulative: endurance.task-of-another-limb"}) {
			t.Errorf("%s: %q at the knee", id, got)
		}
	}
	// One number that lacks is one too many.
	result := scoreOf(t, usualDay("index-right", 48, commands(20, 1), bentFor(0, 4), anotherTask(5, 2, 1, 0), func(v *model.Visit) { v.Needs.TaskSeconds = nil }))
	if got := limitsOf(&result, "strain-c"); !slices.Equal(got, []string{"strain-composite: endurance.task-lacks lacks=task-seconds-a-command"}) {
		t.Errorf("%q", got)
	}
	result = scoreOf(t, usualDay("index-right", 48, commands(20, 1), bentFor(0, 4)))
	if got := limitsOf(&result, "strain-c"); got != nil {
		t.Errorf("no task: %q", got)
	}
	result = scoreOf(t, usualDay("knee-right", 48, commands(20, 1), bentFor(0, 4)))
	if got := limitsOf(&result, "strain"); got != nil {
		t.Errorf("no task: %q at the knee", got)
	}
}

// TestStrainSaysWhyThereIsNone.
func TestStrainSaysWhyThereIsNone(t *testing.T) {
	without := func(v *model.Visit) {
		v.Readings = slices.DeleteFunc(v.Readings, func(r model.Reading) bool { return r.What == model.ReadForce })
	}
	hours := func(v *model.Visit) { v.Needs.TaskHours = new(5.0) }
	for _, c := range []struct {
		name   string
		asks   float64
		change []func(*model.Visit)
		want   []string
	}{
		{"nothing is known", 48, []func(*model.Visit){without}, []string{"strain-index: endurance.strain-lacks lacks=force,commands-a-minute,seconds-a-command,wrist-angle,hours-of-driving"}},
		{"only the force is not", 48, []func(*model.Visit){commands(20, 1), bentFor(0, 4), without}, []string{"strain-index: endurance.strain-lacks lacks=force"}},
		{"the force alone is", 48, nil, []string{"strain-index: endurance.strain-lacks lacks=commands-a-minute,seconds-a-command,wrist-angle,hours-of-driving"}},
		{"more than there is", 401, []func(*model.Visit){commands(20, 1), bentFor(0, 4)}, []string{"strain-index: endurance.strain-too-much"}},
		{"more than a minute", 48, []func(*model.Visit){commands(20, 3.5), bentFor(0, 4)}, []string{"strain-index: refusal.alone why=[endurance.minute-too-full field=time-of-commands seconds=70]"}},
		{"a task of more than a minute", 48, []func(*model.Visit){commands(20, 1), bentFor(0, 4), anotherTask(20, 20, 3.5, 0)},
			[]string{"strain-index: 5.3", "strain-composite: endurance.task-refused why=[endurance.minute-too-full field=time-of-commands seconds=70]"}},
		{"more than a day", 48, []func(*model.Visit){commands(20, 1), bentFor(0, 20), anotherTask(5, 2, 1, 0), hours},
			[]string{"strain-index: 11", "strain-index-task: 0.4", "strain-cumulative: refusal.alone why=[refusal.between-unit-still field=hours-of-all-tasks least=0 most=24 unit=h still=[endurance.still-each-task]]"}},
	} {
		result := scoreOf(t, usualDay("index-right", c.asks, c.change...))
		if got := limitsOf(&result, "strain"); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	// All of the strength is not more than there is.
	result := scoreOf(t, usualDay("index-right", 400, commands(20, 1), bentFor(0, 4)))
	if got := limitsOf(&result, "strain"); len(got) != 1 || strings.Contains(got[0], "endurance.") {
		t.Errorf("all of the strength: %q", got)
	}
}

// TestTheWristIsBentEitherWay: forwards above 0, which counts for 1.2 · e^(0.009 · 40) −
// 0.2 = 1.520 at 40 degrees, and backwards below, for 1 + 0.00028 · 10² = 1.028
// (FORMULAS.md); in driving and in another task. 5.5 · 1.520/1.028 is 8.1, and hardly bent, by 1.2 ·
// e^(0.009 · 0.5) − 0.2 = 1.005, it is 5.5 · 1.005/1.028 = 5.4.
func TestTheWristIsBentEitherWay(t *testing.T) {
	for _, c := range []struct {
		driving, task float64
		want          []string
	}{
		{40, 40, []string{"strain-index: 8.1", "strain-index-task: 8.1"}}, {-40, -40, []string{"strain-index: 5.5", "strain-index-task: 5.5"}},
		{0.5, 0.5, []string{"strain-index: 5.4", "strain-index-task: 5.4"}},
		{40, -40, []string{"strain-index: 8.1", "strain-index-task: 5.5"}}, {-40, 40, []string{"strain-index: 5.5", "strain-index-task: 8.1"}},
	} {
		result := scoreOf(t, usualDay("index-right", 48, commands(20, 1), bentFor(c.driving, 4), anotherTask(12, 20, 1, c.task)))
		if got := limitsOf(&result, "strain-index"); !slices.Equal(got, c.want) {
			t.Errorf("bent by %v and %v: %q, want %q", c.driving, c.task, got, c.want)
		}
	}
}

// TestTheShareOfATaskCountsToAHundredth of a percent: 10.196 % as 10.2 %, of which the
// index is 8.851, though 8.848 would be shown as 8.8.
func TestTheShareOfATaskCountsToAHundredth(t *testing.T) {
	for _, share := range []float64{10.196, 10.2, 10.204} {
		result := scoreOf(t, usualDay("index-right", 48, commands(20, 1), bentFor(0, 4), anotherTask(share, 20, 1, 60)))
		if got := limitsOf(&result, "strain-index-task"); !slices.Equal(got, []string{"strain-index-task: 8.9"}) {
			t.Errorf("%v %%: %q", share, got)
		}
	}
}
