package readiness

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
	runs, say := j.runs()
	j.Interim = j.Level >= HomeGround && !runs
	j.Say = j.Level.Name() + ": " + j.Level.meaning()
	if j.Interim {
		j.Say += " Interim: " + say
	}
	if failed := j.failed(); failed != nil {
		j.Say += " Not " + failed.Level.Name() + ", because: " + failed.Say
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
