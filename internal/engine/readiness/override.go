package readiness

import (
	"doorsill/internal/checklist"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
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
	// Level is the one that was decided for.
	Level Level
	// Say states the decision and, when it does not stand, why not.
	Say message.Message
}

// override rules on the therapist's decision: lower at any time with a reason;
// higher by one level, explained, made safe, agreed and for a few weeks; never
// past a STOP or STOP-CONTROL, nor past one that was not answered.
func (j *judge) override() {
	o := j.in.Override
	if o == nil {
		return
	}
	decided, level := message.Word("decided", o.Level.String()), message.Word("level", j.Level.String())
	r := Ruling{Level: o.Level}
	if why := j.refusal(o); why.Empty() {
		r.Accepted = true
		r.Say = message.New("readiness.decision", decided, level)
	} else {
		r.Say = message.New("readiness.decision-refused", decided, level, message.Inner("why", why))
	}
	j.Ruling = &r
}

// refusal returns why a decision does not stand, or an empty message.
func (j *judge) refusal(o *Override) message.Message {
	if o.Reason == "" {
		return message.New("readiness.refuse-reason")
	}
	if o.Level <= max(j.Level, Pause) {
		return message.Message{}
	}
	if items := append(j.raising(checklist.Stop), j.raising(checklist.StopControl)...); len(items) > 0 {
		return message.New("readiness.refuse-stop", message.Inner("items", j.titles(items)))
	}
	if j.Level == Pause {
		return message.New("readiness.refuse-pause", message.Inner("why", j.failed().Say))
	}
	if j.Level == None {
		return message.New("readiness.refuse-none", message.Inner("why", j.failed().Say))
	}
	if open := j.unansweredGrave(); len(open) > 0 {
		return message.New("readiness.refuse-open", message.Inner("items", j.titles(open)))
	}
	if o.Level > j.Level+1 {
		return message.New("readiness.refuse-far", message.Word("level", (j.Level+1).String()))
	}
	return o.incomplete()
}

// incomplete returns what a decision for a higher level still needs, or an empty
// message.
func (o *Override) incomplete() message.Message {
	switch {
	case o.TextLength < strength.OverrideText:
		return message.New("readiness.refuse-text", message.Count("least", strength.OverrideText), message.Count("length", o.TextLength))
	case !o.Mitigation:
		return message.New("readiness.refuse-mitigation")
	case !o.Agreed:
		return message.New("readiness.refuse-agreed")
	case o.From == NoDay:
		return message.New("readiness.refuse-from")
	case o.Until == NoDay:
		return message.New("readiness.refuse-until")
	case o.Until < o.From:
		return message.New("readiness.refuse-order")
	case o.Until-o.From > strength.OverrideDays:
		return message.New("readiness.refuse-days", message.Count("most", strength.OverrideDays), message.Count("days", o.Until-o.From))
	}
	return message.Message{}
}
