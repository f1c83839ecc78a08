// Package trial answers what the driving trial showed: contacts, prompts,
// rescues and unmeant commands as rates, and whether it was run often enough
// and once when tired.
package trial

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/quantity"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// Places of a run that rates are stated for.
const (
	indoors = "indoors"
	rough   = "rough"
)

// total is what several runs come to together.
type total struct {
	seconds, metres                            float64
	things, prompts, rescues, unmeant, presses int
}

func (t *total) add(r *model.RunTimed) {
	t.seconds += r.Seconds
	t.metres += r.Metres
	t.things += r.Things
	t.prompts += r.Prompts
	t.rescues += r.Rescues
	t.unmeant += r.Unmeant
	t.presses += r.Presses
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
	// Notes are cautions about the runs.
	Notes []message.Message
}

// Sum puts the runs together, without those that were set aside as slips and
// with each drive once, however many people tallied it. A rate
// over less than the distance or time that it is stated for is thin: its
// value is then the bare count, which is what the rate comes to when the rest
// goes without a fault.
func Sum(runs []model.Run) Findings {
	var all, inside, uneven total
	var f Findings
	list := drives(runs)
	for i := range list {
		r := &list[i].RunTimed
		if n := len(list[i].by); n > 1 {
			f.Notes = append(f.Notes, message.New("trial.one-drive", message.Count("people", n), message.Word("where", r.Place)))
		}
		all.add(r)
		f.PersonContact = f.PersonContact || r.People > 0
		switch r.Place {
		case indoors:
			inside.add(r)
		case rough:
			uneven.add(r)
			continue
		}
		f.Drives++
		if r.State == model.FatigueTired {
			f.Tired++
		}
	}
	f.Contacts = rate("contacts", "per-50-m", inside.things, inside.metres, strength.ContactsPer, metres, indoors)
	f.Prompts = rate("prompts", "per-10-min", inside.prompts, inside.seconds, strength.RatesPer, minutes, indoors)
	f.Presses = rate("presses", "per-10-min", all.presses, all.seconds, strength.RatesPer, minutes, "everywhere")
	f.Rough = rate("rough", "per-20-m", uneven.unmeant, uneven.metres, strength.RoughPer, metres, rough)
	f.Rescues = rescues(all.rescues, f.Drives)
	return f
}

// measure is what a run is measured by, as it is told: size of it are one unit.
type measure struct {
	unit string
	size float64
}

// Read only. Time is told in minutes, as the rates over it are.
var metres, minutes = measure{"m", 1}, measure{"min", 60}

// rate states count events in amount metres or seconds for a reference amount.
func rate(name, unit string, count int, amount, per float64, told measure, where string) quantity.Quantity {
	f := quantity.Quantity{Name: name, Unit: unit}
	wanted, in, driven := message.Number("wanted", per/told.size), message.Word("measure", told.unit), message.Word("where", where)
	if amount == 0 && count == 0 {
		f.Say = message.New("trial.nothing-driven", driven, wanted, in)
		return f
	}
	f.Origin = quantity.Measured
	n, events, over := message.Count("n", count), message.Word("events", events(name, count)), message.Number("amount", amount/told.size)
	if amount < per {
		f.Thin, f.Value = true, decimal.Int(count)
		f.Say = message.New("trial.too-little-driven", n, events, over, in, driven, wanted)
		return f
	}
	f.Value, _ = decimal.Of(float64(float64(count)*per) / amount)
	f.Say = message.New("trial.rate", n, events, over, in, driven, message.Exact("rate", f.Value), message.Word("unit", unit))
	return f
}

// events is the id of what was counted: one thing has an entry of its own.
func events(name string, count int) string {
	if count == 1 {
		return name + "-one"
	}
	return name
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
func (f *Findings) Of(place string, emit func(*quantity.Quantity)) {
	switch place {
	case indoors:
		emit(&f.Contacts)
		emit(&f.Prompts)
	case rough:
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

// ProvenanceOf returns what a quantity of the runs rests on, under its own name,
// and false for one that is only counted.
func ProvenanceOf(name string) (string, provenance.Provenance, bool) {
	switch name {
	case "contacts", "prompts", "presses", "rough":
		return name, provenance.Of("formula.rate-of-runs", "source.own", provenance.Proposal), true
	}
	return "", provenance.Provenance{}, false
}
