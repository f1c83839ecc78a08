package engine

import (
	"maps"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// Items of the standard checklist that measured places answer too.
const (
	itemDoor = "hom-door"
	itemTurn = "hom-turn"
	itemSill = "hom-sill"
	itemRamp = "hom-ramp"
	itemLoad = "hom-load"
)

// factRampOverLimit is the question beside the steepest ramp.
const factRampOverLimit = "ramp-over-limit"

// checkPlaces judges every place.
func (v *visit) checkPlaces() {
	v.checks = make([]*passage.QuickCheck, len(v.places))
	for i := range v.places {
		v.checks[i] = passage.QuickCheckOf(v.chair, &v.places[i].PlaceMeasured)
	}
}

// barriers lists the needed places that do not let the chair through.
func (v *visit) barriers() []readiness.Barrier {
	var list []readiness.Barrier
	for i := range v.places {
		p, g := &v.places[i].PlaceMeasured, v.checks[i]
		if p.NotNeeded || g.Verdict != passage.PlaceNoFit {
			continue
		}
		place, why, answer, say := message.Inner("place", placeMessage(p)), message.Inner("why", g.Say), "passage.answer", "passage.limits"
		if g.Barred {
			answer, say = "passage.answer-barred", "passage.limits-barred"
		}
		list = append(list, readiness.Barrier{Place: p.Place, Answer: message.New(answer, place), Say: message.New(say, place, why), Clear: message.New("passage.clear", place, why)})
	}
	return list
}

// placeMessage names a place, and what is reached through it where that is known.
func placeMessage(p *model.PlaceMeasured) message.Message {
	name := message.Word("name", p.Name)
	if p.LeadsTo == "" {
		return message.New("passage.place", name)
	}
	return message.New("passage.place-to", name, message.Word("to", p.LeadsTo))
}

// measured is what a measured place says to an item of the checklist.
type measured struct {
	place *model.PlaceMeasured
	// number or level, as the item is answered.
	number float64
	level  string
}

// besidePlaces lays answers about the home beside the places that were measured.
// Where they contradict each other the worse counts, and the contradiction is
// returned to be shown.
func (v *visit) besidePlaces(list *readiness.Checklist) []message.Message {
	var conflicts []message.Message
	for _, id := range [...]string{itemDoor, itemTurn, itemSill, itemRamp, itemLoad} {
		at, ok := list.Find(id)
		if !ok || list.At(at).Type != typeOf(id) {
			continue
		}
		found, measured := v.measuredFor(id)
		for i := range v.heads {
			h := &v.heads[i]
			if h.Item != at || h.State == readiness.NotTested {
				continue
			}
			if measured {
				conflicts = append(conflicts, beside(list, h, found)...)
			}
			if id == itemRamp {
				conflicts = append(conflicts, v.besideOverLimit(h)...)
			}
		}
	}
	return conflicts
}

// besideOverLimit lays the question beside the steepest ramp beside the ramps
// that were measured.
func (v *visit) besideOverLimit(h *readiness.Head) []message.Message {
	place := v.overLimit()
	if over, asked := h.Facts[factRampOverLimit]; place == nil || over || !asked {
		return nil
	}
	h.Facts = maps.Clone(h.Facts)
	h.Facts[factRampOverLimit] = true
	return []message.Message{message.New("passage.conflict-limit", message.Word("item", itemRamp), message.Inner("place", placeMessage(place)))}
}

// typeOf is how the standard checklist asks for an item that places answer too.
func typeOf(id string) string {
	switch id {
	case itemDoor, itemSill, itemRamp:
		return checklist.TypeNumber
	case itemTurn:
		return checklist.TypeFit
	}
	return checklist.TypeYesNo
}

// overLimit is a needed ramp above the chair's slope limit, or nil.
func (v *visit) overLimit() *model.PlaceMeasured {
	for i := range v.places {
		if p := &v.places[i].PlaceMeasured; p.Kind == passage.KindRamp && !p.NotNeeded && v.checks[i].Barred {
			return p
		}
	}
	return nil
}

// measuredFor returns the worst that needed places say to an item.
func (v *visit) measuredFor(id string) (worst measured, ok bool) {
	for i := range v.places {
		p := &v.places[i].PlaceMeasured
		if p.NotNeeded {
			continue
		}
		one, says := v.says(id, p, v.checks[i])
		if says && (!ok || one.worse(id, worst)) {
			worst, ok = one, true
		}
	}
	return worst, ok
}

// worse reports whether m is a worse answer to an item than other.
func (m measured) worse(id string, other measured) bool {
	switch id {
	case itemSill:
		return m.number > other.number
	case itemDoor, itemRamp:
		return m.number < other.number
	}
	return m.level < other.level // 0 to 3, and no before yes
}

// says is what one place says to an item.
func (v *visit) says(id string, p *model.PlaceMeasured, g *passage.QuickCheck) (m measured, ok bool) {
	m.place = p
	switch {
	case id == itemDoor && (p.Kind == passage.KindDoor || p.Kind == passage.KindOff):
		m.number = p.WidthMM - v.chair.WidthMM
		return m, p.WidthMM > 0 && v.chair.WidthMM > 0
	case id == itemSill && p.Kind == passage.KindThreshold:
		m.number = p.HeightMM
		return m, p.HeightMM > 0
	case id == itemRamp && p.Kind == passage.KindRamp && p.RiseMM > 0 && p.RunMM > 0:
		m.number = p.RunMM / p.RiseMM
		return m, true
	case id == itemLoad && p.Kind == passage.KindLoad:
		m.level = "yes"
		if g.Verdict == passage.PlaceNoFit || p.LimitKG == 0 {
			m.level = "no"
		}
		return m, g.Verdict != passage.PlaceUnknown || p.LimitKG == 0
	case id == itemTurn && (p.Kind == passage.KindTurn || p.Kind == passage.KindHalf || p.Kind == passage.KindThreePoint):
		m.level = map[string]string{passage.PlaceFits: "3", passage.PlaceTight: "2", passage.PlaceNoFit: "0"}[g.Verdict]
		return m, m.level != ""
	}
	return m, false
}

// beside compares an answer with what was measured. A worse measured place takes
// its place and is said; a better one may be another place than the answer meant.
func beside(list *readiness.Checklist, h *readiness.Head, m measured) []message.Message {
	id := list.At(h.Item).ID
	number, _ := decimal.Of(m.number)
	typed, is := message.New("answer.not-applicable"), list.Shown(h.Item, number)
	if m.level != "" {
		is = levelMessage(m.level)
	}
	if h.State == readiness.Answered {
		if !m.worse(id, measured{number: h.Number.Float(), level: h.Level}) {
			return nil
		}
		typed = list.Shown(h.Item, h.Number)
		if m.level != "" {
			typed = levelMessage(h.Level)
		}
	}
	h.State, h.Level, h.Number, h.HasNumber = readiness.Answered, m.level, number, m.level == ""
	return []message.Message{message.New("passage.conflict", message.Word("item", id), message.Inner("typed", typed),
		message.Inner("place", placeMessage(m.place)), message.Inner("measured", is))}
}

func levelMessage(level string) message.Message {
	if level == "yes" || level == "no" {
		return message.New("answer.yes-no", message.Word("answer", level))
	}
	return message.New("answer.level", message.Word("level", level))
}
