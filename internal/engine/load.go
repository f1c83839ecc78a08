package engine

import (
	"slices"

	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/endurance"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
	"doorsill/internal/model"
)

// chosenControl stands for the control of the set-up, as it is set, where
// others stand with their id.
const chosenControl = "setup"

// day is what a usual day with the chosen control asks of the body.
type day struct {
	needs *model.NeedsNoted
	// site drives; worst is the largest share of strength that a needed
	// direction asks, or provenance.NotMeasured().
	site  string
	worst float64
	// pain is 0 to 10, or provenance.NotMeasured().
	pain  float64
	signs endurance.Signs
	// raised: a limit is passed or a line of the exposure card is raised.
	raised bool
}

// endure gives what the chosen control asks: load by direction with holding
// times, the limits of a usual day, and when to look again. Of the other
// controls that come first in the order of choice it gives the worst load.
func (b *builder) endure(v *visit) {
	if v.setup == nil {
		b.otherLoads()
		return
	}
	d := day{needs: v.needs, site: v.setup.Site, pain: provenance.NotMeasured(), signs: b.signs(v), worst: provenance.NotMeasured()}
	if b.input.PainAsked {
		d.pain = float64(b.input.Pain) / float64(decimal.One)
	}
	b.chosenLoads(&d)
	b.otherLoads()
	b.hour(&d)
	b.duty(&d)
	b.strain(&d)
	b.exposure(&d)
	b.recheck(&d)
}

// chosenLoads gives every needed direction of the chosen control.
func (b *builder) chosenLoads(d *day) {
	if b.setup.OperateGF == 0 {
		return
	}
	site := b.analysis.At(b.setup.Site)
	for _, to := range b.setup.Needed {
		share, ok := b.load(chosenControl, site, to, b.setup.OperateGF)
		if !ok {
			// Where it was tried and no force came, more is asked than there is.
			d.raised = d.raised || site.Force[to].Measured()
			continue
		}
		if !provenance.Measured(d.worst) || share > d.worst {
			d.worst = share
		}
		b.holding(site.ID, to.String(), share)
	}
}

// otherLoads gives the first choice, the fallback and what the client wishes,
// where they are not the chosen control.
func (b *builder) otherLoads() {
	for i := range b.verdict.Choices {
		c := &b.verdict.Choices[i]
		if c.Role == "" && !c.Wished || c.OperateGF == 0 || b.isChosen(c) {
			continue
		}
		site := b.analysis.At(c.Site)
		if to := b.weakest(site); to != strength.NoDirection {
			b.load(c.Control, site, to, c.OperateGF)
		}
	}
}

func (b *builder) isChosen(c *access.Choice) bool {
	return b.setup != nil && c.Site == b.setup.Site && c.OperateGF == b.setup.OperateGF
}

// weakest is the needed direction with the least usable force among those that
// were measured. Without a set-up all four directions are needed.
func (b *builder) weakest(site *strength.Site) strength.Direction {
	weakest, least := strength.NoDirection, 0.0
	for to := strength.Forward; to <= strength.Right; to++ {
		pair := &site.Force[to]
		if !pair.Measured() || b.setup != nil && !slices.Contains(b.setup.Needed, to) {
			continue
		}
		if usable, _ := pair.Usable(); weakest == strength.NoDirection || usable < least {
			weakest, least = to, usable
		}
	}
	return weakest
}

