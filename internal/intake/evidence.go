package intake

import (
	"crypto/sha256"
	"encoding/hex"

	"doorsill/internal/engine"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// evidence is what the store has of a visit's results by earlier programs: their
// bytes can not be computed any more, and a signature may name them.
type evidence struct {
	// results are the newest first.
	results []store.Evidence
	// said is the position of the last event that is no signature.
	said int64
}

// evidenceOf is what must be looked at of a stored result when it is computed anew.
func evidenceOf(stored *store.Result) evidence {
	var e evidence
	ofThis := stored.Format == model.ResultFormat && stored.Engine == engine.Version && stored.Catalogue == message.Catalogue
	if !ofThis && len(stored.Body) > 0 {
		e.results = append(e.results, store.Evidence{
			Format: stored.Format, Engine: stored.Engine, Body: stored.Body, SHA256: stored.SHA256, Pos: stored.Pos,
		})
	}
	if stored.Evidence != nil {
		e.results = append(e.results, *stored.Evidence)
	}
	return e
}

// intact leaves of a damaged result the bodies that still have their hash.
func intact(damaged *store.Result) {
	if sha256Of(damaged.Body) != damaged.SHA256 {
		damaged.Body = nil
	}
	if e := damaged.Evidence; e != nil && sha256Of(e.Body) != e.SHA256 {
		damaged.Evidence = nil
	}
}

func sha256Of(body []byte) string {
	sum := sha256.Sum256(body)
	return hex.EncodeToString(sum[:])
}

// named is the result that a signature names, nil where there is none or
// something was said since.
func (e *evidence) named(by *model.Signature) *store.Evidence {
	for i := range e.results {
		one := &e.results[i]
		if by != nil && one.Format == by.ShownFormat() && one.SHA256 == by.Result && e.said <= one.Pos {
			return one
		}
	}
	return nil
}

// kept is the one that is kept: what the signature names, else the newest, which a
// tablet may have signed that was not heard of yet.
func (e *evidence) kept(by *model.Signature) *store.Evidence {
	if named := e.named(by); named != nil || len(e.results) == 0 {
		return named
	}
	return &e.results[0]
}
