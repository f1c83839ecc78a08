package endurance

import (
	"math"

	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

const (
	// leastDuty is one effort of a second in eight hours.
	leastDuty      = 1.0 / 28800
	potvinPower    = 0.24
	potvinFewData  = 0.5
	acgihLeastDuty = 0.005
	acgihMostDuty  = 0.90
	acgihSlope     = 0.143
	acgihOffset    = 0.066
)

// Ids of the limits for repeated work.
const (
	LimitPotvin = "potvin"
	LimitACGIH  = "acgih"
)

// Limit is the largest share of strength that one formula allows at a duty
// cycle.
type Limit struct {
	// ID is LimitPotvin or LimitACGIH.
	ID string
	// Duty is the part of the time with force on, 0 to 1.
	Duty float64
	// Share is the allowed share of strength, 4 decimals.
	Share float64
	provenance.Provenance
}

// DutyCycle returns the part of the time with force on,
//
//	duty = commands a minute · seconds a command / 60
//
// rounded to 4 decimals. Both are above 0, and together not more than all of
// the time. By definition.
func DutyCycle(perMinute, seconds float64) (float64, error) {
	still := stillShareAndHold()
	err := provenance.First(
		provenance.AboveZero("commands-a-minute", perMinute, mostRate, "per-minute", still),
		provenance.AboveZero("seconds-a-command", seconds, mostSeconds, "s", still),
	)
	if err != nil {
		return 0, err
	}
	if perMinute*seconds > 60*(1+1e-12) {
		return 0, provenance.NewRefusal(message.New("endurance.minute-too-full", message.Word("field", "time-of-commands"),
			message.Number("seconds", provenance.Round(perMinute*seconds, 1))))
	}
	return provenance.Round(perMinute*seconds/60, 4), nil
}

// Potvin returns the largest acceptable share of strength at a duty cycle:
//
//	share = 1 − (duty − 1/28800)^0.24
//
// Duty is 1/28800 (one second in eight hours) to 1, the share rounded to 4
// decimals. Few data above a duty of 0.5, and none for the neck. Potvin, Hum
// Factors 2012;54(2):175–188; the equation itself is from memory.
func Potvin(duty float64) (Limit, error) {
	if !(duty >= leastDuty && duty <= 1) {
		return Limit{}, provenance.NewRefusal(message.New("endurance.no-duty-cycle", message.Word("field", "duty-cycle")))
	}
	share := 1 - math.Pow(duty-leastDuty, potvinPower)
	return Limit{ID: LimitPotvin, Duty: duty, Share: provenance.Round(share, 4), Provenance: potvinProvenance()}, nil
}

// ACGIH returns the limit of upper limb localized fatigue at a duty cycle:
//
//	share = −0.143 · ln(duty) + 0.066
//
// for a duty of 0.005 to 0.90 (0.5 to 90 %) and work of two hours a day or
// more, hand to shoulder; rounded to 4 decimals. Outside the range it refuses.
// ACGIH TLV, Upper Limb Localized Fatigue, 2016. Scope read in public notices;
// coefficients and range from memory.
func ACGIH(duty float64) (Limit, error) {
	if err := provenance.Between("duty-cycle", duty, acgihLeastDuty, acgihMostDuty, "",
		message.New("endurance.still-no-limit")); err != nil {
		return Limit{}, err
	}
	share := acgihOffset - acgihSlope*math.Log(duty)
	return Limit{ID: LimitACGIH, Duty: duty, Share: provenance.Round(share, 4), Provenance: acgihProvenance()}, nil
}

// potvinDuty is Potvin turned round: the largest duty cycle at a share, at most 1,
//
//	duty = (1 − share)^(1/0.24) + 1/28800
//
// rounded to 6 decimals. Share is above 0 and at most 1.
func potvinDuty(share float64) (float64, error) {
	if err := checkShare(share, message.Message{}); err != nil {
		return 0, err
	}
	return min(1, provenance.Round(math.Pow(1-share, 1/potvinPower)+leastDuty, 6)), nil
}

// acgihDuty is ACGIH turned round: the largest duty cycle at a share,
//
//	duty = exp((0.066 − share)/0.143)
//
// rounded to 6 decimals. Where it lies outside 0.005 to 0.90 it is no limit, and
// above what potvinDuty allows.
func acgihDuty(share float64) float64 {
	return provenance.Round(math.Exp((acgihOffset-share)/acgihSlope), 6)
}

func potvinProvenance() provenance.Provenance {
	return provenance.Of("formula.duty-power", "source.duty-power", provenance.FromMemory)
}

func acgihProvenance() provenance.Provenance {
	return provenance.Of("formula.duty-logarithm", "source.duty-logarithm", provenance.FromMemory)
}
