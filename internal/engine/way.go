package engine

import (
	"slices"
	"strconv"

	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// ways gives how far the chair goes before the hand lets go, at each speed as it
// was last set. A helper's speed is not the driver's.
func (b *builder) ways(v *visit) {
	for i := range v.settings {
		set := &v.settings[i]
		later := v.settings[i+1:]
		if !isSpeed(set.Key) || slices.ContainsFunc(later, func(s model.Setting) bool { return s.Key == set.Key && s.Profile == set.Profile }) {
			continue
		}
		way := model.SpeedWay{Setting: set.Ref, Key: set.Key, Profile: set.Profile}
		b.way(&way, set)
		b.out.Ways = append(b.out.Ways, way)
	}
}

func isSpeed(key string) bool { return key == "fwd_speed_max" || key == "rev_speed_max" }

func (b *builder) way(way *model.SpeedWay, set *model.Setting) {
	speed, err := strconv.ParseFloat(set.After, 64)
	release := &b.analysis.Release
	switch {
	case err != nil || set.Unit != "km/h":
		way.Message = message.New("passage.way-needs-speed", message.Word("value", set.After), message.Word("unit", set.Unit))
		return
	case b.analysis.Missed > 0:
		way.Message = message.New("passage.way-without-release")
		return
	case !release.Has():
		way.Message = message.New("passage.way-needs-release")
		return
	}
	before, err := passage.WayBeforeRelease(speed, release.Value.Float())
	if err != nil {
		way.Message = passage.Refused(err)
		return
	}
	way.Metres, way.Basis, way.Message = rounded(provenance.Ceil(before.Metres, 1), 1), "way-before-release", before.Say
	b.provenance(way.Basis, before.Provenance)
}
