package checklist_test

import (
	"math"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

func number(n float64) *float64 { return &n }

func TestAnswersThatFitAreTaken(t *testing.T) {
	for _, answer := range []model.AnswerGiven{
		{Item: "ind-door", State: model.StateAnswered, Level: "4"},
		{Item: "pos-trunk", State: model.StateAnswered, Level: "0", Note: "leaned left"},
		{Item: "mnt-stop", State: model.StateAnswered, Level: "no"},
		{Item: "hom-ramp", State: model.StateAnswered, Number: number(11.5), Facts: map[string]bool{"ramp-over-limit": false}},
		{Item: "hom-door", State: model.StateAnswered, Number: number(-20)},
		{Item: "eqp-battery", State: model.StateAnswered, Number: number(100)},
		{Item: "ctl-choose", State: model.StateAnswered, Number: number(12)},
		{Item: "per-sides", State: model.StateAnswered, Left: number(5), Right: number(0)},
		{Item: "mnt-power", State: model.StateAnswered, Level: "1"},
		{Item: "mnt-swforce", State: model.StateAnswered, Facts: map[string]bool{"only-stop": true}},
		{Item: "mnt-swforce", State: model.StateNotTested, Facts: map[string]bool{"only-stop": false}},
		{Item: "mnt-clear", State: model.StateNotTested, Facts: map[string]bool{"mount-before-face": true}},
		{Item: "mnt-swforce", State: model.StateNotApplicable, Reason: "no switch"},
		{Item: "out-rough", State: model.StateNotApplicable, Reason: "stays indoors"},
		{Item: "hnd-sheets", State: model.StateAnswered, Level: "yes", Method: model.MethodAllFine},
		{Item: "eqp-charge", State: model.StateAnswered, Level: "3", Method: model.MethodAllFine},
		{Item: "pos-trunk", State: model.StateAnswered, Level: "1", Method: model.MethodAsLastVisit},
		{Item: "pos-trunk", State: model.StateNotTested},
		{Item: "ctl-reserve", State: model.StateNotTested},
	} {
		if err := authoring.Standard().CheckAnswer(answer); err != nil {
			t.Errorf("%+v: %v", answer, err)
		}
	}
}

func TestAnswersThatDoNotFitAreRefusedByField(t *testing.T) {
	for _, c := range []struct {
		answer     model.AnswerGiven
		code, want string
	}{
		{model.AnswerGiven{Item: "pos-tail", State: model.StateAnswered, Level: "3"}, validation.CodeUnknownItem,
			"item: expected an item of checklist standard " + authoring.Standard().Version + ", got “pos-tail”"},
		{model.AnswerGiven{Item: "pos-trunk", State: model.StateAnswered, Level: "3", Method: model.MethodAllFine}, validation.CodeWrongType,
			"method: expected an answer to pos-trunk by itself, as it can raise a STOP or carry a ceiling, got “all-fine”"},
		{model.AnswerGiven{Item: "ctl-choose", State: model.StateAnswered, Number: number(12), Method: model.MethodAllFine}, validation.CodeWrongType,
			"method: expected an answer to ctl-choose by itself, as it can raise a STOP or carry a ceiling, got “all-fine”"},
		{model.AnswerGiven{Item: "hnd-sheets", State: model.StateAnswered, Level: "no", Method: model.MethodAllFine}, validation.CodeWrongType,
			"method: expected nothing unless the answer is yes, got “all-fine”"},
		{model.AnswerGiven{Item: "hnd-clean", State: model.StateNotApplicable, Reason: "none", Method: model.MethodAllFine}, validation.CodeWrongType,
			"method: expected nothing unless the answer is yes, got “all-fine”"},
		{model.AnswerGiven{Item: "pos-trunk", State: "maybe"}, validation.CodeWrongType,
			"state: expected answered, not-applicable or not-tested, got “maybe”"},
		{model.AnswerGiven{Item: "pos-trunk", State: model.StateNotApplicable, Reason: "none"}, validation.CodeWrongType,
			"state: expected answered or not-tested, as pos-trunk always applies, got “not-applicable”"},
		{model.AnswerGiven{Item: "pos-limb", State: model.StateNotApplicable, Reason: "  "}, validation.CodeRequired,
			"reason: expected why the item does not apply, got nothing"},
		{model.AnswerGiven{Item: "pos-limb", State: model.StateNotApplicable, Reason: "none", Level: "3"}, validation.CodeWrongType,
			"level: expected no answer when the item is not applicable, got “3”"},
		{model.AnswerGiven{Item: "pos-limb", State: model.StateNotTested, Number: number(1)}, validation.CodeWrongType,
			"number: expected no answer when the item is not tested, got 1"},
		{model.AnswerGiven{Item: "mnt-clear", State: model.StateNotApplicable, Reason: "none", Facts: map[string]bool{"mount-before-face": true}},
			validation.CodeWrongType, "facts: expected no answer when the item is not applicable, got facts"},
		{model.AnswerGiven{Item: "mnt-power", State: model.StateNotTested, Facts: map[string]bool{"only-stop": true}},
			validation.CodeWrongType, "facts: expected facts that are asked beside mnt-power, got “only-stop”"},
		{model.AnswerGiven{Item: "pos-trunk", State: model.StateAnswered}, validation.CodeRequired,
			"level: expected 3, 2, 1 or 0, got nothing"},
		{model.AnswerGiven{Item: "pos-trunk", State: model.StateAnswered, Level: "4"}, validation.CodeOutOfRange,
			"level: expected 3, 2, 1 or 0, got “4”"},
		{model.AnswerGiven{Item: "mnt-stop", State: model.StateAnswered, Level: "1"}, validation.CodeOutOfRange,
			"level: expected yes or no, got “1”"},
		{model.AnswerGiven{Item: "ind-door", State: model.StateAnswered, Level: "4", Number: number(4)}, validation.CodeWrongType,
			"number: expected no number in a help item, got 4"},
		{model.AnswerGiven{Item: "hom-ramp", State: model.StateAnswered, Number: number(120)}, validation.CodeOutOfRange,
			"number: expected a number from 2 to 50, got 120"},
		{model.AnswerGiven{Item: "hom-ramp", State: model.StateAnswered, Number: number(math.NaN())}, validation.CodeOutOfRange,
			"number: expected a number from 2 to 50, got NaN"},
		{model.AnswerGiven{Item: "hom-ramp", State: model.StateAnswered}, validation.CodeRequired,
			"number: expected a number from 2 to 50, got nothing"},
		{model.AnswerGiven{Item: "hom-ramp", State: model.StateAnswered, Level: "2"}, validation.CodeWrongType,
			"level: expected no level in a number item, got “2”"},
		{model.AnswerGiven{Item: "hom-ramp", State: model.StateAnswered, Number: number(12), Facts: map[string]bool{"only-stop": true}},
			validation.CodeWrongType, "facts: expected facts that are asked beside hom-ramp, got “only-stop”"},
		{model.AnswerGiven{Item: "saf-stopcall", State: model.StateAnswered, Number: number(6)}, validation.CodeOutOfRange,
			"number: expected a whole number from 0 to 5, got 6"},
		{model.AnswerGiven{Item: "saf-stopcall", State: model.StateAnswered, Number: number(2.5)}, validation.CodeOutOfRange,
			"number: expected a whole number from 0 to 5, got 2.5"},
		{model.AnswerGiven{Item: "saf-stopcall", State: model.StateAnswered, Left: number(2)}, validation.CodeWrongType,
			"left: expected one number, as saf-stopcall is not asked for each side, got left or right"},
		{model.AnswerGiven{Item: "per-sides", State: model.StateAnswered, Number: number(9)}, validation.CodeWrongType,
			"number: expected left and right, as per-sides is asked for each side, got 9"},
		{model.AnswerGiven{Item: "per-sides", State: model.StateAnswered, Left: number(5)}, validation.CodeRequired,
			"right: expected a whole number from 0 to 5, got nothing"},
		{model.AnswerGiven{Item: "per-sides", State: model.StateAnswered, Left: number(5), Right: number(6)}, validation.CodeOutOfRange,
			"right: expected a whole number from 0 to 5, got 6"},
		{model.AnswerGiven{Item: "ctl-reserve", State: model.StateAnswered, Number: number(3)}, validation.CodeWrongType,
			"number: expected no typed value as ctl-reserve is worked out from what was measured, got 3"},
		{model.AnswerGiven{Item: "mnt-swforce", State: model.StateAnswered}, validation.CodeWrongType,
			"state: expected not-applicable, not-tested or answered side questions, as mnt-swforce is worked out from what was measured, got “answered”"},
	} {
		err := authoring.Standard().CheckAnswer(c.answer)
		if err == nil {
			t.Errorf("%+v was taken, want %s", c.answer, c.want)
			continue
		}
		if err.Code != c.code || err.Error() != c.want {
			t.Errorf("got  %s: %s\nwant %s: %s", err.Code, err.Error(), c.code, c.want)
		}
	}
}

// Harmless items stand alone: a condition of any kind takes an item off.
func TestOnlyWhatCanHoldNothingIsHarmless(t *testing.T) {
	for id, want := range map[string]bool{"hnd-sheets": true, "eqp-charge": true, "pos-trunk": false, "eqp-vehicle": false,
		"hnd-limits": false, "ctl-reserve": false, "hom-door": false, "saf-hazard": false} {
		if got := authoring.Standard().Item(id).Harmless(); got != want {
			t.Errorf("%s: %v, want %v", id, got, want)
		}
	}
	item := *authoring.Standard().Item("hnd-sheets")
	if item.BeforeMoving = true; item.Harmless() {
		t.Error("an item that is asked before moving is harmless")
	}
}
