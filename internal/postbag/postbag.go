// Package postbag takes in entries that did not come the usual way: sealed to
// the organisation's key, by a tablet whose password was forgotten or in a file.
// It opens the envelopes and hands the lines to intake as if the tablet had
// pushed them; intake judges them like any other push.
package postbag

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"doorsill/internal/account"
	"doorsill/internal/intake"
	"doorsill/internal/seal"
)

// Bag opens envelopes with the organisation's key.
type Bag struct {
	key    *seal.Key
	intake *intake.Intake
}

// New returns a bag that hands on to an intake.
func New(key *seal.Key, in *intake.Intake) *Bag { return &Bag{key: key, intake: in} }

// Take opens one envelope and pushes its entries for the caller, who must be
// the person that sealed them. It can be repeated. The error wraps
// account.ErrSignedOut, account.ErrNotAllowed, seal.ErrEnvelope or
// seal.ErrOtherKey, or is one of intake.Push.
func (b *Bag) Take(ctx context.Context, who account.Caller, e seal.Envelope) (intake.Answer, error) {
	if !who.SignedIn() {
		return intake.Answer{}, account.ErrSignedOut
	}
	if who.Person != e.Person {
		return intake.Answer{}, account.ErrNotAllowed
	}
	lines, err := b.key.Open(e)
	if err != nil {
		return intake.Answer{}, err
	}
	body, err := pushOf(e, lines)
	if err != nil {
		return intake.Answer{}, err
	}
	return b.intake.Push(ctx, who, bytes.NewReader(body))
}

// pushOf is what the tablet would have sent. It names no log: whether the
// server was restored meanwhile does not matter to entries that come once.
func pushOf(e seal.Envelope, lines []byte) ([]byte, error) {
	sum := sha256.Sum256(lines)
	head, err := json.Marshal(intake.Header{
		Tablet: e.Tablet, From: e.From, Count: int(e.To - e.From + 1), SHA256: hex.EncodeToString(sum[:]),
	})
	if err != nil {
		return nil, fmt.Errorf("write push header: %w", err)
	}
	return bytes.Join([][]byte{head, lines}, []byte{'\n'}), nil
}
