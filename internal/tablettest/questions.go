package tablettest

// Question is what the tablet's program can be asked.
type Question struct{ Op, JSON string }

// Questions are invented questions of every op that needs no visit; the program
// can answer all of them once it has a catalogue.
func Questions() []Question {
	return []Question{
		{"fold-client", `{"entries":[]}`},
		{"fold-control", `{"entries":[]}`},
		{"check-body", `{"kind":"answer-given","body":{"item":"pos-pelvis","state":"answered","level":"3"}}`},
		{"check-body", `{"kind":"needs-noted","body":{"hours_driving":25}}`},
		{"plausible", `{"what":"force","site":"index-right","value":60,"unit":"gf"}`},
		{"plausible", `{"what":"force","site":"index-right","value":1.5,"unit":"gf"}`},
		{"plausible", `{"what":"force","site":"chin","value":350,"unit":"N"}`},
		{"plausible", `{"what":"force","site":"chin","value":1900,"unit":"gf","others":[240,250]}`},
		{"plausible", `{"what":"force","site":"chin","value":1900,"unit":"gf","directions":[240,250]}`},
		{"plausible", `{"what":"hold","site":"chin","value":130,"unit":"s"}`},
		{"plausible", `{"what":"travel","site":"nose","value":1,"unit":"mm"}`},
		{"rose", `{"what":"force","site":"chin","supported":true,"unit":"N","readings":[` +
			`{"what":"force","site":"chin","direction":"left","state":"rested","supported":true,"value":4,"unit":"N"},` +
			`{"what":"force","site":"chin","direction":"left","state":"tired","supported":true,"value":2,"unit":"N"}],` +
			`"setup":{"class":"small","site":"chin","start_gf":20,"operate_gf":50,"travel_mm":12,"needed":["left"]}}`},
		{"summarise-series", `{"series":[{"what":"force","unit":"N","values":[3.5,4,4.5]},{"what":"force","unit":"gf","values":[50,52,420]}]}`},
		{"run-quantities", `{"place":"indoors","state":"rested","seconds":300,"metres":100,"things":3,"people":0,"prompts":2,"rescues":0,"unmeant":1,"presses":0}`},
		{"convert", `{"values":[0.49,1],"from":"N","to":"gf"}`},
		{"advice", `{"problem":"long-stop"}`},
		{"plan", `{"chair":{"length_mm":1100,"width_mm":650,"drive":"mid","clearance_mm":30},"place":{"place":"p1","name":"hall","kind":"corner","width_mm":1000,"corridor_mm":1000,"corridor2_mm":1000}}`},
		{"plan", `{"chair":{"length_mm":1100,"width_mm":650,"drive":"mid"},"place":{"place":"p1","name":"step","kind":"ramp","rise_mm":100,"run_mm":1200}}`},
		{"trend", `{"course":"fast","wait_weeks":20,"needed_gf":30,"recheck_day":20500,"recheck_weeks":8,"points":[` +
			`{"day":20454,"quantity":"force-rested","value":90,"conditions":{"site":"chin","support":"supported"}},` +
			`{"day":20475,"quantity":"force-rested","value":80,"conditions":{"site":"chin","support":"supported"}},` +
			`{"day":20500,"quantity":"force-rested","value":72,"conditions":{"site":"chin"}}]}`},
		{"trend", `{"course":"slow","wait_weeks":14,"needed_gf":30,"recheck_day":20520,"recheck_weeks":12,"points":[` +
			// Three directions, so that courses are drawn.
			`{"day":20454,"quantity":"force-rested-forward","value":190},{"day":20454,"quantity":"force-rested-left","value":141},{"day":20454,"quantity":"force-tired-left","value":128},{"day":20454,"quantity":"force-rested-right","value":150},` +
			`{"day":20482,"quantity":"force-rested-forward","value":168},{"day":20482,"quantity":"force-rested-left","value":144},{"day":20482,"quantity":"force-tired-left","value":119},{"day":20482,"quantity":"force-rested-right","value":151},` +
			`{"day":20520,"quantity":"force-rested-forward","value":171},{"day":20520,"quantity":"force-rested-left","value":117},{"day":20520,"quantity":"force-tired-left","value":112},{"day":20520,"quantity":"force-rested-right","value":139}]}`},
		{"thresholds", `{}`},
	}
}
