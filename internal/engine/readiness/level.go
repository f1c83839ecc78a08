package readiness

import "doorsill/internal/message"

// level finds the highest level whose conditions, and those of every level
// below it, are met.
func (j *judge) level() {
	j.Level = Pause
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
	if j.Interim {
		j.Say = message.New("readiness.level-interim", level, message.Inner("runs", driven), next, why)
	} else {
		j.Say = message.New("readiness.level", level, next, why)
	}
}

func (j *judge) reached(level Level) bool {
	for i := range j.Gates {
		if j.Gates[i].Level == level && !j.Gates[i].Met {
			return false
		}
	}
	return true
}

// failed returns the first condition of the next level that is not met, or nil
// at the top.
func (j *judge) failed() *Gate {
	for i := range j.Gates {
		if j.Gates[i].Level == j.Level+1 && !j.Gates[i].Met {
			return &j.Gates[i]
		}
	}
	return nil
}
