package intake

import (
	"testing"

	"doorsill/internal/engine"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// TestWhatIsEvidence: a result that this very program did not compute, and what
// was kept before. What has no bytes shows nothing.
func TestWhatIsEvidence(t *testing.T) {
	present := store.Result{Format: model.ResultFormat, Engine: engine.Version, Catalogue: message.Catalogue, Body: []byte("{"), SHA256: "new", Pos: 7}
	for _, c := range []struct {
		name   string
		change func(*store.Result)
		want   string
	}{
		{"by this program", func(*store.Result) {}, ""},
		{"in another format", func(r *store.Result) { r.Format = model.FirstResultFormat }, "new"},
		{"by another engine", func(r *store.Result) { r.Engine = "0.9.0" }, "new"},
		{"with another catalogue", func(r *store.Result) { r.Catalogue = "doorsill-messages/0" }, "new"},
		{"not scored by another engine", func(r *store.Result) { r.Engine, r.Body = "0.9.0", nil }, ""},
		{"by this program, with evidence", func(r *store.Result) { r.Evidence = &store.Evidence{SHA256: "old"} }, "old"},
		{"by another engine, with evidence", func(r *store.Result) { r.Engine, r.Evidence = "0.9.0", &store.Evidence{SHA256: "old"} }, "newold"},
	} {
		stored := present
		c.change(&stored)
		got := ""
		for _, one := range evidenceOf(&stored).results {
			got += one.SHA256
			if one.SHA256 == "new" && (one.Format != stored.Format || one.Engine != stored.Engine || string(one.Body) != "{" || one.Pos != 7) {
				t.Errorf("%s: kept as %+v", c.name, one)
			}
		}
		if got != c.want {
			t.Errorf("%s: kept %q, want %q", c.name, got, c.want)
		}
	}
}

// TestWhichEvidenceIsKept: what the signature names, in the format that was
// shown and with nothing said since, else the newest.
func TestWhichEvidenceIsKept(t *testing.T) {
	const first, second = model.FirstResultFormat, model.ResultFormat
	both := []store.Evidence{{Format: second, SHA256: "new", Pos: 7}, {Format: first, SHA256: "old", Pos: 5}}
	for _, c := range []struct {
		name        string
		results     []store.Evidence
		said        int64
		by          *model.Signature
		named, kept string
	}{
		{"nothing kept", nil, 5, signedBy(first, "old"), "", ""},
		{"nobody signed", both, 5, nil, "", "new"},
		{"the newest is named", both, 7, signedBy(second, "new"), "new", "new"},
		{"an older one is named", both, 5, signedBy(first, "old"), "old", "old"},
		{"in another format", both, 5, signedBy(second, "old"), "", "new"},
		{"another hash", both, 5, signedBy(first, "other"), "", "new"},
		{"something was said since", both, 6, signedBy(first, "old"), "", "new"},
	} {
		e := evidence{results: c.results, said: c.said}
		if got := hashOf(e.named(c.by)); got != c.named {
			t.Errorf("%s: names %q, want %q", c.name, got, c.named)
		}
		if got := hashOf(e.kept(c.by)); got != c.kept {
			t.Errorf("%s: keeps %q, want %q", c.name, got, c.kept)
		}
	}
}

func signedBy(format, hash string) *model.Signature {
	return &model.Signature{VisitSigned: model.VisitSigned{Format: format, Result: hash}}
}

func hashOf(e *store.Evidence) string {
	if e == nil {
		return ""
	}
	return e.SHA256
}

// TestWhatASignatureIsFoundToBe: as the values of SignatureCheck say. Once a
// visit is amended its hash is that of another result, and the mark that was
// made when it was signed tells.
func TestWhatASignatureIsFoundToBe(t *testing.T) {
	const is = "0.9.1"
	for _, c := range []struct {
		name              string
		format, by        string // what was signed
		hash              string
		mismatch, amended bool
		want              SignatureCheck
	}{
		{"the result", model.ResultFormat, is, "now", false, false, MatchesResult},
		{"one that was kept", model.ResultFormat, "0.9.0", "then", false, false, MatchesEvidence},
		{"one that was kept, of another catalogue", model.ResultFormat, is, "then", false, false, MatchesEvidence},
		{"another one", model.ResultFormat, is, "then", true, false, MatchesNothing},
		{"another one of another format", "doorsill-result/1", "", "then", true, false, MatchesNothing},
		{"amended", model.ResultFormat, is, "then", false, true, MatchesResult},
		{"amended, the engine not named", model.ResultFormat, "", "then", false, true, MatchesResult},
		{"amended, of another engine", model.ResultFormat, "0.9.0", "then", false, true, MatchesEvidence},
		{"amended, of another format", "doorsill-result/1", "", "then", false, true, MatchesEvidence},
		{"another one, amended", model.ResultFormat, is, "then", true, true, MatchesNothing},
		{"another one, amended, the engine not named", model.ResultFormat, "", "then", true, true, MatchesNothing},
		{"another one, amended, of another engine", model.ResultFormat, "0.9.0", "then", true, true, SignatureUnknown},
		{"another one, amended, of another format", "doorsill-result/1", "", "then", true, true, SignatureUnknown},
	} {
		signed := signedBy(c.format, c.hash)
		signed.Engine = c.by
		r := &Replayed{Result: store.Result{Format: model.ResultFormat, Engine: is, SHA256: "now", Brief: store.Brief{Mismatch: c.mismatch}}}
		if got := signatureOf(signed, r, c.amended); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	if got := signatureOf(nil, &Replayed{}, false); got != Unsigned {
		t.Errorf("nobody signed: %v", got)
	}
}
