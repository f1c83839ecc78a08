package checklist_test

import (
	"errors"
	"math"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/record"
)

func number(n float64) *float64 { return &n }

func TestAnswersThatFitAreTaken(t *testing.T) {
	for _, answer := range []record.AnswerGiven{
		{Item: "ind-door", State: record.StateAnswered, Level: "4"},
		{Item: "pos-trunk", State: record.StateAnswered, Level: "0", Note: "leaned left"},
		{Item: "mnt-stop", State: record.StateAnswered, Level: "no"},
		{Item: "hom-ramp", State: record.StateAnswered, Number: number(11.5), Facts: map[string]bool{"ramp-over-limit": false}},
		{Item: "hom-door", State: record.StateAnswered, Number: number(-20)},
		{Item: "eqp-battery", State: record.StateAnswered, Number: number(100)},
		{Item: "ctl-choose", State: record.StateAnswered, Number: number(12)},
		{Item: "per-sides", State: record.StateAnswered, Left: number(5), Right: number(0)},
		{Item: "mnt-power", State: record.StateAnswered, Level: "1"},
		{Item: "mnt-swforce", State: record.StateAnswered, Facts: map[string]bool{"only-stop": true}},
		{Item: "mnt-swforce", State: record.StateNotTested, Facts: map[string]bool{"only-stop": false}},
		{Item: "mnt-clear", State: record.StateNotTested, Facts: map[string]bool{"mount-before-face": true}},
		{Item: "mnt-swforce", State: record.StateNotApplicable, Reason: "no switch"},
		{Item: "out-rough", State: record.StateNotApplicable, Reason: "stays indoors"},
		{Item: "pos-trunk", State: record.StateNotTested},
		{Item: "ctl-reserve", State: record.StateNotTested},
	} {
		if err := checklist.Standard().CheckAnswer(answer); err != nil {
			t.Errorf("%+v: %v", answer, err)
		}
	}
}

