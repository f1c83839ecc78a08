package engine_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/model"
)

func pointer[T any](x T) *T { return &x }

// TestWhatIsMissingIsNamed changes one thing of a whole visit: no number is made
// up, and the sentence says what is missing and what can still be said.
func TestWhatIsMissingIsNamed(t *testing.T) {
	place := func(v *model.Visit, id string) *model.PlaceMeasured {
		for i := range v.Places {
			if v.Places[i].Place == id {
				return &v.Places[i].PlaceMeasured
			}
		}
		t.Fatalf("no place %s", id)
		return nil
	}
	for name, c := range map[string]struct {
		change func(*model.Visit)
		want   string
	}{
		"no commands a minute": {func(v *model.Visit) { v.Needs.CommandsPerMin = nil },
			"figure\tstrain-index\tindex-right\t-\t-\t-\tmissing\tThe strain of the hand needs: commands a minute. "},
		"no hours": {func(v *model.Visit) { v.Needs.HoursDriving = nil }, "The strain of the hand needs: hours of driving a day. The share of strength can still be given."},
		"no wrist": {func(v *model.Visit) { v.Needs.WristDeg = nil }, "The strain of the hand needs: the wrist's angle."},
		"commands fill more": {func(v *model.Visit) { v.Needs.SecondsPerCommand = pointer(12.0) },
			"together at most 60 s in a minute, not 72 s"},
		"more than there is": {func(v *model.Visit) { v.Setup.OperateGF = 90 },
			"load\tsetup\tindex-right\tforward\t166.7\tForward asks 166.7 % of the strength: more than there is."},
		"a light touch": {func(v *model.Visit) { v.Setup.StartGF, v.Setup.OperateGF = 2, 4 },
			"figure\thold-time-low\tindex-right\tforward\t-\ts\tmissing\tForward: less than a tenth of the strength; no holding time is claimed"},
		"no seconds a command": {func(v *model.Visit) { v.Needs.SecondsPerCommand = nil },
			"limit-intermittent\tindex-right\t-\t-\t%\tmissing\tThe limit for on-and-off effort needs: seconds a command."},
		"nothing came": {func(v *model.Visit) {
			for i := range v.Readings {
				if v.Readings[i].Direction == "left" {
					v.Readings[i].Value = 0
				}
			}
		}, "left\t-\tLeft: tried, and no force came, so this control cannot be driven that way."},
		"half a task": {func(v *model.Visit) { v.Needs.TaskShare, v.Needs.TaskHours = pointer(30.0), pointer(2.0) },
			"strain-cumulative\tindex-right\t-\t-\t-\tmissing\tStrain with the other task needs: pressings a minute, seconds a pressing, the wrist's angle. Driving by itself is judged above."},
		"a task that is full": {func(v *model.Visit) {
			v.Needs.TaskShare, v.Needs.TaskPerMin, v.Needs.TaskSeconds, v.Needs.TaskWristDeg = pointer(30.0), pointer(10.0), pointer(5.0), pointer(0.0)
		}, "strain-composite\tindex-right\t-\t-\t-\tmissing\tCommands a minute and seconds a command: expected together at most 60 s in a minute"},
		"no chair": {func(v *model.Visit) { v.Chair = nil }, "passage\tp-front\tunknown\t-\tNot measured yet: length of chair with feet, width of chair."},
		"ramp without a chair": {func(v *model.Visit) { v.Chair = nil },
			"passage\tp-ramp\tunknown\t-\tLength of chair with feet: expected a number from 400 to 2500 mm. Clear width against the widest point can be judged by hand. The slope is 1 in 10."},
		"no person's mass": {func(v *model.Visit) { v.Chair.PersonKG = 0 }, "passage\tp-lift\tunknown\t-\tNot measured yet: mass of the person."},
		"slope of zero":    {func(v *model.Visit) { place(v, "p-ramp").RiseMM = 0 }, "passage\tp-ramp\tunknown\t-\tNot measured yet: rise."},
		"narrow corridor":  {func(v *model.Visit) { place(v, "p-hall").Corridor2MM = 600 }, "passage\tp-hall\tdoes not fit\t-183\t183 mm are missing"},
	} {
		v := readVector(t, filepath.Join(vectorDir, "day-and-home.json"))
		c.change(&v.Visit)
		if result := resultText(t, v.list(t), &v.Visit); !strings.Contains(result, c.want) {
			t.Errorf("%s: no %q in\n%s", name, c.want, linesOf(result, "load", "figure\tstrain", "figure\thold-time", "figure\tlimit", "passage"))
		}
	}
}

func linesOf(result string, starts ...string) string {
	var out strings.Builder
	for line := range strings.Lines(result) {
		for _, start := range starts {
			if strings.HasPrefix(line, start) {
				out.WriteString(line)
			}
		}
	}
	return out.String()
}

