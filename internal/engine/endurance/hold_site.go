package endurance

import "doorsill/internal/engine/provenance"

// NotANeckModel labels a bracket that is shown in place of a curve.
const NotANeckModel = "not a neck model"

// SiteHold is what can be said about holding a share of strength at a site.
type SiteHold struct {
	Match
	Share float64
	// Holds has one curve, or the two of a bracket.
	Holds []Hold
	// Low and High are the ends of the band, or of both bands, in seconds.
	Low, High float64
	// Label is NotANeckModel for a bracket, else empty.
	Label string
	// Say is one sentence that names the region and says borrowed or none.
	Say string
}

// HoldAt returns the holding time at a body site. Sites without a curve of
// their own borrow the nearest and say so; for chin, head, cheek, lips and
// tongue there is none, and the general and the shoulder curve are given as a
// bracket labelled "not a neck model". Range, rounding, errors, source and
// status as HoldingTime; the choice of region is a proposal.
func HoldAt(site string, share float64) (SiteHold, error) {
	match, err := RegionOf(site)
	if err != nil {
		return SiteHold{}, err
	}
	result := SiteHold{Match: match, Share: share}
	regions := []Region{match.Region}
	if match.Fit == NoModel {
		regions, result.Label = []Region{Shoulder, General}, NotANeckModel
	}
	for _, region := range regions {
		hold, err := HoldingTime(region, share)
		if err != nil {
			return SiteHold{}, err
		}
		result.add(hold)
	}
	result.Say = result.sentence()
	return result, nil
}

func (s *SiteHold) add(h Hold) {
	if len(s.Holds) == 0 {
		s.Low, s.High = h.Low, h.High
	}
	s.Low, s.High = min(s.Low, h.Low), max(s.High, h.High)
	s.Holds = append(s.Holds, h)
}

func (s SiteHold) sentence() string {
	if s.Fit == NoModel {
		return s.Match.Say + " The shoulder and the general curve would say " +
			provenance.Text(s.Low, 0) + " to " + provenance.Text(s.High, 0) + " s; this is " + NotANeckModel + "."
	}
	return s.Match.Say + " " + s.Holds[0].Say
}
