package model

import (
	"strings"

	"doorsill/internal/validation"
)

// Check refuses a visit with a part that could not have been said: it holds what
// a result is made of, which is answers, readings, runs, setup, override, kit,
// needs, chair and places, to the checks of the event that says it. The rest is
// not looked at: it was checked when it was said, and a visit file may hold
// anything there. Whether the answers fit the checklist is for the checklist to
// say.
func (v *Visit) Check() *validation.Error {
	return validation.First(
		v.checkAnswers(),
		checkEach("readings", v.Readings, func(r *Reading) *validation.Error { return r.ReadingTaken.Check() }),
		checkEach("runs", v.Runs, func(r *Run) *validation.Error { return r.RunTimed.Check() }),
		v.checkChoices(),
		v.checkKit(),
		v.checkHome(),
	)
}

func (v *Visit) checkAnswers() *validation.Error {
	return checkEach("answers", v.Answers, func(a *Answer) *validation.Error {
		check := func(g *Given) *validation.Error {
			if g.Item != a.Item {
				return &validation.Error{Code: validation.CodeWrongType, Path: "item",
					Want: validation.Quote(a.Item) + " as in its answer", Got: validation.Quote(g.Item)}
			}
			return g.AnswerGiven.Check()
		}
		return validation.First(checkEach("heads", a.Heads, check), checkEach("others", a.Others, check))
	})
}

func (v *Visit) checkChoices() *validation.Error {
	if v.Setup != nil {
		if err := validation.First(v.Setup.SetupChosen.Check(), v.Setup.CheckNew()); err != nil {
			return err.Within("setup")
		}
	}
	if v.Override != nil {
		if err := v.Override.OverrideMade.Check(); err != nil {
			return err.Within("override")
		}
	}
	return nil
}

// checkKit takes a kit of any size, as a visit that was written by hand may have.
func (v *Visit) checkKit() *validation.Error {
	packed := KitPacked{Controls: v.Kit}
	err := validation.First(checkEach("controls", v.Kit, (*PackedControl).Check), packed.checkTogether())
	if err != nil {
		// The event calls "controls" what is the kit of a visit.
		err.Path = "kit" + strings.TrimPrefix(err.Path, "controls")
	}
	return err
}

func (v *Visit) checkHome() *validation.Error {
	if v.Needs != nil {
		if err := v.Needs.NeedsNoted.Check(); err != nil {
			return err.Within("needs")
		}
	}
	if v.Chair != nil {
		if err := v.Chair.ChairMeasured.Check(); err != nil {
			return err.Within("chair")
		}
	}
	seen := make(map[string]bool, len(v.Places))
	return checkEach("places", v.Places, func(p *Place) *validation.Error {
		if seen[p.Place] {
			return &validation.Error{Code: validation.CodeOutOfRange, Path: "place", Want: "each place once", Got: validation.Quote(p.Place) + " twice"}
		}
		seen[p.Place] = true
		return p.PlaceMeasured.Check()
	})
}
