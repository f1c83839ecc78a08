package demo

import (
	"doorsill/internal/model"
)

// profile is how an invented visit went, as departures from a good day.
type profile struct {
	// reserve is usable tired force over the force that the control asks for;
	// fade is tired over rested.
	reserve, fade float64
	// noise is unintended force over the force that starts the chair.
	noise float64
	// release is the slowest release in seconds; missed adds one that did not
	// come.
	release float64
	missed  bool
	// levels replaces single answers by item id; sides is left, right.
	levels  map[string]string
	numbers map[string]float64
	sides   *[2]float64
	// skip lists sections that were not reached, na items that do not apply.
	skip, na []string
	runs     []model.RunTimed
	signed   bool
}

// goodRuns is a rested and a tired stretch indoors, one outdoors and one on
// the roughest ground that is needed.
func goodRuns() []model.RunTimed {
	return []model.RunTimed{
		{Route: "hall, kitchen, bath", Place: "indoors", State: "rested", Seconds: 540, Metres: 110},
		{Route: "hall, kitchen, bath", Place: "indoors", State: "tired", Seconds: 600, Metres: 95, Prompts: 1},
		{Route: "path to the gate", Place: "outdoors", State: "rested", Seconds: 420, Metres: 160},
		{Route: "gravel by the bins", Place: "rough", State: "rested", Seconds: 60, Metres: 24},
	}
}

func goodDay() profile {
	return profile{reserve: 3.8, fade: 0.92, noise: 0.2, release: 0.8, runs: goodRuns(), signed: true}
}

// profiles are the days that the invented clients had, by name.
func profiles() map[string]func() profile {
	return map[string]func() profile{
		"wider": goodDay,
		"home": func() profile {
			p := goodDay()
			p.levels = map[string]string{"out-road": "2", "out-crowd": "3", "per-gap": "3"}
			return p
		},
		"faint": func() profile {
			p := goodDay()
			p.reserve, p.fade, p.noise = 3.1, 0.62, 0.48
			p.skip = []string{"out"}
			p.levels = map[string]string{"ctl-grade": "2", "eqp-attend": "3"}
			return p
		},
		"learner": func() profile {
			p := goodDay()
			p.skip = []string{"out"}
			p.numbers = map[string]float64{"saf-stopcall": 3, "saf-hazard": 4}
			p.levels = map[string]string{"ind-door": "2", "ind-turn": "2", "saf-look": "2"}
			p.runs = []model.RunTimed{{Route: "empty room", Place: "indoors", State: "rested", Seconds: 480, Metres: 60, Things: 1, Prompts: 4, Rescues: 1}}
			return p
		},
		"contacts": func() profile {
			p := goodDay()
			p.skip = []string{"out"}
			p.numbers = map[string]float64{"saf-hazard": 3}
			p.levels = map[string]string{"ind-door": "1", "ind-back": "2"}
			p.runs = []model.RunTimed{
				{Route: "hall and bath", Place: "indoors", State: "rested", Seconds: 500, Metres: 90, Things: 2, Prompts: 3, Rescues: 1},
				{Route: "hall and bath", Place: "indoors", State: "tired", Seconds: 520, Metres: 80, Things: 3, Prompts: 4, Rescues: 1},
			}
			return p
		},
		"marginal": func() profile {
			p := goodDay()
			p.reserve = 2.4
			return p
		},
		"noise": func() profile {
			p := goodDay()
			p.noise = 1.2
			p.levels = map[string]string{"ctl-grade": "1"}
			return p
		},
		"release": func() profile {
			p := goodDay()
			p.release, p.missed = 2.8, true
			return p
		},
		"onetrial": func() profile {
			p := goodDay()
			p.skip = []string{"out"}
			p.runs = goodRuns()[:1]
			p.runs[0].Seconds = 640 // far enough for a rate
			return p
		},
		"sides":     withLevels(map[string]string{"per-gap": "2"}, &[2]float64{2, 5}),
		"drowsy":    withLevels(map[string]string{"saf-drowsy": "0"}, nil),
		"episodes":  withLevels(map[string]string{"saf-episodes": "0"}, nil),
		"brake":     withLevels(map[string]string{"eqp-brake": "0"}, nil),
		"lines":     withLevels(map[string]string{"pos-lines": "0"}, nil),
		"unwritten": withLevels(map[string]string{"hnd-limits": "no", "hnd-recheck": "no"}, nil),
		"started": func() profile {
			p := goodDay()
			p.skip = []string{"mnt", "per", "ind", "out", "hom", "eqp", "hnd"}
			p.runs, p.signed = nil, false
			return p
		},
	}
}

func withLevels(levels map[string]string, sides *[2]float64) func() profile {
	return func() profile {
		p := goodDay()
		p.levels, p.sides = levels, sides
		return p
	}
}
