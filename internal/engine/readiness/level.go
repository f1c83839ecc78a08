package readiness

import "doorsill/internal/message"

// level finds the highest level whose conditions, and those of every level
// below it, are met. Where only something that must be known before moving is
// missing there is no level; anything else that stands against practice is a
// pause.
func (j *judge) level() {
	j.Level = j.start()
	for l := Practise; l < levels; l++ {
		if !j.reached(l) {
			break
		}
		j.Level = l
	}
	runs, driven := j.runs()
	j.Interim = j.Level >= HomeGround && !runs
	level, failed := message.Word("level", j.Level.String()), j.failed()
	if failed == nil {
		j.Say = message.New("readiness.level-top", level)
		return
	}
	next, why := message.Word("next", failed.Level.String()), message.Inner("why", failed.Say)
	switch {
	case j.Level == None:
		j.Say = message.New("readiness.level-none", level, why)
	case j.Interim:
		j.Say = message.New("readiness.level-interim", level, message.Inner("runs", driven), next, why)
	default:
		j.Say = message.New("readiness.level", level, next, why)
	}
}

// start is the level where practice is not reached.
func (j *judge) start() Level {
	for i := range j.Gates {
		if g := &j.Gates[i]; g.Level == Practise && !g.Met && !g.open {
			return Pause
		}
	}
	return None
}

// next is the level above the one that was found.
func (j *judge) next() Level { return max(j.Level+1, Practise) }

func (j *judge) reached(level Level) bool {
	for i := range j.Gates {
		if j.Gates[i].Level == level && !j.Gates[i].Met {
			return false
		}
	}
	return true
}

// failed returns the condition of the next level that is not met and decides, or
// nil at the top: the first, but for a pause the first that forbids.
func (j *judge) failed() *Gate {
	for i := range j.Gates {
		g := &j.Gates[i]
		if g.Level == j.next() && !g.Met && (j.Level != Pause || !g.open) {
			return g
		}
	}
	return nil
}
