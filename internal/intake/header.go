package intake

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"time"

	"doorsill/internal/exactjson"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/signing"
	"doorsill/internal/validation"
)

// Header is the first line of a push.
type Header struct {
	// Log is the log id that the tablet knows, empty before the first push.
	Log    string `json:"log"`
	Tablet string `json:"tablet"`
	// From is the number of the first event, Count how many follow.
	From  int64 `json:"from"`
	Count int   `json:"count"`
	// SHA256 is over everything after the first line's end, in hex.
	SHA256 string `json:"sha256"`
	// At is the tablet's time of sending, RFC 3339; optional. With it a clock
	// that is off is noticed whichever way it is off.
	At string `json:"at,omitempty"`
}

// push is a push that has been read but not yet taken in.
type push struct {
	Header
	items []item
	// skew is how far the tablet's clock is ahead, if it could be told.
	skew    time.Duration
	hasSkew bool
	// signed is what the signature is over; verified is the key that it was found
	// to be of.
	signed    []byte
	signature string
	verified  signing.Key
	// sealed says that it came in an envelope: what is not signed is quarantined
	// then, and not refused. In a file also a tablet without a key must sign.
	sealed, inFile bool
}

// item is one event of a push.
type item struct {
	raw   []byte
	event model.Event
	// body is nil when the kind or schema is not known.
	body model.Body
	// said is the body, or what an amendment changes.
	said model.Body
	bad  *validation.Error
	// checked is the checklist that an answer was checked against before the
	// writer had it, and badAnswer what was found.
	checked   *pinnedChecklist
	badAnswer *validation.Error
}

// readPush reads a whole push and decodes its events. It never reads more than
// the limits allow.
func readPush(body io.Reader) (*push, error) {
	var whole bytes.Buffer // grows by doubling, which io.ReadAll does not
	if _, err := whole.ReadFrom(io.LimitReader(body, MaxPush+1)); err != nil {
		return nil, fmt.Errorf("read push: %w", err)
	}
	data := whole.Bytes()
	if len(data) == 0 {
		return nil, damaged("", "a first line with log, tablet, from, count and sha256", "The push was empty.")
	}
	line, rest, ended := bytes.Cut(data, []byte{'\n'})
	if len(line) > MaxHeader {
		return nil, damaged("", fmt.Sprintf("a first line of at most %d bytes", MaxHeader), "The first line of the push is too long.")
	}
	if len(rest) > MaxBody {
		return nil, &PushError{Code: CodeTooLarge, Field: "count", Want: fmt.Sprintf("at most %d bytes a push", MaxBody),
			Message: fmt.Sprintf("The push is larger than %d MiB; send fewer events at a time.", MaxBody>>20)}
	}
	p := &push{signed: signing.PushStatement(line)}
	if err := p.header(line); err != nil {
		return nil, err
	}
	if !ended && p.Count > 0 {
		return nil, damaged("count", fmt.Sprintf("%d lines", p.Count), "The push ended after its first line.")
	}
	if sum := sha256.Sum256(rest); hex.EncodeToString(sum[:]) != p.SHA256 {
		return nil, damaged("sha256", "the hash of the lines that follow", "The push was changed on its way; it will be sent again.")
	}
	return p, p.split(rest)
}

func (p *push) header(line []byte) error {
	if err := exactjson.Decode(line, &p.Header); err != nil {
		if bad := (*validation.Error)(nil); errors.As(err, &bad) && bad.Path != "" {
			return damaged(bad.Path, bad.Want, "The first line of the push can not be read at "+bad.Path+".")
		}
		return damaged("", "a first line with log, tablet, from, count and sha256, each once and nothing else, as JSON", "The first line of the push can not be read.")
	}
	switch {
	case !validation.ValidID(p.Tablet):
		return damaged("tablet", "the tablet's id", "The push does not say which tablet it comes from.")
	case p.From < 1:
		return damaged("from", "a number from 1", "The push does not say which event is its first.")
	case p.Count < 0:
		return damaged("count", "a number from 0", "The push does not say how many events it holds.")
	case p.Count > MaxEvents:
		return &PushError{Code: CodeTooLarge, Field: "count", Want: fmt.Sprintf("at most %d events a push", MaxEvents),
			Message: fmt.Sprintf("The push holds more than %d events; send fewer at a time.", MaxEvents)}
	}
	return nil
}

// split cuts the lines apart and decodes each.
func (p *push) split(rest []byte) error {
	lines := bytes.Count(rest, []byte{'\n'})
	if len(rest) > 0 && rest[len(rest)-1] != '\n' {
		lines++
	}
	if lines != p.Count {
		return damaged("count", fmt.Sprintf("%d lines", lines), fmt.Sprintf("The push says %d events but holds %d.", p.Count, lines))
	}
	p.items = make([]item, p.Count)
	for i := range p.items {
		p.items[i].raw, rest, _ = bytes.Cut(rest, []byte{'\n'})
		p.items[i].decode()
	}
	return nil
}

func (it *item) decode() {
	var err error
	it.event, it.body, err = record.Receive(it.raw)
	it.bad, _ = err.(*validation.Error)
	it.said = it.body
	if amendment, is := it.body.(*model.AmendmentMade); is {
		it.said, _ = record.ReadChange(amendment) // which was read with the amendment
	}
}

// shifted says whether all events name other numbers than their places in the
// push say: then the header was changed on its way, which no hash covers.
func (p *push) shifted() bool {
	shifted := false
	for i := range p.items {
		if event := &p.items[i].event; event.Tablet == p.Tablet {
			if event.N == p.From+int64(i) {
				return false
			}
			shifted = true
		}
	}
	return shifted
}

// measure tells how far the tablet's clock is off: by what it says at sending,
// or else by an event from the future.
func (p *push) measure(now time.Time) {
	if at, err := time.Parse(time.RFC3339, p.At); err == nil {
		p.skew, p.hasSkew = at.Sub(now), true
		return
	}
	for i := range p.items {
		if at, err := time.Parse(time.RFC3339, p.items[i].event.At); err == nil && at.Sub(now) > p.skew {
			p.skew, p.hasSkew = at.Sub(now), true
		}
	}
}

func (p *push) skewed() bool { return p.skew > MostSkew || p.skew < -MostSkew }
