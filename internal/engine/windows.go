package engine

import (
	"slices"

	"doorsill/internal/message"
	"doorsill/internal/model"
)

// Words for when forces were read.
const (
	rested = "rested"
	tired  = "tired"
)

// levelOfWindows adds the level to each window of a result. Tired it is the
// level of the visit, whose reserve is the tired one. Rested it is the level of
// the same visit with each tired force as strong as the rested ones of its
// direction, in as many readings as there were.
func (s *Scorer) levelOfWindows(result *model.Result, visit *model.Visit) error {
	if len(result.Windows) == 0 {
		return nil
	}
	fresh := *visit
	fresh.Readings = asRested(visit.Readings)
	again, err := s.score(&fresh)
	if err != nil {
		return err
	}
	for i := range result.Windows {
		w := &result.Windows[i]
		if w.Level = result.Level; w.State == rested {
			w.Level = again.Level
		}
		w.LevelMessage = message.New("engine.window-level", message.Word("state", w.State), message.Word("level", w.Level))
	}
	return nil
}

// asRested is the readings with each tired force in the place of the next rested
// one of its site, direction and support. One without any stays.
func asRested(readings []model.Reading) []model.Reading {
	out := slices.Clone(readings)
	next := map[forcePlace]int{}
	for i := range out {
		r := &out[i]
		if r.What != "force" || r.State != tired || r.Slip != "" {
			continue
		}
		place := placeOf(r)
		var fresh []*model.Reading
		for j := range readings {
			if f := &readings[j]; f.What == r.What && f.State == rested && f.Slip == "" && placeOf(f) == place {
				fresh = append(fresh, f)
			}
		}
		if len(fresh) > 0 {
			f := fresh[next[place]%len(fresh)]
			r.Value, r.Unit = f.Value, f.Unit
			next[place]++
		}
	}
	return out
}

// forcePlace is where and how a force was read.
type forcePlace struct {
	site, direction string
	supported       bool
}

func placeOf(r *model.Reading) forcePlace { return forcePlace{r.Site, r.Direction, r.Supported} }