func TestAnswersThatDoNotFitAreRefusedByField(t *testing.T) {
	for _, c := range []struct {
		answer     record.AnswerGiven
		code, want string
	}{
		{record.AnswerGiven{Item: "pos-tail", State: record.StateAnswered, Level: "3"}, record.CodeUnknownItem,
			"body.item: expected an item of checklist standard 2026.1, got “pos-tail”"},
		{record.AnswerGiven{Item: "pos-trunk", State: "maybe"}, record.CodeWrongType,
			"body.state: expected answered, not-applicable or not-tested, got “maybe”"},
		{record.AnswerGiven{Item: "pos-trunk", State: record.StateNotApplicable, Reason: "none"}, record.CodeWrongType,
			"body.state: expected answered or not-tested, as pos-trunk always applies, got “not-applicable”"},
		{record.AnswerGiven{Item: "pos-limb", State: record.StateNotApplicable, Reason: "  "}, record.CodeRequired,
			"body.reason: expected why the item does not apply, got nothing"},
		{record.AnswerGiven{Item: "pos-limb", State: record.StateNotApplicable, Reason: "none", Level: "3"}, record.CodeWrongType,
			"body.level: expected no answer when the item is not applicable, got “3”"},
		{record.AnswerGiven{Item: "pos-limb", State: record.StateNotTested, Number: number(1)}, record.CodeWrongType,
			"body.number: expected no answer when the item is not tested, got 1"},
		{record.AnswerGiven{Item: "mnt-clear", State: record.StateNotApplicable, Reason: "none", Facts: map[string]bool{"mount-before-face": true}},
			record.CodeWrongType, "body.facts: expected no answer when the item is not applicable, got facts"},
		{record.AnswerGiven{Item: "mnt-power", State: record.StateNotTested, Facts: map[string]bool{"only-stop": true}},
			record.CodeWrongType, "body.facts: expected facts that are asked beside mnt-power, got “only-stop”"},
		{record.AnswerGiven{Item: "pos-trunk", State: record.StateAnswered}, record.CodeRequired,
			"body.level: expected 3, 2, 1 or 0, got nothing"},
		{record.AnswerGiven{Item: "pos-trunk", State: record.StateAnswered, Level: "4"}, record.CodeOutOfRange,
			"body.level: expected 3, 2, 1 or 0, got “4”"},
		{record.AnswerGiven{Item: "mnt-stop", State: record.StateAnswered, Level: "1"}, record.CodeOutOfRange,
			"body.level: expected yes or no, got “1”"},
		{record.AnswerGiven{Item: "ind-door", State: record.StateAnswered, Level: "4", Number: number(4)}, record.CodeWrongType,
			"body.number: expected no number in a help item, got 4"},
		{record.AnswerGiven{Item: "hom-ramp", State: record.StateAnswered, Number: number(120)}, record.CodeOutOfRange,
			"body.number: expected a number from 2 to 50, got 120"},
		{record.AnswerGiven{Item: "hom-ramp", State: record.StateAnswered, Number: number(math.NaN())}, record.CodeOutOfRange,
			"body.number: expected a number from 2 to 50, got NaN"},
		{record.AnswerGiven{Item: "hom-ramp", State: record.StateAnswered}, record.CodeRequired,
			"body.number: expected a number from 2 to 50, got nothing"},
		{record.AnswerGiven{Item: "hom-ramp", State: record.StateAnswered, Level: "2"}, record.CodeWrongType,
			"body.level: expected no level in a number item, got “2”"},
		{record.AnswerGiven{Item: "hom-ramp", State: record.StateAnswered, Number: number(12), Facts: map[string]bool{"only-stop": true}},
			record.CodeWrongType, "body.facts: expected facts that are asked beside hom-ramp, got “only-stop”"},
		{record.AnswerGiven{Item: "saf-stopcall", State: record.StateAnswered, Number: number(6)}, record.CodeOutOfRange,
			"body.number: expected a whole number from 0 to 5, got 6"},
		{record.AnswerGiven{Item: "saf-stopcall", State: record.StateAnswered, Number: number(2.5)}, record.CodeOutOfRange,
			"body.number: expected a whole number from 0 to 5, got 2.5"},
		{record.AnswerGiven{Item: "saf-stopcall", State: record.StateAnswered, Left: number(2)}, record.CodeWrongType,
			"body.left: expected one number, as saf-stopcall is not asked for each side, got left or right"},
		{record.AnswerGiven{Item: "per-sides", State: record.StateAnswered, Number: number(9)}, record.CodeWrongType,
			"body.number: expected left and right, as per-sides is asked for each side, got 9"},
		{record.AnswerGiven{Item: "per-sides", State: record.StateAnswered, Left: number(5)}, record.CodeRequired,
			"body.right: expected a whole number from 0 to 5, got nothing"},
		{record.AnswerGiven{Item: "per-sides", State: record.StateAnswered, Left: number(5), Right: number(6)}, record.CodeOutOfRange,
			"body.right: expected a whole number from 0 to 5, got 6"},
		{record.AnswerGiven{Item: "ctl-reserve", State: record.StateAnswered, Number: number(3)}, record.CodeWrongType,
			"body.number: expected no typed value as ctl-reserve is worked out from what was measured, got 3"},
		{record.AnswerGiven{Item: "mnt-swforce", State: record.StateAnswered}, record.CodeWrongType,
			"body.state: expected not-applicable, not-tested or answered side questions, as mnt-swforce is worked out from what was measured, got “answered”"},
	} {
		err := checklist.Standard().CheckAnswer(c.answer)
		var refusal *record.Refusal
		if !errors.As(err, &refusal) {
			t.Errorf("%+v: got %v, want %s", c.answer, err, c.want)
			continue
		}
		if refusal.Code != c.code || refusal.Error() != c.want {
			t.Errorf("got  %s: %s\nwant %s: %s", refusal.Code, refusal.Error(), c.code, c.want)
		}
	}
}