// TestAVisitThatCannotBeIsRefusedByPath breaks one part of a whole visit at a
// time.
func TestAVisitThatCannotBeIsRefusedByPath(t *testing.T) {
	scorer := engine.New(readVector(t, filepath.Join(vectorDir, "day-and-home.json")).list(t))
	for want, spoil := range map[string]func(*model.Visit){
		"chair.drive: expected front, mid or rear, got":           func(v *model.Visit) { v.Chair.Drive = "top" },
		"chair.width_mm: expected 400 to 900 mm, got 64":          func(v *model.Visit) { v.Chair.WidthMM = 64 },
		"places[0].kind: expected":                                func(v *model.Visit) { v.Places[0].Kind = "stairs" },
		"places[1].place: expected each place once":               func(v *model.Visit) { v.Places[1].Place = v.Places[0].Place },
		"needs.rejected.nose: expected":                           func(v *model.Visit) { v.Needs.Rejected = map[string]string{"nose": "long"} },
		"needs.task_share: expected 1 to 100 %, got 0":            func(v *model.Visit) { v.Needs.TaskShare = pointer(0.0) },
		"answers[0].heads[0].item: expected":                      func(v *model.Visit) { v.Answers[0].Heads[0].Item = "pos-wings" },
		"answers[0].heads[0].item: expected an item of checklist": func(v *model.Visit) { v.Answers[0].Item, v.Answers[0].Heads[0].Item = "pos-wings", "pos-wings" },
		"readings[2].unit: expected gf, N, ozf or lbf": func(v *model.Visit) {
			v.Readings[2].What, v.Readings[2].Unit, v.Readings[2].Direction = "force", "kg", "left"
		},
		"runs[0].place: expected indoors, outdoors or rough": func(v *model.Visit) { v.Runs[0].Place = "moon" },
		"setup.site: expected":                               func(v *model.Visit) { v.Setup.Site = "nose" },
		"kit[1].id: expected each control once": func(v *model.Visit) {
			one := model.PackedControl{ID: "k", Name: "n", Class: "small"}
			v.Kit = []model.PackedControl{one, one}
		},
		"override.level: expected": func(v *model.Visit) {
			v.Override = &model.Override{OverrideMade: model.OverrideMade{Level: "flying"}}
		},
	} {
		v := readVector(t, filepath.Join(vectorDir, "day-and-home.json"))
		spoil(&v.Visit)
		if _, err := scorer.Score(&v.Visit); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
}

// TestForceWithoutAPauseIsHeldAgainstTheUnbrokenLimit: the limit for on-and-off
// effort says nothing of it.
func TestForceWithoutAPauseIsHeldAgainstTheUnbrokenLimit(t *testing.T) {
	v := readVector(t, filepath.Join(vectorDir, "day-and-home.json"))
	v.Visit.Needs.CommandsPerMin, v.Visit.Needs.SecondsPerCommand = pointer(1.0), pointer(60.0)
	v.Visit.Setup.OperateGF = 6 // 13 % of the strength: under 14 %, over 7.9 %
	result := linesOf(resultText(t, v.list(t), &v.Visit), "figure\tlimit", "recheck-by")
	if !strings.Contains(result, "is above the one-hour limit of 7.9 % for unbroken effort") || strings.Contains(result, "on-and-off") ||
		!strings.Contains(result, "Exposure is raised") {
		t.Errorf("%s", result)
	}
}

// TestTheCurveIsSaidBesideWhatWasMeasured: where the two differ, in words.
func TestTheCurveIsSaidBesideWhatWasMeasured(t *testing.T) {
	for held, want := range map[float64]string{
		75:  "about 268 to 745 s (curve of the region hand/grip, healthy adults). Few studies measured so light a hold. Measured was less: 75 s.",
		120: "Few studies measured so light a hold.\n", // stopped at 120 s, as is usual
	} {
		v := readVector(t, filepath.Join(vectorDir, "day-and-home.json"))
		for i := range v.Visit.Readings {
			if v.Visit.Readings[i].What == model.ReadHold {
				v.Visit.Readings[i].Value = held
			}
		}
		if result := linesOf(resultText(t, v.list(t), &v.Visit), "figure\thold-time-low\tindex-right\tforward"); !strings.Contains(result+"\n", want) {
			t.Errorf("held for %v s: %s", held, result)
		}
	}
}

// TestSignsOfStrainAreThoseThatWereAnswered: the card of a driver by chin, by the
// answer to the question.
func TestSignsOfStrainAreThoseThatWereAnswered(t *testing.T) {
	for level, want := range map[string]string{
		"3": "No signs of strain in the past four weeks.",
		"2": "A tired feeling in the past four weeks, gone by the next morning.",
		"1": "Signs of strain in the past four weeks.",
		"":  "Nobody asked about signs of strain.",
	} {
		v := readVector(t, filepath.Join(vectorDir, "chin-exposure.json"))
		v.Visit.Answers = slices.DeleteFunc(v.Visit.Answers, func(a model.Answer) bool { return a.Item == "ctl-strain" })
		if level != "" {
			v.Visit.Answers = append(v.Visit.Answers, model.Answer{Item: "ctl-strain", Heads: []model.Given{{AnswerGiven: model.AnswerGiven{
				Item: "ctl-strain", State: model.StateAnswered, Level: level}}}})
		}
		if card := linesOf(resultText(t, v.list(t), &v.Visit), "exposure\t"); !strings.Contains(card, want) {
			t.Errorf("answered %q: %s, want %q", level, card, want)
		}
	}
}
