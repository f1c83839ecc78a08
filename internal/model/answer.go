package model

import (
	"strconv"

	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// AnswerGiven answers one item, or takes the answer back to not tested.
type AnswerGiven struct {
	Item string `json:"item" check:"item"`
	// State is answered, not-applicable or not-tested.
	State string `json:"state" check:"oneof=AnswerStates"`
	// Level is the answer to a help (4 to 0), fit (3 to 0) or yes-no item.
	Level string `json:"level,omitempty" check:"oneof=AnswerLevels,optional"`
	// Number is the answer to a number or count item, in the item's unit.
	Number *float64 `json:"number,omitempty"`
	// Left and Right answer a count item that is asked for each side.
	Left  *float64 `json:"left,omitempty"`
	Right *float64 `json:"right,omitempty"`
	// Facts answers the item's side questions by fact id.
	Facts map[string]bool `json:"facts,omitempty"`
	// Reason says why the item does not apply.
	Reason string `json:"reason,omitempty" check:"max=LongestText"`
	Note   string `json:"note,omitempty" check:"max=LongestText"`
	// Method says how the answer came about where it was not given to the item by
	// itself, one of AnswerMethods.
	Method string `json:"method,omitempty" check:"oneof=AnswerMethods,optional"`
	// Class, Control and Site are those of the control that the answer is about,
	// as in the set-up, where the item is one of ControlItems.
	Class   string `json:"class,omitempty" check:"oneof=Classes,optional"`
	Control string `json:"control,omitempty" check:"max=LongestName"`
	Site    string `json:"site,omitempty" check:"site,optional"`
	// Replaces names the answers that stood when this one was given: what the
	// person saw and answers anew. Nil, which is no empty list, says that the
	// answer was given by a version of the app that did not name them.
	Replaces []Ref `json:"replaces,omitzero"`
}

// MostReplaced is how many answers one answer can replace. Each tablet has one
// that stands at most.
const MostReplaced = 64

// AnswerChosen settles an item that two people answered without seeing each
// other: Keep stands, every Drop yields.
type AnswerChosen struct {
	Item string `json:"item" check:"item"`
	Keep Ref    `json:"keep" check:"ref"`
	Drop []Ref  `json:"drop" check:"required" want:"at least one answer that yields"`
}

// Answer is what stands for one item: one statement, or several that had not
// seen each other and wait for a choice.
type Answer struct {
	Item string `json:"item"`
	// Heads are in log order, waiting ones last.
	Heads []Given `json:"heads"`
	// Others are answers that a later one about another control or site has taken
	// the place of: they still say something of their own control.
	Others []Given `json:"others,omitempty"`
}

// Given is one answer with its stamp.
type Given struct {
	Stamp
	AnswerGiven
	// Due marks an answer that must be given anew because a setting was
	// changed since; see Retests.
	Due bool `json:"due,omitempty"`
}

// checkTogether refuses a state and a value that do not go together. Whether
// the value fits the item is for the checklist to say.
func (a *AnswerGiven) checkTogether() *validation.Error {
	for _, fact := range strictjson.SortedKeys(a.Facts) {
		if err := validation.MaxLength("facts", fact, LongestWord); err != nil {
			return err
		}
	}
	if err := checkReplaces(a.Replaces); err != nil {
		return err
	}
	if a.Method != "" && a.State == StateNotTested {
		return &validation.Error{Code: validation.CodeWrongType, Path: "method", Want: "nothing beside the state " + validation.Quote(a.State), Got: validation.Quote(a.Method)}
	}
	named := a.valueField()
	switch {
	case a.State == StateAnswered:
		if named == "" && len(a.Facts) == 0 {
			return &validation.Error{Code: validation.CodeRequired, Path: "level", Want: "a level, a number, both sides or side questions, as the item asks"}
		}
	case a.State == StateNotApplicable && a.Reason == "":
		return &validation.Error{Code: validation.CodeRequired, Path: "reason", Want: "why the item does not apply"}
	case named != "":
		return &validation.Error{Code: validation.CodeWrongType, Path: named, Want: "nothing beside the state " + validation.Quote(a.State), Got: a.quoteValue()}
	}
	return nil
}

func checkReplaces(list []Ref) *validation.Error {
	if err := maxItems("replaces", len(list), MostReplaced); err != nil {
		return err
	}
	for i, ref := range list {
		if err := checkRef("replaces["+strconv.Itoa(i)+"]", string(ref)); err != nil {
			return err
		}
	}
	return nil
}

// valueField names the first field that holds a value.
func (a *AnswerGiven) valueField() string {
	switch {
	case a.Level != "":
		return "level"
	case a.Number != nil:
		return "number"
	case a.Left != nil:
		return "left"
	case a.Right != nil:
		return "right"
	}
	return ""
}

// quoteValue returns what the field that valueField names holds.
func (a *AnswerGiven) quoteValue() string {
	for _, number := range []*float64{a.Number, a.Left, a.Right} {
		if a.Level == "" && number != nil {
			return validation.Number(*number)
		}
	}
	return validation.Quote(a.Level)
}

func (a *AnswerChosen) checkTogether() *validation.Error {
	for _, drop := range a.Drop {
		if err := checkRef("drop", string(drop)); err != nil {
			return err
		}
		if drop == a.Keep {
			return &validation.Error{Code: validation.CodeOutOfRange, Path: "drop", Want: "answers other than the one that stands", Got: validation.Quote(string(drop))}
		}
	}
	return nil
}
