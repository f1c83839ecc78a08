package model

import (
	"strconv"
	"strings"

	"doorsill/internal/validation"
)

// SettingChanged is one change of one setting. Changes add up.
type SettingChanged struct {
	// Key is one of SettingKeys; Profile is the profile's name.
	Key     string `json:"key" check:"oneof=SettingKeys"`
	Profile string `json:"profile,omitempty" check:"max=LongestName"`
	// Before and After are raw values with their unit, as text, because makers
	// count in percent, steps or words.
	Before string `json:"before" check:"required,max=LongestName" want:"the value before"`
	After  string `json:"after" check:"required,max=LongestName" want:"the value after"`
	Unit   string `json:"unit,omitempty" check:"max=LongestWord"`
	// Problem is what was observed, one of Problems, or empty; Why says more.
	Problem string `json:"problem,omitempty" check:"oneof=Problems,optional"`
	Why     string `json:"why" check:"required,max=LongestText" want:"why the setting was changed"`
	// Result is what changed, once tried.
	Result string `json:"result,omitempty" check:"max=LongestText"`
	// Firmware and Word are the maker's version and word for the key.
	Firmware string `json:"firmware,omitempty" check:"max=LongestName"`
	Word     string `json:"word,omitempty" check:"max=LongestName"`
}

// SettingTried says how it went with a changed setting, once it was driven with.
// The last one about a change counts.
type SettingTried struct {
	// Setting is the entry that changed it; Outcome is one of Outcomes.
	Setting Ref    `json:"setting" check:"ref"`
	Outcome string `json:"outcome" check:"oneof=Outcomes"`
	Note    string `json:"note,omitempty" check:"max=LongestText"`
}

// Setting is one change of a setting with its stamp.
type Setting struct {
	Stamp
	SettingChanged
	// Tried is how it went, nil while nobody said.
	Tried *Tried `json:"tried,omitempty"`
}

// Tried is what a change of a setting did, with its stamp.
type Tried struct {
	Stamp
	SettingTried
}

func (c *SettingChanged) checkTogether() *validation.Error {
	return validation.First(c.checkRange("before", c.Before), c.checkRange("after", c.After))
}

// checkRange checks a value that is a number in a unit whose range is known.
// Steps and makers' words are as they are.
func (c *SettingChanged) checkRange(path, text string) *validation.Error {
	value, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return nil
	}
	switch c.Unit {
	case "%":
		low, high := percentRange(c.Key)
		return validation.Between(path, value, low, high, "%")
	case "deg":
		return validation.Between(path, value, 0, 359, "degrees")
	case "s":
		return validation.Between(path, value, 0, 3_600, "s")
	}
	return nil
}

func percentRange(key string) (low, high float64) {
	switch {
	case key == "dead_zone":
		return 0, 50
	case strings.HasPrefix(key, "throw_"):
		return 20, 100
	}
	return 0, 100
}
