package intake

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// Verdicts on an event.
const (
	Stored      = "stored"      // it has a position in the log
	Known       = "known"       // the same bytes were taken before
	Quarantined = "quarantined" // kept, but not counted
)

// Verdict is what became of one event.
type Verdict struct {
	N       int64  `json:"n"`
	Verdict string `json:"verdict"`
	// Pos is the log position of what is stored or known.
	Pos int64 `json:"pos,omitempty"`
	// Code, Hint, Field and Want say why something was quarantined.
	Code  string `json:"code,omitempty"`
	Hint  string `json:"hint,omitempty"`
	Field string `json:"field,omitempty"`
	Want  string `json:"want,omitempty"`
	// Entry is the ID of what was quarantined: an event that is sent twice has one.
	Entry int64 `json:"-"`
}

// PushAnswer is the receipt of a push.
type PushAnswer struct {
	Log string `json:"log"`
	// Ack is the highest number up to which the server keeps every event. It is
	// lower than the last number sent when no more was set aside of this tablet.
	Ack        int64     `json:"ack"`
	Verdicts   []Verdict `json:"verdicts"`
	ServerTime string    `json:"server_time"`
}

// Push takes in what a tablet sends, in the form that PROTOCOL.md describes. It
// can be repeated: what was taken before is Known. The error is a *PushError,
// account.ErrSignedOut, ErrClosed, store.ErrFull, the context's or the reader's, or a fault.
func (in *Intake) Push(ctx context.Context, who account.Caller, body io.Reader) (PushAnswer, error) {
	return in.PushSigned(ctx, who, body, "")
}

// PushSigned is Push with the tablet's signature over the first line; see
// signing.PushStatement.
func (in *Intake) PushSigned(ctx context.Context, who account.Caller, body io.Reader, signature string) (PushAnswer, error) {
	if !who.SignedIn() {
		return PushAnswer{}, account.ErrSignedOut
	}
	p, err := readPush(body)
	if err != nil {
		return PushAnswer{}, err
	}
	p.signature = signature
	return in.take(ctx, who, p)
}

// take takes in a push that was read.
func (in *Intake) take(ctx context.Context, who account.Caller, p *push) (PushAnswer, error) {
	now := in.now()
	p.measure(now)
	answer, done, err := in.repeat(ctx, who, p)
	if err != nil && !p.setsAside(err) {
		return PushAnswer{}, err
	}
	if done {
		answer.ServerTime = stampOf(now)
		return answer, nil
	}
	if err := in.room(); err != nil {
		return PushAnswer{}, err
	}
	if err := in.checkAnswers(ctx, p); err != nil {
		return PushAnswer{}, err
	}
	err = in.submit(ctx, func(c *commit) (err error) {
		answer, err = c.push(who, p)
		return err
	})
	if err != nil {
		return PushAnswer{}, err
	}
	answer.ServerTime = stampOf(now)
	return answer, nil
}

// room refuses a push while the store has no space for it, so that the last
// space is left for what reading needs.
func (in *Intake) room() error {
	if s, is := in.store.(store.Spacious); is {
		return s.Room()
	}
	return nil
}

// repeat answers a push that brings nothing new without writing anything, and
// says whether it could.
func (in *Intake) repeat(ctx context.Context, who account.Caller, p *push) (answer PushAnswer, done bool, err error) {
	err = in.store.View(ctx, func(r store.Reader) error {
		tablet, err := in.admit(r, who, p)
		if err != nil {
			return err
		}
		if p.From+int64(len(p.items))-1 > tablet.Ack {
			return nil
		}
		log, err := r.LogID()
		if err != nil {
			return err
		}
		answer = PushAnswer{Log: log, Ack: tablet.Ack, Verdicts: make([]Verdict, 0, len(p.items))}
		for i := range p.items {
			n := p.From + int64(i)
			placed, err := r.Placed(tablet.ID, n)
			if err != nil {
				return fmt.Errorf("look up event %d of tablet %s: %w", n, tablet.ID, err)
			}
			if !bytes.Equal(placed.Raw, p.items[i].raw) {
				return nil
			}
			verdict, err := knownAs(r, n, placed)
			if err != nil {
				return err
			}
			answer.Verdicts = append(answer.Verdicts, verdict)
		}
		done = true
		return nil
	})
	return answer, done, err
}

