package engine

import (
	"doorsill/internal/decimal"
	"doorsill/internal/engine/access"
	"doorsill/internal/engine/endurance"
	"doorsill/internal/engine/provenance"
	"doorsill/internal/engine/strength"
	"doorsill/internal/fields"
	"doorsill/internal/message"
)

// chosenControl stands for the control of the set-up, as it is set, where
// others stand with their id.
const chosenControl = "setup"

// day is what a usual day with the chosen control asks of the body.
type day struct {
	needs *access.Needs
	// site drives; worst is the largest share of strength that a needed
	// direction asks, or provenance.NotMeasured().
	site  string
	worst float64
	// pain is 0 to 10, or provenance.NotMeasured().
	pain  float64
	signs bool
	// raised: a limit is passed or a line of the exposure card is raised.
	raised bool
}

// endure writes what the chosen control asks: load by direction with holding
// times, the limits of a usual day, and when to look again. Of the other
// controls that come first in the order of choice it writes the worst load.
func (e *encoder) endure(v *visit) {
	if v.setup == nil {
		e.otherLoads()
		return
	}
	d := day{needs: &v.needs, site: v.setup.Site, pain: provenance.NotMeasured(), signs: e.input.Alarm, worst: provenance.NotMeasured()}
	if e.input.PainAsked {
		d.pain = float64(e.input.Pain) / float64(decimal.One)
	}
	e.chosenLoads(&d)
	e.otherLoads()
	e.hour(&d)
	e.duty(&d)
	e.strain(&d)
	e.exposure(&d)
	e.recheck(&d)
}

// chosenLoads writes every needed direction of the chosen control.
func (e *encoder) chosenLoads(d *day) {
	if e.setup.OperateGF == 0 {
		return
	}
	site := e.analysis.At(e.setup.Site)
	for _, to := range e.setup.Needed {
		share, ok := e.load(chosenControl, site, to, e.setup.OperateGF)
		if !ok {
			continue
		}
		if !provenance.Measured(d.worst) || share > d.worst {
			d.worst = share
		}
		e.holding(site.ID, to.String(), share)
	}
}

// otherLoads writes the first choice, the fallback and what the client wishes,
// where they are not the chosen control.
func (e *encoder) otherLoads() {
	for i := range e.verdict.Choices {
		c := &e.verdict.Choices[i]
		if c.Role == "" && !c.Wished || c.OperateGF == 0 || e.isChosen(c) {
			continue
		}
		site := e.analysis.At(c.Site)
		if to := e.weakest(site); to != strength.NoDirection {
			e.load(c.Control, site, to, c.OperateGF)
		}
	}
}

func (e *encoder) isChosen(c *access.Choice) bool {
	return e.setup != nil && c.Site == e.setup.Site && c.OperateGF == e.setup.OperateGF
}

// weakest is the needed direction with the least usable force among those that
// were measured. Without a set-up all four directions are needed.
func (e *encoder) weakest(site *strength.Site) strength.Direction {
	weakest, least := strength.NoDirection, 0.0
	for to := strength.Forward; to <= strength.Right; to++ {
		pair := &site.Force[to]
		if !pair.Measured() || !e.isNeeded(to) {
			continue
		}
		if usable, _ := pair.Usable(); weakest == strength.NoDirection || usable < least {
			weakest, least = to, usable
		}
	}
	return weakest
}

func (e *encoder) isNeeded(to strength.Direction) bool {
	if e.setup == nil {
		return true
	}
	for _, needed := range e.setup.Needed {
		if needed == to {
			return true
		}
	}
	return false
}

// load writes the share of strength that a force asks in one direction.
func (e *encoder) load(control string, site *strength.Site, to strength.Direction, asked float64) (share float64, ok bool) {
	direction := message.Word("to", to.String())
	pair := &site.Force[to]
	if !pair.Measured() {
		e.loadLine(control, site, to, "-", message.New("endurance.load-unmeasured", direction))
		return 0, false
	}
	usable, assumed := pair.Usable()
	share, err := endurance.ShareOf(asked, usable)
	if err != nil {
		e.loadLine(control, site, to, "-", message.New("endurance.load-refused", direction, message.Inner("why", provenance.MessageOf(err))))
		return 0, false
	}
	e.loadLine(control, site, to, provenance.Text(100*share, 1), loadMessage(direction, share, assumed))
	e.provenance("load", endurance.ShareProvenance())
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
	args := []message.Arg{direction, message.Number("share", provenance.Round(100*share, 1))}
	if assumed {
		args = append(args, message.Number("tired", provenance.Round(strength.TiredFactor, 1)))
	}
	return message.New(code, args...)
}