// load gives the share of strength that a force asks in one direction.
func (b *builder) load(control string, site *strength.Site, to strength.Direction, asked float64) (share float64, ok bool) {
	direction := message.Word("to", to.String())
	b.out.Loads = append(b.out.Loads, model.Load{Control: control, Site: site.ID, Subject: b.subject(control, site.ID), Direction: to.String(), Unit: "%"})
	one := &b.out.Loads[len(b.out.Loads)-1]
	pair := &site.Force[to]
	if !pair.Measured() {
		one.Message = message.New("endurance.load-unmeasured", direction)
		return 0, false
	}
	usable, assumed := pair.Usable()
	if usable == 0 {
		one.Message = message.New("endurance.load-no-force", direction)
		return 0, false
	}
	share, err := endurance.ShareOf(asked, usable)
	if err != nil {
		one.Message = message.New("endurance.load-refused", direction, message.Inner("why", provenance.MessageOf(err)))
		return 0, false
	}
	one.Share, one.Message = rounded(100*share, 1), loadMessage(direction, share, assumed)
	one.Basis = "load"
	b.provenance(one.Basis, endurance.ShareProvenance())
	return share, true
}

// loadMessage tells what share of the strength a direction asks, whether the
// tired force is assumed, and whether that is more than there is.
func loadMessage(direction message.Arg, share float64, assumed bool) message.Message {
	code := "endurance.load"
	switch {
	case assumed && share > 1:
		code = "endurance.load-assumed-too-much"
	case assumed:
		code = "endurance.load-assumed"
	case share > 1:
		code = "endurance.load-too-much"
	}
	const all = 100
	args := []message.Arg{direction, message.Number("share", all*share), message.Count("places", provenance.Apart(all*share, 1, all))}
	if assumed {
		args = append(args, message.Number("tired", provenance.Round(strength.TiredFactor, 1)))
	}
	return message.New(code, args...)
}

// limit adds one limit of a usual day with what it rests on.
func (b *builder) limit(q model.Quantity, from provenance.Provenance) {
	q.Basis = q.Name
	b.out.Limits = append(b.out.Limits, q)
	b.provenance(q.Basis, from)
}

// unlimited adds a limit that cannot be given, and why.
func (b *builder) unlimited(name, site, unit string, why message.Message) {
	b.out.Limits = append(b.out.Limits, model.Quantity{Name: name, Site: site, Unit: unit, Origin: model.OriginMissing, Message: why})
}

// assumed is a quantity that comes from healthy adults and was never measured on
// this person.
func assumed(name, site, unit string, value *decimal.Micro, say message.Message) model.Quantity {
	return model.Quantity{Name: name, Site: site, Unit: unit, Value: value, Origin: model.OriginAssumed, Message: say}
}

// holding gives how long the last load can be held.
func (b *builder) holding(site, direction string, share float64) {
	into := &b.out.Loads[len(b.out.Loads)-1].Holding
	to := message.Word("to", direction)
	h, err := endurance.HoldAt(site, share)
	if err != nil {
		why := message.New("endurance.hold-refused", to, message.Inner("why", provenance.MessageOf(err)))
		switch {
		case share > 1:
			why = message.New("endurance.hold-too-much", to)
		case share < endurance.LeastShare:
			why = message.New("endurance.hold-too-light", to)
		}
		*into = []model.Quantity{{Name: "hold-time-low", Site: site, Direction: direction, Unit: "s", Origin: model.OriginMissing, Message: why}}
		return
	}
	from := h.Holds[0].Provenance
	from.Borrowed = h.Fit != endurance.Own
	say := message.New("endurance.hold-in-direction", to, message.Inner("hold", h.Say))
	if held := &b.analysis.Hold; direction == strength.Forward.String() && held.Has() {
		say = besideMeasured(say, &h, held.Value.Float())
	}
	low := assumed("hold-time-low", site, "s", rounded(provenance.Floor(h.Low, 0), 0), say)
	high := assumed("hold-time-high", site, "s", rounded(provenance.Floor(h.High, 0), 0), message.Message{})
	low.Direction, high.Direction = direction, direction
	low.Basis, high.Basis = low.Name, high.Name
	*into = []model.Quantity{low, high}
	b.provenance(low.Name, from)
	b.provenance(high.Name, from)
}

