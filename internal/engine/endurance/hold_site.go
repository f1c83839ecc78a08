package endurance

import (
	"doorsill/internal/message"
)

// SiteHold is what can be said about holding a share of strength at a site.
type SiteHold struct {
	Match
	// Share is the share of strength, 0.10 to 1.
	Share float64
	// Holds has one curve, or the two of a bracket where Fit is NoModel.
	Holds []Hold
	// Low and High are the ends of the band, or of both bands, in seconds.
	Low, High float64
	// Say names the region and tells the band; it says where a curve is borrowed
	// and where there is none.
	Say message.Message
}

// HoldAt returns the holding time at a body site. Sites without a curve of
// their own borrow the nearest and say so; for chin, head, cheek, lips and
// tongue there is none, and the general and the shoulder curve are given as a
// bracket, which is not a neck model. Range, rounding, errors, source and
// status as HoldingTime; the choice of region is a proposal.
func HoldAt(site string, share float64) (SiteHold, error) {
	match, err := RegionOf(site)
	if err != nil {
		return SiteHold{}, err
	}
	result := SiteHold{Match: match, Share: share}
	regions := []Region{match.Region}
	if match.Fit == NoModel {
		regions = []Region{Shoulder, General}
	}
	for _, region := range regions {
		hold, err := HoldingTime(region, share)
		if err != nil {
			return SiteHold{}, err
		}
		result.add(hold)
	}
	result.Say = result.say()
	return result, nil
}

func (s *SiteHold) add(h Hold) {
	if len(s.Holds) == 0 {
		s.Low, s.High = h.Low, h.High
	}
	s.Low, s.High = min(s.Low, h.Low), max(s.High, h.High)
	s.Holds = append(s.Holds, h)
}

func (s *SiteHold) say() message.Message {
	if s.Fit == NoModel {
		return message.New("endurance.hold-bracket", message.Inner("match", s.Match.Say),
			message.Number("low", s.Low), message.Number("high", s.High))
	}
	return message.New("endurance.hold-at-site", message.Inner("match", s.Match.Say), message.Inner("hold", s.Holds[0].Say))
}
