package endurance

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Weeks to the next look, by the rules of Recheck.
const (
	WeeksStable  = 12
	WeeksSlow    = 8
	WeeksShort   = 6 // comes and goes, improves, or drives by chin, head, finger or thumb
	WeeksEarly   = 4 // fast course, raised exposure, forecast runs out, force not known
	WeeksSoonest = 2 // pain or signs
)

// Watch is what the date of the next look depends on.
type Watch struct {
	// Course is "stable", "slow", "fast", "fluctuating" or "improving"; any
	// other word counts as not known.
	Course string
	// Site that drives.
	Site string
	// Pain 0 to 10, or provenance.NotMeasured().
	Pain float64
	// Signs of strain in the past four weeks.
	Signs Signs
	// Raised is true when a line of the exposure card is raised, the strain
	// index is above its limit, or the one-hour limit is passed.
	Raised bool
	// ForceOpen is true when a needed direction was measured too seldom, rested or
	// tired, to know what driving asks of the body.
	ForceOpen bool
	// RunsOut is true when the forecast falls below reserve 2 before the
	// control is expected.
	RunsOut bool
}

// RecheckReason is one rule that applies.
type RecheckReason struct {
	// Weeks until the next look, 2 to 12.
	Weeks int
	// Say names the rule.
	Say message.Message
}

// Recheck is when to look again.
type Recheck struct {
	// Weeks until then, 2 to 12.
	Weeks int
	// Refer is true when the pain should be looked at now, not at the recheck.
	Refer bool
	// Reasons are the rules that apply, the earliest first.
	Reasons []RecheckReason
	provenance.Provenance
}

// RecheckIn returns the weeks to the next look: the least of the rules that
// apply. It never refuses; what is not known brings the date forward.
//
// Proposal, not validated; within the 4 to 12 weeks that multidisciplinary
// practice supports, and earlier for pain and signs of strain.
func RecheckIn(w Watch) Recheck {
	r := Recheck{Refer: w.Pain >= PainRefer, Provenance: provenance.Of("formula.recheck", "source.own-recheck", provenance.Proposal)}
	r.pain(w)
	r.when(w.RunsOut, WeeksEarly, message.New("endurance.recheck-forecast"))
	r.when(w.Raised, WeeksEarly, message.New("endurance.recheck-raised"))
	r.when(w.ForceOpen, WeeksEarly, message.New("endurance.recheck-force-open"))
	r.course(w.Course)
	r.when(HeadBorne(w.Site) || Distal(w.Site) && part(w.Site) != "hand" && part(w.Site) != "forearm",
		WeeksShort, message.New("endurance.recheck-small-movement"))
	r.sort()
	r.Weeks = r.Reasons[0].Weeks // the course always gives one
	return r
}

// sort puts the earliest first; what was first stays first among equals.
func (r *Recheck) sort() {
	for i := range r.Reasons {
		for j := i; j > 0 && r.Reasons[j].Weeks < r.Reasons[j-1].Weeks; j-- {
			r.Reasons[j], r.Reasons[j-1] = r.Reasons[j-1], r.Reasons[j]
		}
	}
}

func (r *Recheck) when(applies bool, weeks int, say message.Message) {
	if applies {
		r.Reasons = append(r.Reasons, RecheckReason{weeks, say})
	}
}

func (r *Recheck) pain(w Watch) {
	switch {
	case r.Refer:
		r.when(true, WeeksSoonest, message.New("endurance.recheck-pain-refer", message.Number("pain", provenance.Round(w.Pain, 1))))
	case w.Pain >= PainCaution:
		r.when(true, WeeksSoonest, message.New("endurance.recheck-pain", message.Number("pain", provenance.Round(w.Pain, 1))))
	}
	r.when(w.Signs == SignsOfStrain, WeeksSoonest, message.New("endurance.recheck-signs"))
	r.when(w.Signs == UnknownSigns, WeeksEarly, message.New("endurance.recheck-signs-unasked"))
	r.when(!provenance.Measured(w.Pain), WeeksEarly, message.New("endurance.recheck-pain-unasked"))
}

func (r *Recheck) course(course string) {
	switch course {
	case "stable":
		r.when(true, WeeksStable, message.New("endurance.recheck-stable"))
	case "slow":
		r.when(true, WeeksSlow, message.New("endurance.recheck-slow"))
	case "fluctuating":
		r.when(true, WeeksShort, message.New("endurance.recheck-fluctuating"))
	case "improving":
		r.when(true, WeeksShort, message.New("endurance.recheck-improving"))
	case "fast":
		r.when(true, WeeksEarly, message.New("endurance.recheck-fast"))
	default:
		r.when(true, WeeksEarly, message.New("endurance.recheck-course-unknown"))
	}
}
