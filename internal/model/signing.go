package model

import (
	"doorsill/internal/validation"
)

// OverrideMade is a therapist's decision against the calculated level.
type OverrideMade struct {
	Level string `json:"level" check:"oneof=Levels"`
	// Reason is one of OverrideReasons; Text explains it.
	Reason     string `json:"reason" check:"oneof=OverrideReasons"`
	Text       string `json:"text" check:"required,max=LongestText" want:"the reason in words"`
	Mitigation string `json:"mitigation,omitempty" check:"max=LongestText"`
	Agreed     string `json:"agreed,omitempty" check:"max=LongestText"`
	// From and Until are dates, 2006-01-02.
	From  string `json:"from" check:"date"`
	Until string `json:"until,omitempty" check:"date,optional"`
}

// Override is a therapist's decision with its stamp.
type Override struct {
	Stamp
	OverrideMade
}

// VisitSigned closes a visit. Level and Result are what the tablet showed.
type VisitSigned struct {
	Level string `json:"level" check:"oneof=ResultLevels"`
	// Result is the SHA-256 in hex of the result that was shown when signing.
	Result string `json:"result" check:"sha256"`
	// Format, Engine and Catalogue are those of that result. Without a format it
	// was of the first, FirstResultFormat.
	Format    string `json:"format,omitempty" check:"max=LongestWord"`
	Engine    string `json:"engine,omitempty" check:"max=LongestWord"`
	Catalogue string `json:"catalogue,omitempty" check:"max=LongestWord"`
	// Name is the signer's name and credential as they want it on paper.
	Name string `json:"name" check:"required,max=LongestName" want:"the signer's name"`
}

// ShownFormat is the format of the result that was shown when signing.
func (s *VisitSigned) ShownFormat() string {
	if s.Format == "" {
		return FirstResultFormat
	}
	return s.Format
}

// Signature closes the visit.
type Signature struct {
	Stamp
	VisitSigned
}

// AmendmentMade changes a signed visit: the same kinds as before, with a reason.
type AmendmentMade struct {
	Reason string `json:"reason" check:"required,max=LongestText" want:"why the visit is changed after signing"`
	Kind   string `json:"kind" check:"amendable"`
	Change Raw    `json:"change" check:"required" want:"an object"`
}

// Amendment is one change after signing.
type Amendment struct {
	Stamp
	Reason string `json:"reason"`
	Kind   string `json:"kind"`
	// Item names the item when the change was an answer.
	Item string `json:"item,omitempty"`
}

func (o *OverrideMade) checkTogether() *validation.Error {
	if o.Until != "" && o.Until < o.From {
		return &validation.Error{Code: validation.CodeOverride, Path: "until", Want: "a date not before " + o.From, Got: o.Until}
	}
	return nil
}
