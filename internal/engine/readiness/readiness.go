// Package readiness answers how much support a driver needs today: what each
// answer is worth, the score and coverage of each section, what forbids or
// limits driving, and the level that follows, with the gate that failed and the
// shortest way past it.
//
// There is no overall score. All sums are in whole numbers: an item is worth 0
// to 100 points, so a section's score is exact before it is rounded.
package readiness

import (
	"doorsill/internal/checklist/rules"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/say"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
)

// Level is how much support the driver needs; a higher one needs less.
type Level uint8

const (
	Pause Level = iota
	Practise
	Accompanied
	HomeGround
	WiderGround
	levels = iota
)

// names says how levels are written; read only.
var names = [levels]struct{ id, name, meaning string }{
	{"pause", "Pause", "no driving for now."},
	{"practise", "Practise", "driving only as practice; a trained person holds a working separate stop."},
	{"accompanied", "Accompanied", "drives, with a trained person within reach and sight."},
	{"home-ground", "Home ground", "drives alone in the rooms and at the times that are named."},
	{"wider-ground", "Wider ground", "drives alone, also on the outdoor routes that are named."},
}

// LevelOf returns the level of an id, and false for an id that is none.
func LevelOf(id string) (Level, bool) {
	for l := range names {
		if names[l].id == id {
			return Level(l), true
		}
	}
	return 0, false
}

// String returns the id of the level.
func (l Level) String() string { return names[l].id }

// Name returns the level as it is printed.
func (l Level) Name() string { return names[l].name }

// Input is everything that a level depends on.
type Input struct {
	// Heads are the answers, in any order; several for one item are answers
	// that had not seen each other.
	Heads    []Head
	Setup    *strength.Setup
	Analysis *strength.Analysis
	Trial    *trial.Findings
	Access   *access.Result
	// Due are items that a change of a setting made due again, and that were
	// not tested since.
	Due []string
	// Override is the therapist's decision, or nil.
	Override *Override
}

// Result is what follows from an Input.
type Result struct {
	Level   Level
	Interim bool
	Say     string
	// Gates are the conditions of every level above Pause, in order.
	Gates   []Gate
	Effects []Raised
	Domains []Domain
	Costs   []Cost
	// Answers are in the order of the checklist.
	Answers []Answer
	Up      []Step
	Missing []Lack
	Ruling  *Ruling
	Notes   []string
}

// Judge works out the level. It depends on nothing but its arguments.
func (c *Checklist) Judge(in Input) Result {
	answers := c.answers(in)
	j := judge{Checklist: c, in: in, Result: Result{Answers: answers}}
	j.effects()
	j.domains()
	j.gates()
	j.level()
	j.up()
	j.missing()
	j.override()
	j.notes()
	return j.Result
}

// judge is a result in the making.
type judge struct {
	*Checklist
	in Input
	Result
}

func (j *judge) notes() {
	choices := 0
	for i := range j.Answers {
		if j.Answers[i].Choice() {
			choices++
		}
	}
	if choices > 0 {
		j.note(say.Line("{0} {item needs|items need} your choice: two people answered apart. Until somebody chooses, the more cautious answer counts.", nil, float64(choices)))
	}
	for _, r := range j.Effects {
		if r.Effect == rules.StopVehicle {
			j.note("May not travel seated in a vehicle with this set-up. Driving itself is not affected.")
			break
		}
	}
}

func (j *judge) note(sentence string) { j.Notes = append(j.Notes, sentence) }

// quantityOf returns the quantity that a computed item is computed from. Source is
// its place in rules.Sources.
func quantityOf(in *Input, source int) *quantity.Quantity {
	a, t := in.Analysis, in.Trial
	list := [...]*quantity.Quantity{&a.Reserve, &a.Travel, &a.Spread, &a.Tired, &a.Hold, &a.Release, &a.Noise, &a.Switch,
		&t.Presses, &t.Contacts, &t.Prompts, &t.Rescues, &t.Rough}
	if source < 0 || source >= len(list) {
		return &quantity.Quantity{Say: "This program cannot compute it."}
	}
	return list[source]
}
