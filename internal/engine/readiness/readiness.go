// Package readiness answers how much support a driver needs today: what each
// answer is worth, the score and coverage of each section, what forbids or
// limits driving, and the level that follows, with the gate that failed and the
// shortest way past it.
//
// There is no overall score. All sums are in whole numbers: an item is worth 0
// to 100 points, so a section's score is exact before it is rounded.
package readiness

import (
	"doorsill/internal/checklist"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/trial"
	"doorsill/internal/message"
)

// Level is how much support the driver needs; a higher one needs less.
type Level uint8

const (
	// None: what must be known before moving is not known.
	None Level = iota
	Pause
	Practise
	Accompanied
	HomeGround
	WiderGround
	levels = iota
)

// levelIDs is read only.
var levelIDs = [levels]string{"none", "pause", "practise", "accompanied", "home-ground", "wider-ground"}

// LevelOf returns the level of an id, and Pause for an id that is none.
func LevelOf(id string) Level {
	for l := range levelIDs {
		if levelIDs[l] == id {
			return Level(l)
		}
	}
	return Pause
}

// String returns the id of the level.
func (l Level) String() string { return levelIDs[l] }

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
	// Unchosen are items of which every answer is about another control.
	Unchosen []string
	// Barriers are the needed places that do not let the chair through.
	Barriers []Barrier
	// Override is the therapist's decision, or nil.
	Override *Override
	// Blank are the parts of the visit beside the checklist that nobody filled in,
	// by the names of lacks.
	Blank []string
}

// Result is what follows from an Input.
type Result struct {
	Level Level
	// Interim: the driver may go on alone at home, but too few runs were driven.
	Interim bool
	// Say names the level and the first condition of the next that is not met.
	Say message.Message
	// Headline says plainly why the level is not a higher one and what would do,
	// Aloud the same to the client.
	Headline, Aloud message.Message
	// Gates are the conditions of every level above Pause, in order.
	Gates []Gate
	// Effects are raised by what was answered or measured, Untested are the
	// limits of what was not.
	Effects  []Raised
	Untested []Raised
	Domains  []Domain
	Costs    []Cost
	// Answers are in the order of the checklist.
	Answers []Answer
	Up      []Step
	Missing []Lack
	Ruling  *Ruling
	// Notes are further cautions.
	Notes []message.Message
}

// Judge works out the level. It depends on nothing but its arguments.
func (c *Checklist) Judge(in Input) Result {
	answers := c.answers(in)
	j := judge{Checklist: c, in: in, Result: Result{Answers: answers}}
	j.effects()
	j.domains()
	j.gates()
	j.level()
	j.headline()
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
		j.Notes = append(j.Notes, message.New("readiness.choices", message.Count("items", choices)))
	}
	for i := range j.Answers {
		if a := &j.Answers[i]; a.State == NotApplicable && a.named {
			j.Notes = append(j.Notes, message.New("readiness.holds-while", message.Word("item", j.items[i].ID), message.Word("reason", a.reason)))
		}
	}
	for _, r := range j.Effects {
		if r.Effect == checklist.StopVehicle {
			j.Notes = append(j.Notes, message.New("readiness.vehicle"))
			break
		}
	}
}

// computedFrom states the quantity that an answer was computed from; it is empty
// for one that somebody gave.
func (j *judge) computedFrom(i int) message.Message {
	if !j.Answers[i].Computed {
		return message.Message{}
	}
	return quantityOf(&j.in, j.items[i].source).Say
}

// quantityOf returns the quantity that a computed item is computed from. Source is
// its place in checklist.Sources.
func quantityOf(in *Input, source int) *quantity.Quantity {
	a, t := in.Analysis, in.Trial
	list := [...]*quantity.Quantity{&a.Reserve, &a.Travel, &a.Spread, &a.Tired, &a.Hold, &a.Release, &a.Noise, &a.Switch,
		&t.Presses, &t.Contacts, &t.Prompts, &t.Rescues, &t.Rough}
	if source < 0 || source >= len(list) {
		return &quantity.Quantity{Say: message.New("readiness.cannot-compute")}
	}
	return list[source]
}
