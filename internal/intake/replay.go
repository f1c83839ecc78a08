package intake

import (
	"doorsill/internal/checklist"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// Replay computes from the log what intake has stored besides it, so that both
// can be compared. It writes nothing.
type Replay struct{ checklists checklists }

// NewReplay returns a replay that knows the checklists given.
func NewReplay(checklists []*checklist.Definition) *Replay {
	return &Replay{checklists: newChecklists(checklists)}
}

// Replayed is what the log says about a visit.
type Replayed struct {
	// Result is what intake would store now; its At is empty.
	Result store.Result
	// Recalled says that Result.Brief.Mismatch follows from the log and the
	// evidence. It does not when a visit was signed and amended in one commit, nor
	// when it was amended and another version of the engine may have seen the
	// signature.
	Recalled bool
	// Pinned says that the visit's checklist is known, without which nothing
	// is scored.
	Pinned bool
	// Signature says what a signature was compared with.
	Signature SignatureCheck
}

// SignatureCheck says what the hash in a signature was found to be.
type SignatureCheck int

// What a signature can be found to be.
const (
	Unsigned         SignatureCheck = iota
	MatchesResult                   // the hash of the result that follows from the log
	MatchesEvidence                 // that of a result kept from an earlier version
	MatchesNothing                  // another one
	SignatureUnknown                // of an earlier version, and amended since: only the mark that was made then tells
)

// Visit folds and scores a visit. Whether the result differs from the one that
// was signed is remembered from before the first amendment, as intake does. What
// no present program can compute is taken from the stored result: evidence.
func (p *Replay) Visit(r store.Reader, visit store.Subject) (Replayed, error) {
	s := &subject{Subject: visit}
	out := Replayed{Recalled: true}
	var signedAt string
	var before *store.Result
	err := loadWith(r, p.checklists, s, func(_ int64, event *model.Event, received string) {
		switch {
		case event.Kind == model.KindVisitSigned:
			signedAt = received
		case event.Kind == model.KindAmendmentMade && before == nil && s.fold.Signed():
			result, _ := compute(s, "") // what could not be scored says so in its brief
			before, out.Recalled = &result, received != signedAt && !result.Brief.Mismatch
		}
	})
	if err != nil {
		return out, err
	}
	out.Result, _ = compute(s, "")
	out.Pinned = s.pinned != nil
	if before != nil {
		out.Result.Brief.Mismatch = before.Brief.Mismatch
	}
	out.Signature = signatureOf(s.fold.Visit().Signed, &out, before != nil)
	return out, nil
}

func signatureOf(signed *model.Signature, r *Replayed, amended bool) SignatureCheck {
	if signed == nil {
		return Unsigned
	}
	// present says that the signed result was computed by this very program.
	present := signed.ShownFormat() == r.Result.Format && (signed.Engine == "" || signed.Engine == r.Result.Engine)
	switch {
	case !r.Result.Brief.Mismatch && (namesResult(signed, &r.Result) || amended && present):
		return MatchesResult
	case !r.Result.Brief.Mismatch:
		return MatchesEvidence
	case amended && !present:
		return SignatureUnknown
	}
	return MatchesNothing
}

// Client makes a client's line of the caseload from the log and from the
// results that are stored.
func (p *Replay) Client(r store.Reader, client store.Subject) (store.Summary, error) {
	return summarise(r, client)
}
