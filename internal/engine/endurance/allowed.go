package endurance

import "doorsill/internal/engine/provenance"

// Allowance is the share of strength that repeated work may ask at a site.
type Allowance struct {
	Site string
	Duty float64
	// Share is the stricter of Limits, By its name.
	Share float64
	By    string
	// Limits holds those that apply at this duty cycle, one or two.
	Limits []Limit
	// Say is one sentence; it tells where one of the limits does not apply.
	Say string
}

// Allowed returns the stricter of the two published limits for repeated work
// at a duty cycle (0 to 1, at least 1/28800), 4 decimals. Where only one
// applies it stands alone and the sentence says so. Both were made for the
// upper limb: other sites are refused. That the stricter counts is a proposal,
// since such models disagree (Motiwala and others 2020, PubMed 33259272).
func Allowed(site string, duty float64) (Allowance, error) {
	if !UpperLimb(site) {
		return Allowance{}, refuseLimb(site, "from shoulder to finger")
	}
	potvin, err := Potvin(duty)
	if err != nil {
		return Allowance{}, err
	}
	a := Allowance{Site: site, Duty: duty, Share: potvin.Share, By: potvin.Name, Limits: []Limit{potvin}}
	// An error here only says that the duty cycle lies outside its range.
	if acgih, err := ACGIH(duty); err == nil {
		a.Limits = append(a.Limits, acgih)
		if acgih.Share < a.Share {
			a.Share, a.By = acgih.Share, acgih.Name
		}
	}
	a.Say = a.sentence()
	return a, nil
}

func (a Allowance) sentence() string {
	text := "With force on " + provenance.Percent(a.Duty) + " of the time, at most " + provenance.Percent(a.Share) +
		" of the strength (" + a.By
	if len(a.Limits) == 1 {
		text += "; the ACGIH limit does not cover this part of the time"
	} else {
		text += ", the stricter of two"
	}
	text += "; formulas from memory)."
	if a.Duty > potvinFewData {
		text += " Few people were studied with force on more than half of the time."
	}
	return text
}
