package intake_test

import (
	"crypto/sha256"
	"encoding/hex"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

func TestWhatEachSignatureWasComparedWith(t *testing.T) {
	h := before(t)
	h.renew()
	replay := intake.NewReplay(authoring.StandardVersions())
	for visit, want := range map[string]intake.SignatureCheck{
		"v1": intake.MatchesEvidence, "v4": intake.MatchesNothing, "v5": intake.SignatureUnknown, "v6": intake.Unsigned,
	} {
		h.view(func(r store.Reader) error {
			subject, err := r.Subject(visit)
			if err != nil {
				return err
			}
			got, err := replay.Visit(r, subject)
			if got.Signature != want {
				t.Errorf("%s: %v, want %v", visit, got.Signature, want)
			}
			return err
		})
	}
}

// TestASignatureOfAnEarlierVersionComesLate: a tablet that still has the old app
// signs what the server computed in the old form, and then something else.
func TestASignatureOfAnEarlierVersionComesLate(t *testing.T) {
	for _, c := range []struct {
		name   string
		answer bool
		want   bool
	}{{"signed as it was", false, false}, {"signed after another answer", true, true}} {
		h := before(t)
		hash := h.result("v6").SHA256
		h.renew()
		marit := h.tablet("tab-late", "marit")
		if c.answer {
			marit.write(model.KindAnswerGiven, "v6", level("pos-trunk", "2"))
		}
		marit.write(model.KindVisitSigned, "v6", model.VisitSigned{Level: "pause", Result: hash, Name: "Marit Oakes, therapist"})
		marit.sendAll()
		if got := h.summary("c4"); got.Mismatch != c.want || !got.Signed {
			t.Errorf("%s: marked %v, signed %v", c.name, got.Mismatch, got.Signed)
		}
		if h.result("v6").Evidence == nil {
			t.Errorf("%s: the evidence is gone", c.name)
		}
		h.verify()
	}
}

// TestASignatureNamesTheFormatThatWasShown: a hash counts in its own format alone,
// and with the result's own level, which is what is read beside the name.
func TestASignatureNamesTheFormatThatWasShown(t *testing.T) {
	for _, c := range []struct {
		format, level string
		want          bool
	}{
		{model.ResultFormat, "none", false},
		{model.ResultFormat, "pause", true},
		{model.ResultFormat, "wider-ground", true},
		{"", "pause", true}, {"doorsill-result/9", "pause", true},
	} {
		h := newService(t)
		marit := h.visited()
		s := signature()
		s.Level, s.Result, s.Format = c.level, h.result("v1").SHA256, c.format
		marit.write(model.KindVisitSigned, "v1", s)
		marit.sendAll()
		if got := h.summary("c1").Mismatch; got != c.want {
			t.Errorf("format %q, level %s: marked %v", c.format, c.level, got)
		}
	}
}

// TestASignatureOfAnEarlierEngineStaysVerifiable: the server had stored a visit's
// result of the same format by an earlier engine, and somebody signed that one.
func TestASignatureOfAnEarlierEngineStaysVerifiable(t *testing.T) {
	h := before(t)
	h.renew()
	stored := h.result("v6")
	stored.Engine, stored.Body = "0.9.0", []byte(`{"format":"doorsill-result/2","engine":"0.9.0"}`)
	sum := sha256.Sum256(stored.Body)
	stored.SHA256, stored.Evidence = hex.EncodeToString(sum[:]), nil
	if err := h.store.Update(t.Context(), func(w store.Writer) error { return w.SetResult(stored) }); err != nil {
		t.Fatal(err)
	}
	h.intake.Close() // what it remembers of the visit is from before
	h.intake = intake.New(h.store, authoring.StandardVersions(), h.now)
	signed := model.VisitSigned{
		Level: "pause", Result: stored.SHA256, Format: model.ResultFormat, Engine: "0.9.0", Catalogue: stored.Catalogue, Name: "Marit Oakes, therapist",
	}
	marit := h.tablet("tab-late", "marit")
	marit.write(model.KindVisitSigned, "v6", signed)
	marit.sendAll()
	if h.summary("c4").Mismatch {
		t.Error("what the earlier engine computed and somebody signed is marked")
	}
	if kept := h.result("v6").Evidence; kept == nil || kept.SHA256 != signed.Result {
		t.Error("what was signed is not kept")
	}
	marit.write(model.KindAmendmentMade, "v6", model.AmendmentMade{Reason: "slip", Kind: model.KindAnswerGiven, Change: mustJSON(level("pos-trunk", "2"))})
	marit.sendAll()
	if h.summary("c4").Mismatch {
		t.Error("an amendment made a good signature a bad one")
	}
}
