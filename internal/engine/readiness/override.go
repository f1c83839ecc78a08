package readiness

import (
	"doorsill/internal/checklist/rules"
	"doorsill/internal/engine/say"
	"doorsill/internal/engine/strength"
)

// NoDay stands for a date that was not given.
const NoDay = -1

// Override is a therapist's decision against the calculated level.
type Override struct {
	Level Level
	// Reason is the id of a reason, "" when none was given.
	Reason string
	// TextLength is how many characters the explanation has.
	TextLength int
	// Mitigation and Agreed report whether they are filled in.
	Mitigation, Agreed bool
	// From and Until are days, or NoDay.
	From, Until int
}

// Ruling says whether an override stands.
type Ruling struct {
	Accepted bool
	Level    Level
	Say      string
}

// override rules on the therapist's decision: lower at any time with a reason;
// higher by one level, explained, made safe, agreed and for a few weeks; never
// past a STOP or STOP-CONTROL, nor past one that was not answered.
func (j *judge) override() {
	o := j.in.Override
	if o == nil {
		return
	}
	r := Ruling{Level: o.Level, Say: j.refusal(o)}
	words := say.Words{o.Level.Name(), j.Level.Name(), r.Say}
	if r.Say == "" {
		r.Accepted = true
		r.Say = say.Line("Therapist decision: {}; calculated level: {}.", words)
	} else {
		r.Say = say.Line("The decision for {} does not stand; the level is {}. {}", words)
	}
	j.Ruling = &r
}

// refusal returns why a decision does not stand, or "".
func (j *judge) refusal(o *Override) string {
	if o.Reason == "" {
		return "Expected a reason from the list."
	}
	if o.Level <= j.Level {
		return ""
	}
	if items := append(j.raising(rules.Stop), j.raising(rules.StopControl)...); len(items) > 0 {
		return "A STOP cannot be overridden, it must be answered anew: " + j.titles(items) + "."
	}
	if j.Level == Pause {
		return "A pause cannot be overridden: " + j.failed().Say
	}
	if open := j.unansweredGrave(); len(open) > 0 {
		return "What can raise a STOP must be answered first: " + j.titles(open) + "."
	}
	if o.Level > j.Level+1 {
		return "Expected at most one level above the calculated one, " + (j.Level + 1).Name() + "."
	}
	return o.incomplete()
}

// incomplete returns what a decision for a higher level still needs, or "".
func (o *Override) incomplete() string {
	switch {
	case o.TextLength < strength.OverrideText:
		return say.Line("Expected an explanation of at least {0} characters, got {0}.", nil, strength.OverrideText, float64(o.TextLength))
	case !o.Mitigation:
		return "Expected what makes it safe meanwhile."
	case !o.Agreed:
		return "Expected who agreed."
	case o.From == NoDay:
		return "Expected the date from which it holds."
	case o.Until == NoDay:
		return "Expected an end date within four weeks."
	case o.Until < o.From:
		return "Expected an end date that is not before the start."
	case o.Until-o.From > strength.OverrideDays:
		return say.Line("Expected an end date within four weeks ({0} days), got {0} days.", nil, strength.OverrideDays, float64(o.Until-o.From))
	}
	return ""
}
