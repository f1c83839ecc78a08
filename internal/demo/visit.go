package demo

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"doorsill/internal/checklist"
	"doorsill/internal/engine"
	"doorsill/internal/model"
	"doorsill/internal/record"
)

// figures are an invented control of a class: the force that starts the chair,
// the force and the way to full command.
var figures = map[string]struct{ start, operate, travel float64 }{
	"standard":   {60, 250, 28},
	"small":      {15, 50, 10},
	"very-light": {3, 10, 3},
	"switched":   {40, 80, 4},
}

var directions = []string{"forward", "reverse", "left", "right"}

// visitWriter writes one invented visit onto a tablet, a few seconds an entry.
type visitWriter struct {
	tab  *tablet
	list *checklist.Definition
	id   string
	// kit is what was packed; second is the visit that this one rates anew.
	kit     []model.PackedControl
	second  string
	at      time.Time
	p       profile
	c       client
	chance  *rand.Rand
	entries []model.Entry
}

func (w *visitWriter) write(kind string, body any) {
	w.at = w.at.Add(20 * time.Second)
	w.entries = append(w.entries, w.tab.write(w.at, kind, w.id, body))
}

// visit writes the whole visit and signs it when the profile says so.
func (w *visitWriter) visit(clientID, team, signer string, today time.Time) error {
	w.write(model.KindVisitStarted, model.VisitStarted{
		Client: clientID, Team: team, Unit: "gf",
		Checklist: model.ChecklistRef{ID: w.list.ID, Version: w.list.Version, Hash: w.list.Hash()}, SecondOf: w.second,
	})
	w.write(model.KindKitPacked, model.KitPacked{Controls: w.kit})
	w.write(model.KindVisitNoted, model.VisitNoted{Fields: map[string]string{
		"present": "client, one carer", "consent": "agreed to the assessment, by own words",
		"stop-holder": "therapist, hand on the attendant stop", "goals": w.c.reason,
	}})
	w.setup()
	if w.p.signed {
		w.prepare()
	}
	w.readings()
	for _, run := range w.p.runs {
		w.write(model.KindRunTimed, run)
	}
	w.answers()
	if strings.Contains(w.c.reason, "set anew") {
		w.changeBraking()
	}
	if w.c.recheck != 0 {
		w.write(model.KindPlanAgreed, model.PlanAgreed{
			Recheck: today.AddDate(0, 0, w.c.recheck).Format(time.DateOnly), Note: "invented plan"})
	}
	if w.p.signed {
		return w.sign(signer)
	}
	return nil
}

func (w *visitWriter) setup() {
	f := figures[w.c.class]
	name := "trial kit, " + w.c.class
	for _, c := range w.kit {
		if c.Class == w.c.class {
			name = c.Name
		}
	}
	w.write(model.KindSetupChosen, model.SetupChosen{
		Class: w.c.class, Control: name, Site: w.c.site,
		StartGF: f.start, OperateGF: f.operate, TravelMM: f.travel,
		Needed: directions, SwitchPressGF: 30, Place: "own home", Window: "any time",
	})
}

// readings takes three repeats a direction, rested and tired.
func (w *visitWriter) readings() {
	f := figures[w.c.class]
	tired := w.p.reserve * f.operate
	for i, direction := range directions {
		stronger := 1 + 0.12*float64(i%3)
		for _, state := range []string{"rested", "tired"} {
			mean := tired * stronger
			if state == "rested" {
				mean /= w.p.fade
			}
			for _, share := range []float64{0.97, 1, 1.03} {
				w.take("force", direction, state, whole(mean*share), "gf")
			}
		}
		w.take("travel", direction, "rested", whole(f.travel*1.4*10)/10, "mm")
	}
	w.take("unintended", "", "rested", whole(w.p.noise*f.start*10)/10, "gf")
	w.take("hold", "forward", "rested", 75, "s")
	for _, off := range []float64{0.2, 0.1, 0, 0.15, 0.05} {
		w.take("release", "", "rested", whole((w.p.release-off)*100)/100, "s")
	}
	if w.p.missed {
		w.write(model.KindReadingTaken, model.ReadingTaken{
			What: "release", Site: w.c.site, State: "tired", Supported: true, Unit: "s", Missed: true})
	}
	for _, share := range []float64{4.1, 4, 3.9} {
		w.take("switch-force", "press", "tired", whole(30*share), "gf")
	}
}

func (w *visitWriter) take(what, direction, state string, value float64, unit string) {
	w.write(model.KindReadingTaken, model.ReadingTaken{
		What: what, Site: w.c.site, Direction: direction, State: state,
		Supported: true, Value: value, Unit: unit,
	})
}

// whole rounds to a whole number, as a gauge would show it.
func whole(x float64) float64 { return float64(int64(x + 0.5)) }

// answers goes through the sections in order, leaving out the skipped ones.
func (w *visitWriter) answers() {
	for _, section := range w.list.Sections {
		if slices.Contains(w.p.skip, section.Code) {
			continue
		}
		for i := range section.Items {
			if item := &section.Items[i]; item.From == "" {
				w.write(model.KindAnswerGiven, w.answer(item))
			}
		}
	}
}

// answer is the profile's own answer where it has one, else a good one; now
// and then a light item is one step lower, so that no two visits look alike.
func (w *visitWriter) answer(item *checklist.Item) model.AnswerGiven {
	a := model.AnswerGiven{Item: item.ID, State: model.StateAnswered, Facts: facts(item)}
	if slices.Contains(w.p.na, item.ID) {
		return model.AnswerGiven{Item: item.ID, State: model.StateNotApplicable, Reason: "not part of this invented home"}
	}
	switch {
	case w.p.levels[item.ID] != "":
		a.Level = w.p.levels[item.ID]
	case item.Sides:
		left, right := float64(item.Of/2), float64(item.Of/2)
		if w.p.sides != nil {
			left, right = w.p.sides[0], w.p.sides[1]
		}
		a.Left, a.Right = &left, &right
	case item.Type == "number" || item.Type == "count":
		value := w.number(item)
		a.Number = &value
	default:
		levels := w.list.LevelsOf(item)
		step := 0
		if item.Weight < 3 && len(levels) > 2 && w.chance.IntN(5) == 0 {
			step = 1
		}
		a.Level = levels[step].Level
	}
	return a
}

// facts answers each side question on the safe side.
func facts(item *checklist.Item) map[string]bool {
	if len(item.Asks) == 0 {
		return nil
	}
	out := map[string]bool{}
	for _, ask := range item.Asks {
		out[ask.Fact] = false
	}
	return out
}

// number is inside the best band, unless the profile says otherwise.
func (w *visitWriter) number(item *checklist.Item) float64 {
	if value, ok := w.p.numbers[item.ID]; ok {
		return value
	}
	best := *item.Bands[0].Bound
	if item.Type == "count" || item.Better == "low" {
		return best
	}
	return best + float64(w.chance.IntN(4))
}

// sign closes the visit with the result that the engine gives for it.
func (w *visitWriter) sign(signer string) error {
	folded, err := record.FoldVisit(w.entries, model.Logs{})
	if err != nil {
		return fmt.Errorf("fold invented visit: %w", err)
	}
	result, err := engine.New(w.list).Score(&folded)
	if err != nil {
		return fmt.Errorf("score invented visit: %w", err)
	}
	sum := sha256.Sum256(result.AppendJSON(nil))
	w.write(model.KindVisitSigned, model.VisitSigned{
		Level: result.Level, Result: hex.EncodeToString(sum[:]), Format: result.Format, Engine: result.Engine, Catalogue: result.Catalogue, Name: signer})
	return nil
}
