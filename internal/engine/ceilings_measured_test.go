package engine_test

import (
	"doorsill/internal/checklist"
	"doorsill/internal/model"
)

// inBands has for each source a value in each band, the best first, and how a
// visit comes to it.
var inBands = map[string]struct {
	values []float64
	change func(*best, float64)
}{
	// 50 gf are needed: 8, 4, 2.5 and 1.2 times as much can be given.
	checklist.FromForceReserve: {[]float64{400, 200, 125, 60}, func(b *best, x float64) { b.rested, b.tired = []float64{x, x, x}, []float64{x, x, x} }},
	// 12 mm are needed.
	checklist.FromTravelReserve: {[]float64{20, 13, 11}, func(b *best, x float64) { b.travel = x }},
	// Apart by 0, 25 and 50 percent of 400.
	checklist.FromSpread: {[]float64{0, 50, 100}, func(b *best, x float64) { b.forward = []float64{400 - x, 390, 400 + x} }},
	// Of 400 rested.
	checklist.FromTiredRatio: {[]float64{400, 300, 240, 180}, func(b *best, x float64) { b.tired = []float64{x, x, x} }},
	checklist.FromHold:       {[]float64{120, 40, 20, 5}, func(b *best, x float64) { b.hold = x }},
	checklist.FromRelease:    {[]float64{0.8, 1.3, 2, 3}, func(b *best, x float64) { b.releases[2].Value = x }},
	// 20 gf start the control.
	checklist.FromNoise: {[]float64{2, 8, 15, 25}, func(b *best, x float64) { b.unmeant = x }},
	// 30 gf press the switch.
	checklist.FromSwitchReserve: {[]float64{100, 75, 45}, func(b *best, x float64) { b.press = x }},
	// In 1,260 s.
	checklist.FromPresses: {[]float64{0, 2, 6, 10}, func(b *best, x float64) { b.runs[0].Presses = int(x) }},
	// In 100 m and 1,200 s indoors.
	checklist.FromContacts: {[]float64{0, 2, 4, 5}, func(b *best, x float64) { b.runs[0].Things = int(x) }},
	checklist.FromPrompts:  {[]float64{2, 6, 12, 13}, func(b *best, x float64) { b.runs[0].Prompts = int(x) }},
	checklist.FromRescues:  {[]float64{0, 1, 2, 3}, func(b *best, x float64) { b.runs[0].Rescues = int(x) }},
	// In 40 m.
	checklist.FromRough: {[]float64{0, 2, 4, 6}, func(b *best, x float64) { b.runs[2].Unmeant = int(x) }},
}

// measuredSteps lists what a computed item can come to.
func measuredSteps(item *checklist.Item) []step {
	var steps []step
	how := inBands[item.From]
	for band, value := range how.values {
		steps = append(steps, step{item.Bands[band].Text, func(b *best) { how.change(b, value) }})
	}
	switch worst := item.Bands[len(item.Bands)-1].Text; item.From {
	case checklist.FromRelease:
		steps = append(steps, step{"one release missed", func(b *best) { b.releases[2] = model.ReadingTaken{Missed: true} }})
	case checklist.FromContacts:
		steps = append(steps, step{"a person touched", func(b *best) { b.runs[0].People = 1 }})
	case checklist.FromSwitchReserve:
		steps = append(steps, step{worst + ", the only stop", func(b *best) {
			how.change(b, how.values[2])
			b.facts(item.ID, model.StateAnswered, true)
		}})
	}
	return steps
}

// unmeasure takes away what an item is computed from. Of a rate there is a metre
// or a second less than it is stated for.
func unmeasure(b *best, from string) {
	switch from {
	case checklist.FromForceReserve:
		b.without = append(b.without, model.ReadForce)
	case checklist.FromTravelReserve:
		b.without = append(b.without, model.ReadTravel)
	case checklist.FromSpread:
		b.rested, b.tired = []float64{400}, []float64{400}
	case checklist.FromTiredRatio:
		b.tired = nil
	case checklist.FromHold:
		b.without = append(b.without, model.ReadHold)
	case checklist.FromRelease:
		b.releases = nil
	case checklist.FromNoise:
		b.without = append(b.without, model.ReadUnintended)
	case checklist.FromSwitchReserve:
		b.press = 0
		b.setup.SwitchPressGF = 0
	case checklist.FromPresses, checklist.FromPrompts:
		b.runs[0].Seconds, b.runs[1].Seconds, b.runs[2].Seconds = 300, 299, 0
	case checklist.FromContacts:
		b.runs[0].Metres, b.runs[1].Metres = 25, 24
	case checklist.FromRescues:
		b.runs = nil
	case checklist.FromRough:
		b.runs[2].Metres = 19
	}
}
