package intake_test

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/seal"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

func newKey(t *testing.T) *seal.Key {
	t.Helper()
	key, err := seal.NewKey()
	if err != nil {
		t.Fatal(err)
	}
	return key
}

// sealed closes what waits on a tablet in an envelope.
func (t *tablet) sealed(key *seal.Key, from int64) seal.Envelope {
	t.Helper()
	lines := append(bytes.Join(t.lines[from-1:], []byte("\n")), '\n')
	e, err := seal.Seal(key.Public(), seal.Header{Tablet: t.id, Person: t.person, From: from, To: int64(len(t.lines))}, lines)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// TestEnvelopesAreTakenInLikeAPush, for the person who sealed them, once.
func TestEnvelopesAreTakenInLikeAPush(t *testing.T) {
	h, key := newService(t), newKey(t)
	marit := h.visited()
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	marit.write(model.KindAnswerGiven, "v1", level("pos-nose", "2"))
	way, ctx := intake.NewEnvelopes(key, h.intake), context.Background()
	envelope := marit.sealed(key, 2)
	for _, want := range []string{"2 known, 3 stored, 4 quarantined unknown-item", "2 known, 3 known, 4 quarantined unknown-item"} {
		answer, err := way.Push(ctx, caller("marit"), envelope)
		if err != nil || verdicts(answer) != want || answer.Ack != 4 {
			t.Errorf("%v, %s, receipt %d; want %s", err, verdicts(answer), answer.Ack, want)
		}
	}
	changed := envelope
	changed.To++
	for name, c := range map[string]struct {
		who      account.Caller
		envelope seal.Envelope
		want     error
	}{
		"nobody":              {account.Caller{}, envelope, account.ErrSignedOut},
		"somebody else":       {caller("davit"), envelope, account.ErrNotAllowed},
		"for another key":     {caller("marit"), marit.sealed(newKey(t), 2), seal.ErrOtherKey},
		"with another header": {caller("marit"), changed, seal.ErrEnvelope},
	} {
		if answer, err := way.Push(ctx, c.who, c.envelope); !errors.Is(err, c.want) || len(answer.Verdicts) != 0 {
			t.Errorf("%s: %+v, %v; want %v", name, answer, err, c.want)
		}
	}
}

// TestSettlingIsForTheLeadAndTheAuthor, with a note of at most 20,000
// characters.
func TestSettlingIsForTheLeadAndTheAuthor(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	for range 5 {
		marit.write(model.KindAnswerGiven, "v1", level("pos-nose", "1"))
	}
	marit.lines = append(marit.lines, []byte("{"))
	marit.send()
	left := caller("marit")
	left.Teams = map[string]string{"south": model.RoleClinician}
	for _, c := range []struct {
		name string
		who  account.Caller
		id   int64
		note string
		want error
	}{
		{"nobody", account.Caller{}, 1, "done", account.ErrSignedOut},
		{"the author", caller("marit"), 1, "done", nil},
		{"the lead", caller("lena"), 2, strings.Repeat("é", 20_000), nil},
		{"the author, who has left the team", left, 3, "done", account.ErrNotAllowed},
		{"a colleague", caller("davit"), 3, "done", account.ErrNotAllowed},
		{"what is about nobody", caller("lena"), 6, "done", nil},
	} {
		q, err := h.intake.Settle(context.Background(), c.who, c.id, c.note)
		if !errors.Is(err, c.want) || (err == nil) != (q.Settled != nil) {
			t.Errorf("%s: %+v, %v; want %v", c.name, q.Settled, err, c.want)
		}
	}
	_, err := h.intake.Settle(context.Background(), caller("lena"), 4, strings.Repeat("é", 20_001))
	var invalid *validation.Error
	if !errors.As(err, &invalid) || invalid.Path != "note" {
		t.Errorf("a note that is too long: %v", err)
	}
	if got := h.summary("c1").Quarantined; got != 3 {
		t.Errorf("the caseload still counts %d, want 3", got)
	}
}

// TestTheServersOwnStream counts by itself and says when it last wrote.
func TestTheServersOwnStream(t *testing.T) {
	h := newService(t)
	h.visited()
	for n := range int64(3) {
		h.minutes.Store(n)
		if _, err := h.intake.Assign(context.Background(), caller("lena"), "c1", n, "", "hold"); err != nil {
			t.Fatal(err)
		}
		h.view(func(r store.Reader) error {
			stream, err := r.Tablet(model.ServerTablet)
			if err != nil || stream.Ack != n+1 || stream.LastPush != h.now().Format(store.TimeLayout) || stream.Registered != opened().Format(store.TimeLayout) {
				t.Errorf("after %d assignments: %+v, %v", n+1, stream, err)
			}
			entries, err := r.Entries(2+n, 10)
			if err != nil || len(entries) != 1 {
				t.Fatalf("%d entries, %v", len(entries), err)
			}
			event, err := record.Decode(entries[0].Raw)
			if err != nil || event.N != n+1 || event.Seen != 2+n || event.Author != model.ServerTablet {
				t.Errorf("%+v, %v", event, err)
			}
			return nil
		})
	}
	// A tablet goes on after it.
	davit := h.tablet("tab-d", "davit")
	davit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	if answer := davit.send(); answer.Verdicts[0].Pos != 6 {
		t.Errorf("stored at %d, want 6", answer.Verdicts[0].Pos)
	}
}
