package intake

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"doorsill/internal/account"
	"doorsill/internal/seal"
)

// Envelopes takes in entries that did not come the usual way: sealed to the
// organisation's key, by a tablet whose password was forgotten or in a file. The
// lines are checked like those of any other push.
type Envelopes struct {
	key    *seal.Key
	intake *Intake
}

// NewEnvelopes returns the way in for envelopes that are sealed to a key.
func NewEnvelopes(key *seal.Key, in *Intake) *Envelopes { return &Envelopes{key: key, intake: in} }

// Push opens one envelope and pushes its entries for the caller, who must be
// the person that sealed them. It can be repeated. What the tablet's key did not
// sign is quarantined until somebody confirms it; a tablet without a key counts
// as its pushes do. The error wraps account.ErrSignedOut, account.ErrNotAllowed,
// seal.ErrEnvelope or seal.ErrOtherKey, or is one of Intake.Push.
func (s *Envelopes) Push(ctx context.Context, who account.Caller, e seal.Envelope) (PushAnswer, error) {
	return s.take(ctx, who, e, false)
}

// Import is Push for an envelope that came in a file, which its author did not
// hand in: what no tablet of the author signed is quarantined in any case.
func (s *Envelopes) Import(ctx context.Context, who account.Caller, e seal.Envelope) (PushAnswer, error) {
	return s.take(ctx, who, e, true)
}

func (s *Envelopes) take(ctx context.Context, who account.Caller, e seal.Envelope, inFile bool) (PushAnswer, error) {
	if !who.SignedIn() {
		return PushAnswer{}, account.ErrSignedOut
	}
	if who.Person != e.Person {
		return PushAnswer{}, account.ErrNotAllowed
	}
	lines, err := s.key.Open(e)
	if err != nil {
		return PushAnswer{}, err
	}
	body, err := pushOf(e, lines)
	if err != nil {
		return PushAnswer{}, err
	}
	p, err := readPush(bytes.NewReader(body))
	if err != nil {
		return PushAnswer{}, err
	}
	p.signed, p.signature, p.sealed, p.inFile = e.Statement(), e.Signature, true, inFile
	return s.intake.take(ctx, who, p)
}

// pushOf is what the tablet would have sent. It names no log: whether the
// server was restored meanwhile does not matter to entries that come once.
func pushOf(e seal.Envelope, lines []byte) ([]byte, error) {
	sum := sha256.Sum256(lines)
	head, err := json.Marshal(Header{
		Tablet: e.Tablet, From: e.From, Count: int(e.To - e.From + 1), SHA256: hex.EncodeToString(sum[:]),
	})
	if err != nil {
		return nil, fmt.Errorf("write push header: %w", err)
	}
	return bytes.Join([][]byte{head, lines}, []byte{'\n'}), nil
}
