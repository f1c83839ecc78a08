package checklist

import (
	"math"
	"slices"
	"strings"

	"doorsill/internal/model"
	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// CheckAnswer says whether an answer fits its item, on the server and on the
// tablet alike. The error names the field of the answer and what was expected
// there: an item that the checklist has, a state that the item allows, a level
// of its type, a finite number within its limits, whole counts, and facts that
// are asked beside it. A computed item takes no typed value; it can be not
// applicable. Side questions can be answered while the item itself is not
// tested, or is computed.
func (d *Definition) CheckAnswer(answer model.AnswerGiven) *validation.Error {
	item := d.Item(answer.Item)
	if item == nil {
		return refuse(validation.CodeUnknownItem, "item", "an item of checklist "+d.ID+" "+d.Version, Quote(answer.Item))
	}
	return item.check(answer)
}

func refuse(code, field, want, got string) *validation.Error {
	return &validation.Error{Code: code, Path: field, Want: want, Got: got}
}

func (i *Item) check(answer model.AnswerGiven) *validation.Error {
	for _, fact := range strictjson.SortedKeys(answer.Facts) {
		if !slices.ContainsFunc(i.Asks, func(a Ask) bool { return a.Fact == fact }) {
			return refuse(validation.CodeWrongType, "facts", "facts that are asked beside "+i.ID, Quote(fact))
		}
	}
	if answer.Method == model.MethodAllFine {
		if err := i.checkAllFine(answer); err != nil {
			return err
		}
	}
	switch answer.State {
	case model.StateAnswered:
		return i.checkAnswered(answer)
	case model.StateNotApplicable:
		if !i.NA {
			return refuse(validation.CodeWrongType, "state", "answered or not-tested, as "+i.ID+" always applies", Quote(answer.State))
		}
		if strings.TrimSpace(answer.Reason) == "" {
			return refuse(validation.CodeRequired, "reason", "why the item does not apply", "nothing")
		}
		return empty(answer, "answer", "when the item is not applicable")
	case model.StateNotTested:
		answer.Facts = nil
		return empty(answer, "answer", "when the item is not tested")
	}
	return refuse(validation.CodeWrongType, "state", "answered, not-applicable or not-tested", Quote(answer.State))
}

// Harmless reports whether no answer to the item can raise a STOP or carry a
// ceiling, and nobody waits for it before moving. Only such items can be answered
// together, by "all of these are fine".
func (i *Item) Harmless() bool {
	return i.From == "" && !i.BeforeMoving && len(i.Effects) == 0 && i.Type != TypeNumber && i.Type != TypeCount
}

// checkAllFine refuses an answer given together with others to an item that must
// be looked at by itself, and one that is not the best.
func (i *Item) checkAllFine(answer model.AnswerGiven) *validation.Error {
	if !i.Harmless() {
		return refuse(validation.CodeWrongType, "method", "an answer to "+i.ID+" by itself, as it can raise a STOP or carry a ceiling", Quote(answer.Method))
	}
	if best := Levels(i.Type)[0]; answer.State != model.StateAnswered || answer.Level != best {
		return refuse(validation.CodeWrongType, "method", "nothing unless the answer is "+best, Quote(answer.Method))
	}
	return nil
}

func (i *Item) checkAnswered(answer model.AnswerGiven) *validation.Error {
	switch {
	case i.From != "":
		return i.checkComputed(answer)
	case i.Type == TypeNumber || i.Type == TypeCount:
		return i.checkNumbers(answer)
	}
	levels := Levels(i.Type)
	if answer.Level == "" {
		return refuse(validation.CodeRequired, "level", validation.Either(levels), "nothing")
	}
	if !slices.Contains(levels, answer.Level) {
		return refuse(validation.CodeOutOfRange, "level", validation.Either(levels), Quote(answer.Level))
	}
	answer.Level, answer.Facts = "", nil
	return empty(answer, "number", "in a "+i.Type+" item")
}

func (i *Item) checkComputed(answer model.AnswerGiven) *validation.Error {
	facts := answer.Facts
	answer.Facts = nil
	if r := empty(answer, "typed value", "as "+i.ID+" is worked out from what was measured"); r != nil {
		return r
	}
	if len(facts) == 0 {
		return refuse(validation.CodeWrongType, "state",
			"not-applicable, not-tested or answered side questions, as "+i.ID+" is worked out from what was measured", Quote(answer.State))
	}
	return nil
}

func (i *Item) checkNumbers(answer model.AnswerGiven) *validation.Error {
	if answer.Level != "" {
		return refuse(validation.CodeWrongType, "level", "no level in a "+i.Type+" item", Quote(answer.Level))
	}
	if !i.Sides {
		if answer.Left != nil || answer.Right != nil {
			return refuse(validation.CodeWrongType, "left", "one number, as "+i.ID+" is not asked for each side", "left or right")
		}
		return i.checkNumber("number", answer.Number)
	}
	if answer.Number != nil {
		return refuse(validation.CodeWrongType, "number", "left and right, as "+i.ID+" is asked for each side", validation.Number(*answer.Number))
	}
	if r := i.checkNumber("left", answer.Left); r != nil {
		return r
	}
	return i.checkNumber("right", answer.Right)
}

func (i *Item) checkNumber(field string, number *float64) *validation.Error {
	if number == nil {
		return refuse(validation.CodeRequired, field, i.wantedNumber(), "nothing")
	}
	n := *number
	low, high := i.Range()
	if math.IsNaN(n) || n < low || n > high || i.Type == TypeCount && n != math.Trunc(n) {
		return refuse(validation.CodeOutOfRange, field, i.wantedNumber(), validation.Number(n))
	}
	return nil
}

func (i *Item) wantedNumber() string {
	low, high := i.Range()
	kind := "a number"
	if i.Type == TypeCount {
		kind = "a whole number"
	}
	return kind + " from " + validation.Number(low) + " to " + validation.Number(high)
}

// MaxNumber bounds every number of a definition and of an answer, either way.
const MaxNumber = 1e6

// Range is what a typed number can be, both ends included, in the item's unit;
// of one side when the item is asked for left and right.
func (i *Item) Range() (low, high float64) {
	low, high = -MaxNumber, MaxNumber
	if i.Min != nil {
		low = *i.Min
	}
	if i.Max != nil {
		high = *i.Max
	}
	if i.Type != TypeCount {
		return low, high
	}
	if i.Of > 0 {
		high = float64(i.Of)
	}
	if i.Sides {
		high /= 2
	}
	return 0, high
}

// empty refuses the first value that the answer holds.
func empty(answer model.AnswerGiven, what, reason string) *validation.Error {
	refuse := func(field, got string) *validation.Error {
		return refuse(validation.CodeWrongType, field, "no "+what+" "+reason, got)
	}
	if answer.Level != "" {
		return refuse("level", Quote(answer.Level))
	}
	for _, each := range []struct {
		field  string
		number *float64
	}{{"number", answer.Number}, {"left", answer.Left}, {"right", answer.Right}} {
		if each.number != nil {
			return refuse(each.field, validation.Number(*each.number))
		}
	}
	if len(answer.Facts) > 0 {
		return refuse("facts", "facts")
	}
	return nil
}

// Quote puts what somebody wrote in quotation marks, shortened and without
// control characters, so that it can stand in a sentence of one line.
func Quote(text string) string {
	clean := strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return '\uFFFD'
		}
		return r
	}, text)
	return "“" + validation.Shorten(clean) + "”"
}
