package simulation

import (
	"fmt"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/tablettest"
	"doorsill/internal/validation"
)

// TestFault48SomebodyInsideForgesASealedFile: whoever knows the ids can write
// entries in a name. None counts until its author confirms it, and then once.
func TestFault48SomebodyInsideForgesASealedFile(t *testing.T) {
	for name, c := range map[string]struct{ signed, keyless bool }{
		"unsigned":                           {},
		"signed with a key of their own":     {signed: true},
		"of a tablet that has no key":        {keyless: true},
		"of one that has no key, and signed": {signed: true, keyless: true},
	} {
		t.Run(name, func(t *testing.T) {
			w, marit, visit := calmWith(t, c.keyless)
			w.has.clones = true // a second hand writes under the tablet's name
			davit := w.tablets[1]
			w.through(marit)
			w.through(davit)
			file, line := w.forgedFile(marit, visit, 4, "2")
			if c.signed {
				file.Signature = tablettest.NewSigner("somebody inside").Sign(file.Statement())
			}
			for range 2 {
				w.bring(file)
			}
			if v := w.serverState(); v.lines[line] != 0 || v.quarantined[line] != 1 || len(w.standing(visit)) != 0 {
				t.Fatalf("%d times in the log, %d aside, %v stand", v.lines[line], v.quarantined[line], w.standing(visit))
			}
			waiting := w.unsignedOf(marit.disk.tablet)
			if err := davit.confirmed(waiting); err == nil {
				t.Fatal("a colleague confirmed it")
			}
			w.forged[line].confirmed = true
			w.net.forecast = []weather{loseAnswer}
			if err := marit.confirmed(waiting); err == nil {
				t.Fatal("the fault was not tried")
			}
			if err := marit.confirmed(waiting); err == nil {
				t.Error("it was confirmed twice")
			}
			w.bring(file)
			if v := w.serverState(); v.lines[line] != 1 || v.head != 4 {
				t.Errorf("confirmed, and %d times in the log of %d", v.lines[line], v.head)
			}
			w.through(marit)
			marit.write(model.KindVisitNoted, visit, model.VisitNoted{Fields: map[string]string{"note": "after it"}})
			if v := w.holds(t); v.head != 5 || len(marit.disk.refused) != 0 || len(w.standing(visit)) != 1 {
				t.Errorf("head %d, shown %v, %v stand", v.head, marit.disk.refused, w.standing(visit))
			}
		})
	}
}

// TestFault48TheTabletGoesOnBesideAForgedFile: what waits on the tablet under the
// same numbers counts as if the file had never come; confirmed after it, the
// forged entry is another device's.
func TestFault48TheTabletGoesOnBesideAForgedFile(t *testing.T) {
	w, marit, visit := calm(t)
	w.has.clones = true
	w.through(marit)
	file, line := w.forgedFile(marit, visit, 4, "2")
	w.bring(file)
	marit.write(model.KindAnswerGiven, visit, pelvis("0"))
	if waiting, head := w.through(marit); waiting != 0 || head != 4 || len(marit.disk.refused) != 0 {
		t.Errorf("waiting %d, head %d, shown %v", waiting, head, marit.disk.refused)
	}
	w.forged[line].confirmed = true
	w.must(marit.confirmed(w.unsignedOf(marit.disk.tablet)))
	if v := w.holds(t); v.lines[line] != 0 || fmt.Sprint(w.standing(visit)) != "[0]" {
		t.Errorf("%d times in the log, %v stand", v.lines[line], w.standing(visit))
	}
}

