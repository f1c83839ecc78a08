package readiness

import (
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// tiredForce is met when force was measured tired in the weakest needed
// direction: not to measure it must never give a better level than to measure
// it.
func (j *judge) tiredForce() (met bool, say message.Message) {
	return j.evidence("readiness.tired-force", "readiness.tired-force-wanted", func(w strength.Wanted) int { return tiredAtAll(&j.in, w) })
}

// forceReadings is met when force was measured often enough to send somebody
// out alone on it.
func (j *judge) forceReadings() (met bool, say message.Message) {
	return j.evidence("readiness.force-readings", "readiness.force-readings-wanted", func(w strength.Wanted) int { return w.Rested + w.Tired })
}

// tiredAtAll is how many tired readings a direction lacks that has none.
func tiredAtAll(in *Input, w strength.Wanted) int {
	if in.Analysis.At(in.Setup.Site).Force[w.Direction].Tired.N > 0 {
		return 0
	}
	return w.Tired
}

// evidence names the directions that lack something. It does not apply to a
// control that asks no force, or while none is chosen.
func (j *judge) evidence(met, wanted string, lacks func(strength.Wanted) int) (bool, message.Message) {
	if j.in.Setup == nil || j.in.Setup.OperateGF == 0 {
		return true, message.Message{}
	}
	var list []message.Message
	for _, w := range j.in.Analysis.Evidence(j.in.Setup) {
		if lacks(w) > 0 {
			list = append(list, w.Say())
		}
	}
	if len(list) > 0 {
		return false, message.New(wanted, message.Word("site", j.in.Setup.Site), message.List("readings", list))
	}
	return true, message.New(met)
}

// readings asks for force readings at the chosen site: in each needed direction,
// and tired in the weakest.
func (j *judge) readings(listed string) {
	for _, w := range j.in.Analysis.Evidence(j.in.Setup) {
		site := j.in.Analysis.At(j.in.Setup.Site)
		group := GroupUseful
		if !site.Force[w.Direction].Measured() || j.Level >= Accompanied {
			group = GroupNeeded
		}
		if group == listed {
			say := message.New("readiness.lack-readings", message.Word("site", site.ID), message.Inner("readings", w.Say()))
			j.lack(listed, group, -1, &model.WantedReading{What: "force", Site: site.ID, Direction: w.Direction.String()}, say)
		}
	}
}

// force names the readings that alone driving asks for.
func (w *way) force() {
	if met, _ := w.forceReadings(); met || w.next != HomeGround {
		return
	}
	for _, one := range w.in.Analysis.Evidence(w.in.Setup) {
		w.add(-1, message.New("readiness.step-readings", message.Word("site", w.in.Setup.Site), message.Inner("readings", one.Say())))
	}
}
