package endurance

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Range of the holding curves.
const (
	LeastShare = 0.10 // below it no holding time is claimed
	FewData    = 0.25 // below it few studies measured
	// BandNarrow and BandWide are the printed 95 % prediction interval about
	// the mean curve; the wider one is drawn.
	BandNarrow = 0.29
	BandWide   = 0.47
)

// Hold is how long a share of strength can be held without a break.
type Hold struct {
	Region Region
	// Share is the share of strength, 0.10 to 1.
	Share float64
	// Seconds is the mean curve, Low and High its band, 1 decimal.
	Seconds, Low, High float64
	// FewData is true where few studies measured.
	FewData bool
	// Say tells the band and the region.
	Say message.Message
	provenance.Provenance
}

// HoldingTime returns how long a share of strength can be held until failure:
//
//	t = b0 · share^b1
//
// with b0 in seconds and both from the table of the region; the band is the
// mean ± 47 %, the wider end of the printed 95 % prediction interval (29 to
// 47 %). Share is 0.10 to 1; times are rounded to 0.1 s. It refuses an unknown
// region and a share outside the range.
//
// Frey Law and Avin, Ergonomics 2010;53(1):109–129, Table 2; band: Frey Law
// and others 2012, PMC3397684. Published: healthy adults of 18 to 50.
func HoldingTime(region Region, share float64) (Hold, error) {
	b0, b1, err := curve(region)
	if err != nil {
		return Hold{}, err
	}
	if err := checkHeldShare(share); err != nil {
		return Hold{}, err
	}
	mean := b0 * math.Pow(share, b1)
	h := Hold{
		Region: region, Share: share, FewData: share < FewData,
		Seconds:    provenance.Round(mean, 1),
		Low:        provenance.Round(mean*(1-BandWide), 1),
		High:       provenance.Round(mean*(1+BandWide), 1),
		Provenance: holdProvenance(),
	}
	h.Say = h.say()
	return h, nil
}

func (h *Hold) say() message.Message {
	code := "endurance.hold"
	if h.FewData {
		code = "endurance.hold-few-data"
	}
	return message.New(code, message.Number("low", provenance.Round(h.Low, 0)), message.Number("high", provenance.Round(h.High, 0)),
		message.Word("region", string(h.Region)))
}

func checkHeldShare(share float64) error {
	return provenance.Between("share-of-strength", share, LeastShare, 1, "", message.New("endurance.still-other-limits"))
}

const holdSource = "source.holding-time"

func holdProvenance() provenance.Provenance {
	return provenance.Of("formula.holding-time", holdSource, provenance.Published)
}

// curve returns the published pair of a region.
func curve(region Region) (b0, b1 float64, err error) {
	switch region {
	case General:
		return 21.92, -1.98, nil
	case Ankle:
		return 34.71, -2.06, nil
	case Knee:
		return 19.38, -1.88, nil
	case Trunk:
		return 22.69, -2.27, nil
	case Shoulder:
		return 14.86, -1.83, nil
	case Elbow:
		return 17.98, -2.21, nil
	case Hand:
		return 33.55, -1.61, nil
	}
	return 0, 0, provenance.NewRefusal(message.New("endurance.no-region", message.Word("field", "region"), message.Word("got", string(region))))
}
