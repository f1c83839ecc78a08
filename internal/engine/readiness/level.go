package readiness

import "doorsill/internal/engine/say"

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
	interim, not := "", ""
	if j.Interim {
		interim = " Interim: " + driven
	}
	if failed := j.failed(); failed != nil {
		not = say.Line(" Not {}, because: {}", say.Words{failed.Level.Name(), failed.Say})
	}
	j.Say = say.Line("{}: {}{}{}", say.Words{names[j.Level].name, names[j.Level].meaning, interim, not})
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