// TestFault48WhatWasConfirmedOutlivesARestore: what came in a file is the tablet's own
// from when it has read it, and comes again to a server restored from a copy of before.
// Until then only the file has it, which can be handed in again.
func TestFault48WhatWasConfirmedOutlivesARestore(t *testing.T) {
	for name, read := range map[string]bool{"the tablet has read it": true, "the tablet has not": false} {
		t.Run(name, func(t *testing.T) {
			w, marit, visit := calm(t)
			w.has.clones, w.has.restores = true, true
			davit := w.tablets[1]
			w.through(marit)
			w.server.backup()
			file, line := w.forgedFile(marit, visit, 4, "2")
			w.bring(file)
			w.forged[line].confirmed = true
			w.must(marit.confirmed(w.unsignedOf(marit.disk.tablet)))
			w.through(davit)
			if read {
				w.through(marit)
			}
			w.server.restore(w.server.backups[0])
			if head := w.server.head(); head != 3 {
				t.Fatalf("the fault was not tried: head %d", head)
			}
			w.through(marit)
			w.through(davit)
			if !read {
				w.bring(file)
				w.must(marit.confirmed(w.unsignedOf(marit.disk.tablet)))
				w.through(marit)
			}
			marit.write(model.KindVisitNoted, visit, model.VisitNoted{Fields: map[string]string{"note": "after it"}})
			if v := w.holds(t); v.head != 5 || v.lines[line] != 1 || fmt.Sprint(w.standing(visit)) != "[2]" {
				t.Errorf("head %d, %d times in the log, %v stand", v.head, v.lines[line], w.standing(visit))
			}
		})
	}
}

// TestFault49NameIsTakenWithAnotherKey: a device that has a copy of a tablet's rows
// and its person's session, but not its key, sends nothing in its name. It keeps
// what it has, and the honest tablet goes on.
func TestFault49NameIsTakenWithAnotherKey(t *testing.T) {
	for name, unsigned := range map[string]bool{"signed": false, "unsigned": true} {
		t.Run(name, func(t *testing.T) {
			w, marit, visit := calm(t)
			w.has.clones = true
			w.through(marit)
			other := w.takesNameOf(marit, unsigned)
			other.write(model.KindAnswerGiven, visit, pelvis("3"))
			want := map[bool]string{false: "signature", true: "unsigned"}[unsigned]
			if waiting, head := w.through(other); waiting != 1 || head != 3 || other.problem != "refused 403 "+want {
				t.Errorf("waiting %d, head %d, %q", waiting, head, other.problem)
			}
			if !w.registered(marit) {
				t.Error("the tablet's key was replaced")
			}
			marit.write(model.KindAnswerGiven, visit, pelvis("0"))
			if waiting, head := w.through(marit); waiting != 0 || head != 4 || marit.problem != "" {
				t.Errorf("waiting %d, head %d, %q", waiting, head, marit.problem)
			}
			w.holds(t)
			if got := fmt.Sprint(w.standing(visit)); got != "[0]" || other.waiting() != 1 {
				t.Errorf("%s stand, %d wait on the other device", got, other.waiting())
			}
		})
	}
}

// TestFault50RestoredServerHasForgottenTheKey: the copy was made before the key was
// registered. The tablet tells it again before it sends, and signs.
func TestFault50RestoredServerHasForgottenTheKey(t *testing.T) {
	w, marit, visit := calmWith(t, true)
	w.has.restores = true
	w.server.backup()
	marit.unsigned = false // the app is brought up to date
	w.through(marit)
	w.server.restore(w.server.backups[0])
	if w.registered(marit) {
		t.Fatal("the fault was not tried")
	}
	marit.write(model.KindAnswerGiven, visit, pelvis("0"))
	w.through(marit)
	if waiting, head := w.through(marit); waiting != 0 || head != 4 || !w.registered(marit) {
		t.Errorf("waiting %d, head %d, registered %v, %q", waiting, head, w.registered(marit), marit.problem)
	}
	body := marit.bytesOf(batch{from: 5})
	if _, _, err := marit.ask("POST", "/api/v1/events", "application/x-ndjson", body); err == nil || err.Error() != "refused 403 "+string(validation.CodeUnsigned) {
		t.Errorf("unsigned again: %v", err)
	}
	w.holds(t)
}
