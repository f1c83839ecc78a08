package intake

import (
	"errors"

	"doorsill/internal/account"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// setsAside says whether a push that is refused with an error is quarantined
// instead: it came in an envelope, and the tablet's key did not sign that.
func (p *push) setsAside(err error) bool {
	var refused *PushError
	return p.sealed && errors.As(err, &refused) && (refused.Code == CodeSignature || refused.Code == CodeNoSignature)
}

// setAside quarantines what came unsigned in an envelope. Anybody can have
// written it, so it takes no number of the tablet and moves no receipt: what the
// tablet sends itself goes on as if this had never come.
func (c *commit) setAside(who account.Caller, p *push, tablet store.Tablet) (PushAnswer, error) {
	t := pushTransaction{commit: c, who: who, push: p, tablet: tablet.ID}
	answer := PushAnswer{Log: c.log, Ack: tablet.Ack, Verdicts: make([]Verdict, 0, len(p.items))}
	for i := range p.items {
		verdict, err := t.asideUnsigned(p.From+int64(i), tablet.Ack, &p.items[i])
		if full := (*PushError)(nil); errors.As(err, &full) && i > 0 {
			break // what came before it was set aside
		}
		if err != nil {
			return PushAnswer{}, err
		}
		answer.Verdicts = append(answer.Verdicts, verdict)
	}
	return answer, nil
}

func (t *pushTransaction) asideUnsigned(n, ack int64, it *item) (Verdict, error) {
	earlier := t.earlier
	if n <= ack {
		earlier = t.repeated
	}
	verdict, known, err := earlier(n, it)
	if known || err != nil {
		return verdict, err
	}
	return t.quarantine(n, it, &validation.Error{Code: validation.CodeUnsigned,
		Want: "a signature by the tablet, or that the author confirms the entry"})
}

// settleUnsigned settles the entry that these bytes became when they came unsigned
// before: their tablet sends them itself now, so its author need not be asked.
func (t *pushTransaction) settleUnsigned(n int64, it *item) error {
	q, err := t.w.QuarantinedAs(t.tablet, n, it.raw)
	if errors.Is(err, store.ErrNotFound) || err == nil && (q.Code != validation.CodeUnsigned || !q.Open()) {
		return nil
	}
	if err != nil {
		return err
	}
	settled := store.Settlement{By: t.who.Person, At: t.now, Note: "The tablet sent it itself.", Confirmed: true}
	// What becomes of it now brings the client's line up to date as well.
	return t.w.Settle(q.ID, settled)
}
