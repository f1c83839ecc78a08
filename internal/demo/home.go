package demo

import (
	"slices"
	"strings"

	"doorsill/internal/model"
)

// prepare writes what is known before anything is measured: needs, home, mount
// and the settings of the trial.
func (w *visitWriter) prepare() {
	w.write(model.KindNeedsNoted, w.needs())
	w.write(model.KindChairMeasured, model.ChairMeasured{
		LengthMM: 1120, WidthMM: 640, Drive: "mid", AheadMM: 580, ClearanceMM: 25, SlopeDeg: 8, ChairKG: 140, PersonKG: 70})
	for _, place := range w.places() {
		w.write(model.KindPlaceMeasured, place)
	}
	w.write(model.KindMountNoted, w.mount())
	w.write(model.KindSettingChanged, model.SettingChanged{
		Key: "turn_speed", Profile: "indoor", Before: "20", After: "16", Unit: "%", Problem: "overshoots-turns",
		Why: "swung past the kitchen door", Result: "meets the door at the second try"})
	w.write(model.KindSettingChanged, model.SettingChanged{
		Key: "accel", Profile: "indoor", Before: "25", After: "20", Unit: "%", Problem: "head-thrown-back",
		Why: "head went back at each start", Result: "head stays on its rest"})
}

// changeBraking changes a setting after stopping was shown: release and stop
// call are due again.
func (w *visitWriter) changeBraking() {
	w.write(model.KindSettingChanged, model.SettingChanged{
		Key: "decel", Profile: "indoor", Before: "35", After: "45", Unit: "%", Problem: "long-stop",
		Why: "rolled on over a metre after letting go"})
}

func (w *visitWriter) needs() model.NeedsNoted {
	rough := slices.ContainsFunc(w.p.runs, func(run model.RunTimed) bool { return run.Place == "rough" })
	helper := strings.Contains(w.c.reason, "carer drives")
	blocked := w.c.class == "very-light"
	hours, commands, seconds, wrist, wait := 4.0, 6.0, 4.0, 5.0, 10.0
	return model.NeedsNoted{
		RoughGround: &rough, HelperDrives: &helper, Blocked: &blocked, HoursDriving: &hours,
		CommandsPerMin: &commands, SecondsPerCommand: &seconds, WristDeg: &wrist, WaitWeeks: &wait,
		Base: "stable", Course: w.c.course, WishSite: w.c.site, Moisture: map[string]string{w.c.site: "dry"},
		Rejected: map[string]string{"tongue": "does not want anything in the mouth"},
	}
}

// places are three passages; one flat has a narrow bathroom.
func (w *visitWriter) places() []model.PlaceMeasured {
	bathroom := 800.0
	if strings.Contains(w.c.reason, "narrow bathroom") {
		bathroom = 700
	}
	return []model.PlaceMeasured{
		{Place: "front-door", Kind: "door", Name: "front door", WidthMM: 850},
		{Place: "bathroom", Kind: "door-off-corridor", Name: "bathroom", WidthMM: bathroom, CorridorMM: 1050},
		{Place: "ramp", Kind: "ramp", Name: "ramp to the path", WidthMM: 950, RiseMM: 120, RunMM: 1800, LandingMM: 1550},
	}
}

func (w *visitWriter) mount() model.MountNoted {
	m := model.MountNoted{
		Kind: "fixed", FixedTo: "armrest", ForwardMM: 430, UpMM: 250, SideMM: 240, YawDeg: 10, GapMM: 0,
		Tilt: true, Recline: true, Transfer: true, Collision: true}
	switch {
	case w.c.site == "chin":
		m.Kind, m.FixedTo, m.ForwardMM, m.UpMM, m.SideMM = "swing-away", "back", 320, 610, 0
		m.GapMM, m.ClearS, m.Index = 8, 2.5, true
	case strings.HasSuffix(w.c.site, "-left"):
		m.SideMM = -240
	}
	return m
}
