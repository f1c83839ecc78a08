package simulation

import (
	"slices"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/validation"
)

// pelvis is an answer to the item that these tests are about.
func pelvis(level string) model.AnswerGiven {
	return model.AnswerGiven{Item: "pos-pelvis", State: model.StateAnswered, Level: level}
}

// standing are the levels that stand for that item on the server.
func (w *world) standing(visit string) (levels []string) {
	w.t.Helper()
	folded, err := record.FoldVisit(w.stored(visit), w.serverState().logs)
	w.must(err)
	for _, answer := range folded.Answers {
		for _, head := range answer.Heads {
			if answer.Item == "pos-pelvis" {
				levels = append(levels, head.Level)
			}
		}
	}
	slices.Sort(levels)
	return levels
}

// parted is a calm world in which Marit and Davit have a visit, of which there is a
// backup, and Lena has said much since, which Marit has pulled and Davit has not.
func parted(t *testing.T) (w *world, marit, davit *tablet, visit string) {
	w, marit, visit = calm(t)
	w.has.restores = true
	davit, lena := w.tablets[1], w.tablets[2]
	for _, one := range []*tablet{marit, davit, lena} {
		w.through(one)
	}
	w.server.backup()
	for range 9 {
		lena.write(model.KindVisitNoted, visit, model.VisitNoted{Fields: map[string]string{"note": lena.words("much")}})
	}
	w.through(lena)
	w.through(marit)
	return w, marit, davit, visit
}

// TestFault45StaleSeenAfterARestore: what Marit had seen of the log that is no more
// does not cover what Davit says in the new one, whichever app she has.
func TestFault45StaleSeenAfterARestore(t *testing.T) {
	for name, old := range map[string]bool{"the present app": false, "the app of before": true} {
		w, marit, davit, visit := parted(t)
		marit.old = old
		marit.write(model.KindAnswerGiven, visit, pelvis("2"))
		davit.write(model.KindAnswerGiven, visit, pelvis("0"))
		w.server.restore(w.server.backups[0])
		w.through(davit)
		if seen, head := marit.disk.cursors[north].after, w.server.head(); seen <= head {
			t.Fatalf("the fault was not tried: seen %d, head %d", seen, head)
		}
		w.through(marit)
		if got := w.standing(visit); !slices.Contains(got, "0") || !slices.Contains(got, "2") {
			t.Errorf("%s: %v stand", name, got)
		}
		w.holds(t)
	}
}

// TestFault45WhatWasReplacedStaysReplaced: Marit answers anew what was in the copy,
// and had seen it. Of an app that does not say which log that was in, nobody knows.
func TestFault45WhatWasReplacedStaysReplaced(t *testing.T) {
	for old, want := range map[bool][]string{false: {"2"}, true: {"1", "2"}} {
		w, marit, visit := calm(t)
		w.has.restores = true
		davit, lena := w.tablets[1], w.tablets[2]
		w.through(marit)
		w.through(davit)
		davit.write(model.KindAnswerGiven, visit, pelvis("1"))
		w.through(davit)
		w.through(marit)
		w.server.backup()
		lena.openClient()
		w.through(lena)
		w.through(marit)
		marit.old = old
		marit.write(model.KindAnswerGiven, visit, pelvis("2"))
		w.server.restore(w.server.backups[0])
		w.through(marit)
		if got := w.standing(visit); !slices.Equal(got, want) {
			t.Errorf("with the app of before %v: %v stand, want %v", old, got, want)
		}
		w.holds(t)
	}
}

// TestFault46ForgedSeen: nobody has seen more than there is. Of this log it is set
// aside and shown, of another one it counts as nothing.
func TestFault46ForgedSeen(t *testing.T) {
	for _, c := range []struct {
		name string
		lie  func(w *world, e *model.Event)
		code string
	}{
		{"more than there is of this log", func(w *world, e *model.Event) { e.Log, e.Seen = w.server.logID(), w.server.head()+1 }, validation.CodeAhead},
		{"of a log of nobody", func(_ *world, e *model.Event) { e.Log, e.Seen = "log-of-nobody", 1<<40 }, ""},
		{"of a log that it does not name", func(_ *world, e *model.Event) { e.Log, e.Seen = "", 1<<40 }, ""},
	} {
		w, marit, visit := calm(t)
		davit := w.tablets[1]
		w.through(marit)
		w.through(davit)
		davit.write(model.KindAnswerGiven, visit, pelvis("0"))
		w.through(davit)
		marit.lie = func(e *model.Event) { c.lie(w, e) }
		marit.write(model.KindAnswerGiven, visit, pelvis("2"))
		marit.lie = nil
		w.through(marit)
		if got := w.standing(visit); !slices.Contains(got, "0") || slices.Contains(got, "2") == (c.code != "") {
			t.Errorf("%s: %v stand", c.name, got)
		}
		switch shown := marit.disk.refused; {
		case c.code == "" && len(shown) > 0, c.code != "" && (len(shown) != 1 || shown[0].code != c.code):
			t.Errorf("%s: shown is %v, want %q", c.name, shown, c.code)
		}
		w.holds(t)
	}
}

// TestFault47RestoredBetweenSeeingAndAnswering: Marit saw Davit's answer, which the
// copy lacks, and replaced it. Where his comes back first it yields, as she meant;
// where hers comes first, his stands beside it until somebody chooses.
func TestFault47RestoredBetweenSeeingAndAnswering(t *testing.T) {
	for name, want := range map[string][]string{"his first": {"2"}, "hers first": {"0", "2"}} {
		w, marit, davit, visit := parted(t)
		w.through(davit)
		davit.write(model.KindAnswerGiven, visit, pelvis("0"))
		w.through(davit)
		w.through(marit)
		marit.write(model.KindAnswerGiven, visit, pelvis("2"))
		w.server.restore(w.server.backups[0])
		order := []*tablet{davit, marit}
		if name == "hers first" {
			order = []*tablet{marit, davit}
		}
		for _, one := range order {
			w.through(one)
		}
		if got := w.standing(visit); !slices.Equal(got, want) {
			t.Errorf("%s: %v stand, want %v", name, got, want)
		}
		w.holds(t)
	}
}
