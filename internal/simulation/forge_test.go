package simulation

import (
	"doorsill/internal/model"
)

// forge has a client that is not ours answer, and say that it has seen what nobody
// can have: more than there is of this log, or whatever there is of another one.
// Of what is in the log, or was in the copy, it may say what it likes.
func forge(w *world, t *tablet) {
	_, visits := t.subjects()
	if len(visits) == 0 {
		return
	}
	v, lie := w.serverState(), w.rng.IntN(4)
	reach := int64(0)
	t.lie = func(e *model.Event) {
		switch lie {
		case 0:
			e.Log, e.Seen, reach = v.log, 1<<40, v.head
		case 1:
			e.Log, e.Seen = "log-of-nobody", int64(1+w.rng.IntN(20))
		case 2:
			e.Log, e.Seen = "", 1<<40
		default:
			if len(v.logs.Earlier) > 0 {
				earlier := v.logs.Earlier[w.rng.IntN(len(v.logs.Earlier))]
				e.Log, e.Seen, reach = earlier.Log, 1<<40, earlier.Until
			}
		}
	}
	said := t.write(model.KindAnswerGiven, pick(w, visits), t.answer())
	t.lie = nil
	if said == nil {
		return
	}
	if lie == 0 {
		said.claims = v.log
	}
	for _, other := range w.said {
		for line := range other.lines {
			if e, there := v.placed[refIn(line)]; there && e.Pos <= reach && string(e.Raw) == line {
				said.knew[other.id] = true
			}
		}
	}
}
