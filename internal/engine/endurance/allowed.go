package endurance

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

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
	m := message.New(code, message.Number("duty", percent(a.Duty)), message.Number("share", provenance.Floor(100*a.Share, 1)), message.Word("by", a.By))
	if a.Duty > potvinFewData {
		return message.New("endurance.allowed-few-studied", message.Inner("allowed", m))
	}
	return m
}

// TimeAllowance is the part of the time that force may be on.
type TimeAllowance struct {
	// Duty is the stricter limit, 0 to 1, 6 decimals; By is its id.
	Duty float64
	By   string
	// Say tells it beside the part of the time that force is on.
	Say message.Message
	provenance.Provenance
}

// AllowedTime is Allowed turned round: the largest part of the time with force on
// at a share of strength (above 0, at most 1), beside the part that it is on. Outside
// the range of the second limit the first stands alone: it is the stricter there. The
// same sites are refused, and what counts is the same proposal.
func AllowedTime(site string, share, on float64) (TimeAllowance, error) {
	if !UpperLimb(site) {
		return TimeAllowance{}, refuseSite("endurance.not-upper-limb", site)
	}
	most, err := potvinDuty(share)
	if err != nil {
		return TimeAllowance{}, err
	}
	a := TimeAllowance{Duty: most, By: LimitPotvin, Provenance: potvinProvenance()}
	if other := acgihDuty(share); other < a.Duty {
		a.Duty, a.By, a.Provenance = other, LimitACGIH, acgihProvenance()
	}
	a.Say = message.New("endurance.allowed-time", message.Number("share", 100*share), message.Number("most", 100*a.Duty),
		message.Number("on", 100*on), message.Count("places", provenance.Apart(100*on, 1, 100*a.Duty)), message.Word("by", a.By))
	return a, nil
}
