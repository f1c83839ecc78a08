// Package trial answers what the driving trial showed: contacts, prompts,
// rescues and unmeant commands as rates, and whether it was run often enough
// and once when tired.
package trial

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// Place is where a run was driven.
type Place uint8

const (
	Indoors Place = iota
	Outdoors
	Rough
)

// PlaceOf returns the place of an id, and false for an id that is none.
func PlaceOf(id string) (Place, bool) {
	switch id {
	case "indoors":
		return Indoors, true
	case "outdoors":
		return Outdoors, true
	case "rough":
		return Rough, true
	}
	return 0, false
}

// Run is one stretch of the trial with its tallies.
type Run struct {
	Place Place
	Tired bool
	// Seconds and Metres are not negative.
	Seconds, Metres float64
	// Things and People are contacts, Rescues take-overs and uses of the stop,
	// Unmeant commands and Presses that the driver did not mean.
	Things, People, Prompts, Rescues, Unmeant, Presses int
}

// Findings is what the runs show together.
type Findings struct {
	// Contacts is contacts per 50 m and Prompts prompts per 10 min, indoors.
	Contacts, Prompts quantity.Quantity
	// Rescues counts over all runs; Presses is unmeant switch presses per
	// 10 min over all runs; Rough is unmeant commands per 20 m of rough ground.
	Rescues, Presses, Rough quantity.Quantity
	// PersonContact reports any contact with a person, anywhere.
	PersonContact bool
	// Drives counts the runs indoors and outdoors, without stretches of rough
	// ground; Tired those of them that were driven tired.
	Drives, Tired int
}

// Sum puts the runs together. A rate over less than half of the distance or
// time that it is stated for is thin: its value is then the bare count, which
// is what the rate comes to when the rest goes without a fault.
func Sum(runs []Run) Findings {
	var all, indoors, rough Run
	var f Findings
	for _, r := range runs {
		all.add(r)
		f.PersonContact = f.PersonContact || r.People > 0
		switch r.Place {
		case Indoors:
			indoors.add(r)
		case Rough:
			rough.add(r)
			continue
		}
		f.Drives++
		if r.Tired {
			f.Tired++
		}
	}
	f.Contacts = rate("contacts", "per-50-m", indoors.Things, indoors.Metres, strength.ContactsPer, "m", "indoors")
	f.Prompts = rate("prompts", "per-10-min", indoors.Prompts, indoors.Seconds, strength.RatesPer, "s", "indoors")
	f.Presses = rate("presses", "per-10-min", all.Presses, all.Seconds, strength.RatesPer, "s", "everywhere")
	f.Rough = rate("rough", "per-20-m", rough.Unmeant, rough.Metres, strength.RoughPer, "m", "rough")
	f.Rescues = rescues(all.Rescues, f.Drives)
	return f
}

func (r *Run) add(other Run) {
	r.Seconds += other.Seconds
	r.Metres += other.Metres
	r.Things += other.Things
	r.People += other.People
	r.Prompts += other.Prompts
	r.Rescues += other.Rescues
	r.Unmeant += other.Unmeant
	r.Presses += other.Presses
}

// rate states count events in amount metres or seconds for a reference amount.
func rate(name, unit string, count int, amount, per float64, measure, where string) quantity.Quantity {
	f := quantity.Quantity{Name: name, Unit: unit}
	wanted, in, driven := message.Number("wanted", per), message.Word("measure", measure), message.Word("where", where)
	if amount == 0 && count == 0 {
		f.Say = message.New("trial.nothing-driven", driven, wanted, in)
		return f
	}
	f.Origin = quantity.Measured
	n, events, over := message.Count("n", count), message.Word("events", name), message.Number("amount", amount)
	if least := float64(per * strength.RateLeastPart); amount < least {
		f.Thin, f.Value = true, decimal.Int(count)
		f.Say = message.New("trial.too-little-driven", n, events, over, in, driven, wanted, message.Number("least", least))
		return f
	}
	f.Value, _ = decimal.Of(float64(float64(count)*per) / amount)
	f.Say = message.New("trial.rate", n, events, over, in, driven, message.Exact("rate", f.Value), message.Word("unit", unit))
	return f
}

func rescues(count, drives int) quantity.Quantity {
	f := quantity.Quantity{Name: "rescues", Unit: "times", Say: message.New("trial.no-run")}
	if drives == 0 && count == 0 {
		return f
	}
	f.Origin, f.Value = quantity.Measured, decimal.Int(count)
	f.Say = message.New("trial.no-rescue")
	if count > 0 {
		f.Say = message.New("trial.rescues", message.Count("n", count))
	}
	return f
}

// Of hands over what a run in such a place counts for.
func (f *Findings) Of(place Place, emit func(*quantity.Quantity)) {
	switch place {
	case Indoors:
		emit(&f.Contacts)
		emit(&f.Prompts)
	case Rough:
		emit(&f.Rough)
	}
	emit(&f.Presses)
}

// Quantities hands over what the runs show.
func (f *Findings) Quantities(emit func(*quantity.Quantity)) {
	for _, each := range [...]*quantity.Quantity{&f.Contacts, &f.Prompts, &f.Rescues, &f.Presses, &f.Rough} {
		emit(each)
	}
}
