package intake_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/storetest"
)

// forgotten is the name of a tablet that was registered after the copy was made
// from which the server was restored: 16 bytes in hex, as the server gives them.
const forgotten = "00112233445566778899aabbccddeeff"

// comeback is a push of a tablet that the server does not know, and who sends it.
type comeback struct {
	who    account.Caller
	tablet string
	log    string
	from   int64
	lines  int
}

// push sends a client's opening and as many entries about it as the push has.
func (b comeback) push(h *service) (intake.PushAnswer, error) {
	on := &tablet{service: h, id: b.tablet, person: b.who.Person}
	on.openClient("c1", "north")
	for len(on.lines) < int(b.from)-1+b.lines {
		on.write(model.KindClientChanged, "c1", model.ClientChanged{Fields: map[string]string{"reason": "fall"}})
	}
	return h.intake.Push(context.Background(), b.who, pushOf(b.log, b.tablet, b.from, on.lines[b.from-1:int(b.from)-1+b.lines]))
}

// TestAForgottenTabletComesBack: PROTOCOL.md, section 4, on the answer 409 "log".
// It is its person's again, with what it sent.
func TestAForgottenTabletComesBack(t *testing.T) {
	for _, lines := range []int{1, 2} {
		h := newService(t)
		log := h.logID()
		answer, err := comeback{caller("marit"), forgotten, log, 1, lines}.push(h)
		if err != nil || answer.Ack != int64(lines) || answer.Verdicts[0].Verdict != intake.Stored {
			t.Fatalf("%d entries: %+v, %v", lines, answer, err)
		}
		h.view(func(r store.Reader) error {
			tablet, err := r.Tablet(forgotten)
			if err != nil || tablet.Person != "marit" || tablet.Ack != int64(lines) || tablet.Registered == "" {
				t.Errorf("registered as %+v, %v", tablet, err)
			}
			return nil
		})
		// From now on it is hers alone.
		_, err = comeback{caller("davit"), forgotten, log, 1, lines}.push(h)
		var refused *intake.PushError
		if !errors.As(err, &refused) || refused.Code != intake.CodeTablet {
			t.Errorf("somebody else sends on it: %v", err)
		}
	}
}

// TestWhoMayNotBringBackATablet changes one condition at a time.
func TestWhoMayNotBringBackATablet(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*comeback)
		code   string
	}{
		{"a name of 15 bytes", func(b *comeback) { b.tablet = forgotten[2:] }, intake.CodeTablet},
		{"a name of 17 bytes", func(b *comeback) { b.tablet += "00" }, intake.CodeTablet},
		{"half a byte less", func(b *comeback) { b.tablet = forgotten[1:] }, intake.CodeTablet},
		{"half a byte more", func(b *comeback) { b.tablet += "0" }, intake.CodeTablet},
		{"more that is no hex", func(b *comeback) { b.tablet += "gg" }, intake.CodeTablet},
		{"a name that is no hex", func(b *comeback) { b.tablet = strings.Replace(forgotten, "f", "g", 1) }, intake.CodeTablet},
		{"a name in words", func(b *comeback) { b.tablet = "tab-x" }, intake.CodeTablet},
		{"the server's own name", func(b *comeback) { b.tablet = model.ServerTablet }, intake.CodeTablet},
		{"no log", func(b *comeback) { b.log = "" }, intake.CodeTablet},
		{"the log of before", func(b *comeback) { b.log = "5f0c" }, intake.CodeLog},
		{"from the second event", func(b *comeback) { b.from = 2 }, intake.CodeTablet},
		{"nothing sent", func(b *comeback) { b.lines = 0 }, intake.CodeTablet},
		{"somebody in no team", func(b *comeback) { b.who.Teams = nil }, intake.CodeTablet},
		{"on a withdrawn tablet", func(b *comeback) { b.who.Withdrawn, b.who.Tablet = true, forgotten }, intake.CodeTablet},
		{"on another withdrawn tablet", func(b *comeback) { b.who.Withdrawn, b.who.Tablet = true, "tab-m" }, intake.CodeTablet},
	} {
		h := newService(t)
		b := comeback{caller("marit"), forgotten, h.logID(), 1, 1}
		c.change(&b)
		answer, err := b.push(h)
		var refused *intake.PushError
		if !errors.As(err, &refused) || refused.Code != c.code {
			t.Errorf("%s: %+v, %v; want %s", c.name, answer, err, c.code)
		}
		h.view(func(r store.Reader) error {
			if _, err := r.Tablet(b.tablet); !errors.Is(err, store.ErrNotFound) || storetest.Head(t, r) != 0 {
				t.Errorf("%s: %v, %d entries: something was left behind", c.name, err, storetest.Head(t, r))
			}
			return nil
		})
	}
}

// logID is how the server's log is called.
func (h *service) logID() (id string) {
	h.Helper()
	h.view(func(r store.Reader) (err error) { id, err = r.LogID(); return err })
	return id
}

// TestAWithdrawnTabletSendsWhatItHolds, and for no other.
func TestAWithdrawnTabletSendsWhatItHolds(t *testing.T) {
	for tablet, code := range map[string]string{"tab-m": "", "tab-other": intake.CodeTablet} {
		h := newService(t)
		marit := h.visited()
		h.tablet("tab-other", "marit")
		who := caller("marit")
		who.Withdrawn, who.Tablet = true, tablet
		marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
		_, err := h.intake.Push(context.Background(), who, pushOf(marit.log, "tab-m", 3, marit.lines[2:]))
		var refused *intake.PushError
		if errors.As(err, &refused) != (code != "") || refused != nil && refused.Code != code {
			t.Errorf("from a session on %s: %v", tablet, err)
		}
	}
}

// TestWhoseLogItIsComesFirst: a tablet that is known to be another's learns
// nothing of the log's name, one that is not known does.
func TestWhoseLogItIsComesFirst(t *testing.T) {
	h := newService(t)
	h.visited()
	for _, c := range []struct{ tablet, person, log, code string }{
		{"tab-m", "marit", "5f0c", intake.CodeLog},
		{"tab-m", "davit", "5f0c", intake.CodeTablet},
		{"tab-x", "davit", "5f0c", intake.CodeLog},
		{"tab-m", "davit", "", intake.CodeTablet},
		{"tab-m", "davit", h.logID(), intake.CodeTablet},
	} {
		_, err := h.intake.Push(context.Background(), caller(c.person), pushOf(c.log, c.tablet, 1, [][]byte{[]byte("{}")}))
		var refused *intake.PushError
		if !errors.As(err, &refused) || refused.Code != c.code || c.code == intake.CodeLog && refused.Log != h.logID() {
			t.Errorf("%+v: %v", c, err)
		}
	}
}