// knownAs is the verdict on an event that came again.
func knownAs(r store.Reader, n int64, placed store.Placed) (Verdict, error) {
	if placed.Quarantine == 0 {
		return Verdict{N: n, Verdict: Known, Pos: placed.Pos}, nil
	}
	q, err := r.Quarantined(placed.Quarantine)
	return verdictOf(&q), err
}

// push takes one push in.
func (c *commit) push(who account.Caller, p *push) (PushAnswer, error) {
	tablet, err := c.in.admit(c.w, who, p)
	if p.setsAside(err) {
		return c.setAside(who, p, tablet)
	}
	if err != nil {
		return PushAnswer{}, err
	}
	if p.From <= tablet.Ack && p.shifted() {
		return PushAnswer{}, damaged("from", "the number of the first event", "The push was changed on its way; it will be sent again.")
	}
	t := pushTransaction{commit: c, who: who, push: p, tablet: tablet.ID}
	aside, err := c.w.QuarantineOpen(store.QuarantineByTablet, tablet.ID)
	if errors.Is(err, store.ErrDamaged) {
		aside.Entries, err = 1, nil // how many is not known, so it is looked up
	}
	if err != nil {
		return PushAnswer{}, err
	}
	answer := PushAnswer{Log: c.log, Ack: tablet.Ack, Verdicts: make([]Verdict, 0, len(p.items))}
	for i := range p.items {
		n := p.From + int64(i)
		if aside.Entries > 0 {
			// First, so that what is set aside again takes the place of its copy and
			// there is always room for it.
			if err := t.settleUnsigned(n, &p.items[i]); err != nil {
				return PushAnswer{}, err
			}
		}
		take := t.takeNew
		if n <= tablet.Ack {
			take = t.takeRepeated
		}
		verdict, err := take(n, &p.items[i])
		if full := (*PushError)(nil); errors.As(err, &full) && i > 0 {
			// What came before it was taken in. The next push begins with it.
			answer.Ack = n - 1
			break
		}
		if err != nil {
			return PushAnswer{}, fmt.Errorf("take in event %d of tablet %s: %w", n, tablet.ID, err)
		}
		answer.Verdicts = append(answer.Verdicts, verdict)
		answer.Ack = max(tablet.Ack, n)
	}
	if err := t.flush(); err != nil {
		return PushAnswer{}, fmt.Errorf("take in push of tablet %s: %w", tablet.ID, err)
	}
	return answer, c.receipt(tablet, p, max(tablet.Ack, answer.Ack))
}

// admit says whether a push may be taken in at all. Whose log it is comes
// first: a tablet that was registered after the copy was made that the server
// was restored from is not known, and must learn why.
func (in *Intake) admit(r store.Reader, who account.Caller, p *push) (store.Tablet, error) {
	tablet, err := r.Tablet(p.Tablet)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return tablet, fmt.Errorf("find tablet: %w", err)
	}
	known := err == nil
	log, err := r.LogID()
	if err != nil {
		return tablet, err
	}
	if (!known || tablet.Person == who.Person) && p.Log != "" && p.Log != log {
		return tablet, &PushError{Code: CodeLog, Log: log, Field: "log", Want: log,
			Message: "The server's records were restored; the tablet will send its entries again."}
	}
	if !known && in.returns(who, p) {
		tablet, known = store.Tablet{ID: p.Tablet, Person: who.Person}, true
	}
	// A revoked tablet may send what it holds, but for no other.
	if !known || tablet.Person != who.Person || who.Withdrawn && tablet.ID != who.Tablet {
		return tablet, &PushError{Code: CodeTablet, Field: "tablet", Want: "a tablet that is registered for the person who is signed in",
			Message: "This tablet is not registered for the person who is signed in."}
	}
	if refused := in.verify(tablet.Key, p); refused != nil {
		return tablet, refused
	}
	if p.From > tablet.Ack+1 {
		return tablet, &PushError{Code: CodeGap, Ack: tablet.Ack, Field: "from", Want: fmt.Sprintf("%d", tablet.Ack+1),
			Message: fmt.Sprintf("Entries before %d have not arrived; the tablet will send again from %d.", p.From, tablet.Ack+1)}
	}
	return tablet, nil
}