// besideMeasured adds to what the curve of healthy adults says what was measured
// of this person, where the two differ. A hold is counted to HoldCounted at most,
// so one that was stopped there differs only from a curve that ends before.
func besideMeasured(say message.Message, h *endurance.SiteHold, held float64) message.Message {
	code := ""
	switch {
	case held < h.Low && held < strength.HoldCounted:
		code = "endurance.hold-measured-shorter"
	case held > h.High:
		code = "endurance.hold-measured-longer"
	default:
		return say
	}
	return message.New(code, message.Inner("curve", say), message.Number("held", held))
}

// signs is the gravest answer to the question about signs of strain.
func (b *builder) signs(v *visit) endurance.Signs {
	signs := endurance.UnknownSigns
	for i := range v.heads {
		h := &v.heads[i]
		if h.State != readiness.Answered || b.id(h.Item) != itemStrain {
			continue
		}
		switch {
		case h.Level == "0" || h.Level == "1":
			return endurance.SignsOfStrain
		case h.Level == "2":
			signs = endurance.TiredFeeling
		case signs == endurance.UnknownSigns:
			signs = endurance.NoSigns
		}
	}
	return signs
}

// hour compares with what held for an hour: without a break, and with pauses
// where it is known how much of the time force is on.
func (b *builder) hour(d *day) {
	if !provenance.Measured(d.worst) {
		return
	}
	duty, err := d.dutyCycle()
	// Without a pause the limit for on and off effort does not hold.
	unbroken := err == nil && duty == 1
	if d.worst <= 1 {
		h, _ := endurance.OneHour(d.worst, true) // a share of strength is always in range
		d.raised = d.raised || unbroken && !h.Within
		b.limit(assumed("limit-sustained", d.site, "%", rounded(100*h.Limit, 1), h.Say), h.Provenance)
	}
	switch lacks := d.lacksOfDuty(); {
	case unbroken:
		d.raised = d.raised || d.worst > 1
		return
	case len(lacks) > 0:
		b.unlimited("limit-intermittent", d.site, "%", message.New("endurance.hour-lacks", message.Words("lacks", lacks)))
		return
	case err != nil:
		b.unlimited("limit-intermittent", d.site, "%", provenance.Sentence(err))
		return
	}
	h, err := endurance.OneHour(min(1, duty*d.worst), false)
	if err == nil {
		d.raised = d.raised || !h.Within
		b.limit(assumed("limit-intermittent", d.site, "%", rounded(100*h.Limit, 1), h.Say), h.Provenance)
	}
}

func (d *day) dutyCycle() (float64, error) {
	return endurance.DutyCycle(orNotMeasured(d.needs.CommandsPerMin), orNotMeasured(d.needs.SecondsPerCommand))
}

// orNotMeasured is a number, or what stands for one that nobody knows.
func orNotMeasured[T int | float64](x *T) float64 {
	if x == nil {
		return provenance.NotMeasured()
	}
	return float64(*x)
}

// duty gives the limit for repeated work; it holds from shoulder to finger.
func (b *builder) duty(d *day) {
	duty, err := d.dutyCycle()
	if err != nil || !endurance.UpperLimb(d.site) {
		return
	}
	a, err := endurance.Allowed(d.site, duty)
	if err != nil {
		return
	}
	d.raised = d.raised || d.worst > a.Share
	b.allowedTime(d, duty)
	for _, limit := range a.Limits {
		if limit.ID == a.By {
			b.limit(assumed("limit-duty", d.site, "%", rounded(provenance.Floor(100*a.Share, 1), 1), a.Say), limit.Provenance)
		}
	}
}

// allowedTime gives the part of the time that force may be on at what the worst
// direction asks.
func (b *builder) allowedTime(d *day, duty float64) {
	if !(d.worst <= 1) {
		return
	}
	a, err := endurance.AllowedTime(d.site, d.worst, duty)
	if err != nil {
		return
	}
	b.limit(assumed("limit-time", d.site, "%", rounded(provenance.Floor(100*a.Duty, 1), 1), a.Say), a.Provenance)
}
