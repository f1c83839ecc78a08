package endurance

import "doorsill/internal/message"

// Allowance is the share of strength that repeated work may ask at a site.
type Allowance struct {
	Site string
	// Duty is the part of the time with force on, 0 to 1.
	Duty float64
	// Share is the stricter of Limits, 0 to 1, 4 decimals; By is its id.
	Share float64
	By    string
	// Limits holds those that apply at this duty cycle, one or two.
	Limits []Limit
	// Say tells the limit, and where one of the two does not apply.
	Say message.Message
}

// Allowed returns the stricter of the two published limits for repeated work
// at a duty cycle (0 to 1, at least 1/28800), 4 decimals. Where only one
// applies it stands alone and Say says so. Both were made for the
// upper limb: other sites are refused. That the stricter counts is a proposal,
// since such models disagree (Motiwala and others 2020, PubMed 33259272).
func Allowed(site string, duty float64) (Allowance, error) {
	if !UpperLimb(site) {
		return Allowance{}, refuseSite("endurance.not-upper-limb", site)
	}
	potvin, err := Potvin(duty)
	if err != nil {
		return Allowance{}, err
	}
	a := Allowance{Site: site, Duty: duty, Share: potvin.Share, By: potvin.ID, Limits: []Limit{potvin}}
	// An error here only says that the duty cycle lies outside its range.
	if acgih, err := ACGIH(duty); err == nil {
		a.Limits = append(a.Limits, acgih)
		if acgih.Share < a.Share {
			a.Share, a.By = acgih.Share, acgih.ID
		}
	}
	a.Say = a.say()
	return a, nil
}

func (a *Allowance) say() message.Message {
	code := "endurance.allowed"
	if len(a.Limits) == 1 {
		code = "endurance.allowed-by-one"
	}
	m := message.New(code, message.Number("duty", percent(a.Duty)), message.Number("share", percent(a.Share)), message.Word("by", a.By))
	if a.Duty > potvinFewData {
		return message.New("endurance.allowed-few-studied", message.Inner("allowed", m))
	}
	return m
}