func (e *encoder) loadLine(control string, site *strength.Site, to strength.Direction, percent string, say message.Message) {
	e.line("load", control, site.ID, to.String(), percent, e.text(&say))
}

// counted begins the names of what was counted or asked in this visit.
const counted = "exposure-"

// number writes one quantity of this file with what it rests on.
func (e *encoder) number(name, site, direction, value, unit string, say message.Message, b provenance.Provenance) {
	word := "assumed" // from healthy adults: never measured on this person
	switch {
	case value == "-":
		word = "missing"
	case begins(name, counted):
		word = "measured"
	}
	e.line("figure", name, site, fields.OrDash(direction), value, unit, word, e.text(&say))
	if b.Formula != "" {
		e.provenance(name, b)
	}
}

func (e *encoder) holding(site, direction string, share float64) {
	h, err := endurance.HoldAt(site, share)
	if err != nil {
		e.number("hold-time-low", site, direction, "-", "s", provenance.Sentence(err), provenance.Provenance{})
		return
	}
	b := h.Holds[0].Provenance
	if h.Fit != endurance.Own {
		b.Status += ", borrowed"
	}
	e.number("hold-time-low", site, direction, provenance.Text(h.Low, 0), "s", h.Say, b)
	e.number("hold-time-high", site, direction, provenance.Text(h.High, 0), "s", message.Message{}, b)
}

// hour compares with what held for an hour: without a break, and with pauses
// where it is known how much of the time force is on.
func (e *encoder) hour(d *day) {
	if !provenance.Measured(d.worst) {
		return
	}
	if d.worst <= 1 {
		h, _ := endurance.OneHour(d.worst, true) // a share of strength is always in range
		e.number("limit-sustained", d.site, "", provenance.Text(100*h.Limit, 1), "%", message.New("endurance.hour-without-pause", message.Inner("hour", h.Say)), h.Provenance)
	}
	duty, err := d.dutyCycle()
	if err != nil {
		e.number("limit-intermittent", d.site, "", "-", "%", provenance.Sentence(err), provenance.Provenance{})
		return
	}
	h, err := endurance.OneHour(min(1, provenance.Round(duty*d.worst, 4)), false)
	if err == nil {
		d.raised = d.raised || !h.Within
		e.number("limit-intermittent", d.site, "", provenance.Text(100*h.Limit, 1), "%", h.Say, h.Provenance)
	}
}

func (d *day) dutyCycle() (float64, error) {
	return endurance.DutyCycle(orNotMeasured(d.needs.CommandsPerMin), orNotMeasured(d.needs.SecondsPerCommand))
}

// orNotMeasured returns an amount, or the number that is none.
func orNotMeasured(a access.Amount) float64 {
	if !a.Given {
		return provenance.NotMeasured()
	}
	return a.Value
}

// duty writes the limit for repeated work; it holds from shoulder to finger.
func (e *encoder) duty(d *day) {
	duty, err := d.dutyCycle()
	if err != nil || !endurance.UpperLimb(d.site) {
		return
	}
	a, err := endurance.Allowed(d.site, duty)
	if err != nil {
		return
	}
	d.raised = d.raised || d.worst > a.Share
	for _, limit := range a.Limits {
		if limit.ID == a.By {
			e.number("limit-duty", d.site, "", provenance.Text(100*a.Share, 1), "%", a.Say, limit.Provenance)
		}
	}
}

// founded is a quantity's name and what it rests on.
type founded struct {
	name string
	provenance.Provenance
}

// provenance notes what a quantity rests on, once for each name.
func (e *encoder) provenance(name string, b provenance.Provenance) {
	for i := range e.founded {
		if e.founded[i].name == name {
			return
		}
	}
	e.founded = append(e.founded, founded{name, b})
}

func (e *encoder) provenances() {
	for i := range e.founded {
		f := &e.founded[i]
		e.line("basis", f.name, f.Formula, f.Source, f.Status)
	}
}