// returns says whether an unknown tablet is one that the server forgot when it
// was restored: it has an id as the server gives them, knows the log's new name,
// and begins anew with its first event. A name with a mark must be the caller's; of
// one from an earlier version nobody can tell, and whoever comes first has it.
func (in *Intake) returns(who account.Caller, p *push) bool {
	id, err := hex.DecodeString(p.Tablet)
	marked, theirs := in.names.Whose(p.Tablet, who.Person)
	return err == nil && (theirs || !marked && len(id) == 16) && p.Log != "" && p.From == 1 && len(p.items) > 0 &&
		len(who.Teams) > 0 && !who.Withdrawn
}

// receipt writes down how far the tablet's events were taken in. A push that
// brought nothing new leaves the tablet as it was.
func (c *commit) receipt(tablet store.Tablet, p *push, ack int64) error {
	skew := int64(p.skew / time.Second)
	if ack == tablet.Ack && (!p.hasSkew || skew == tablet.SkewSeconds) {
		return nil
	}
	tablet.Ack, tablet.LastPush = ack, c.now
	if tablet.Registered == "" {
		tablet.Registered = c.now
	}
	if p.hasSkew {
		tablet.SkewSeconds = skew
	}
	return c.w.SetTablet(tablet)
}

// usualBatch is how many events about one visit usually follow one another.
const usualBatch = 128

// pushTransaction is one push being taken in.
type pushTransaction struct {
	*commit
	who    account.Caller
	push   *push
	tablet string
	// batch holds accepted events that follow one another about subject.
	batch   store.Batch
	subject *subject
	// confirming says that the entries were quarantined before.
	confirming bool
}

// takeNew takes an event that has not been here before.
func (t *pushTransaction) takeNew(n int64, it *item) (Verdict, error) {
	s, bad, err := t.place(n, it)
	if err != nil {
		return Verdict{}, err
	}
	if bad != nil {
		if err := t.flush(); err != nil {
			return Verdict{}, err
		}
		return t.quarantine(n, it, bad)
	}
	if t.subject != s {
		if err := t.flush(); err != nil {
			return Verdict{}, err
		}
		t.subject = s
		t.batch = store.Batch{
			Tablet: t.tablet, FirstN: n, Team: s.Team, Subject: s.ID, Received: t.now, Skewed: t.push.skewed(),
			Events: make([][]byte, 0, min(len(t.push.items), usualBatch)),
		}
	}
	t.batch.Events = append(t.batch.Events, it.raw)
	t.head++
	s.add(t.head, &it.event, it.body)
	return Verdict{N: n, Verdict: Stored, Pos: t.head}, t.touch(s)
}

// flush appends the batch to the log.
func (t *pushTransaction) flush() error {
	if t.subject == nil {
		return nil
	}
	t.subject = nil
	first, err := t.w.Append(t.batch)
	if err == nil && first+int64(len(t.batch.Events))-1 != t.head {
		err = fmt.Errorf("position %d was given, %d expected: %w", first, t.head, store.ErrOrder)
	}
	return err
}

// takeRepeated takes an event whose number has been here before.
func (t *pushTransaction) takeRepeated(n int64, it *item) (Verdict, error) {
	verdict, known, err := t.repeated(n, it)
	if known || err != nil {
		return verdict, err
	}
	return t.quarantine(n, it, forked())
}

// repeated is the verdict on bytes whose number, which has been here before, came
// with the same ones then, and whether it did.
func (t *pushTransaction) repeated(n int64, it *item) (Verdict, bool, error) {
	placed, err := t.w.Placed(t.tablet, n)
	if err != nil {
		return Verdict{}, false, err
	}
	if bytes.Equal(placed.Raw, it.raw) {
		verdict, err := knownAs(t.w, n, placed)
		return verdict, err == nil, err
	}
	return t.earlier(n, it)
}

// forked says that a number has been here before with other bytes.
func forked() *validation.Error {
	return &validation.Error{Code: validation.CodeForked, Path: "n",
		Want: "the event that this number was first sent with", Got: "another one"}
}

// earlier is the verdict on bytes that were quarantined under their number before,
// and whether they were.
func (t *pushTransaction) earlier(n int64, it *item) (Verdict, bool, error) {
	earlier, err := t.w.QuarantinedAs(t.tablet, n, it.raw)
	if errors.Is(err, store.ErrNotFound) {
		return Verdict{}, false, nil
	}
	return verdictOf(&earlier), err == nil, err
}
