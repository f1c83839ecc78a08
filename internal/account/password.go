package account

import (
	"context"
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"strings"
	"sync/atomic"

	"golang.org/x/crypto/argon2"
	"golang.org/x/text/unicode/norm"
)

// Cost is what one password hash takes.
type Cost struct {
	MemoryKiB uint32
	Passes    uint32
	Lanes     uint8
}

// ServerCost is 64 MiB, three passes, one lane: above the least that OWASP's
// password storage cheat sheet asks for (19 MiB, two passes, one lane), about
// a tenth of a second on a small server.
func ServerCost() Cost { return Cost{MemoryKiB: 64 * 1024, Passes: 3, Lanes: 1} }

const (
	saltBytes = 16
	hashBytes = 32
	// hashesAtOnce bounds the memory that sign-in can take, hashesWaiting the
	// requests that may wait for it. The places up to knownWaiting are kept for
	// people at a tablet of theirs: a flood of guesses must not keep them out.
	hashesAtOnce  = 2
	hashesWaiting = 32
	knownWaiting  = 64
	// maxMemoryKiB bounds what a stored hash can ask for.
	maxMemoryKiB = 1024 * 1024
	maxPasses    = 64
)

// errFormat is returned for a stored hash that is not one of ours.
var errFormat = errors.New("not an argon2id hash")

// Hasher hashes and checks passwords, a few at a time.
type Hasher struct {
	cost    Cost
	random  io.Reader
	slots   chan struct{}
	waiting atomic.Int32
	nobody  string
}

// NewHasher returns a hasher. Unknown logins are checked against a hash that
// no password has, so that they take as long as known ones.
func NewHasher(cost Cost, random io.Reader) (*Hasher, error) {
	b := make([]byte, saltBytes+hashBytes)
	if _, err := io.ReadFull(random, b); err != nil {
		return nil, fmt.Errorf("make placeholder hash: %w", err)
	}
	return &Hasher{
		cost: cost, random: random, slots: make(chan struct{}, hashesAtOnce),
		nobody: encodePHC(cost, b[:saltBytes], b[saltBytes:]),
	}, nil
}

// Hash returns the password's hash as a PHC string.
func (h *Hasher) Hash(ctx context.Context, password string) (string, error) {
	salt := make([]byte, saltBytes)
	if _, err := io.ReadFull(h.random, salt); err != nil {
		return "", fmt.Errorf("make salt: %w", err)
	}
	key, err := h.derive(ctx, password, salt, h.cost, hashBytes, knownWaiting)
	if err != nil {
		return "", err
	}
	return encodePHC(h.cost, salt, key), nil
}

// Verify says whether the password belongs to the stored hash, and whether the
// hash was made at another cost and should be made anew.
func (h *Hasher) Verify(ctx context.Context, stored, password string) (ok, stale bool, err error) {
	return h.verify(ctx, stored, password, knownWaiting)
}

// verify is Verify for somebody who gives up when so many wait already.
func (h *Hasher) verify(ctx context.Context, stored, password string, most int32) (ok, stale bool, err error) {
	cost, salt, want, err := parsePHC(stored)
	if err != nil {
		return false, false, err
	}
	got, err := h.derive(ctx, password, salt, cost, len(want), most)
	if err != nil {
		return false, false, err
	}
	return subtle.ConstantTimeCompare(got, want) == 1, cost != h.cost, nil
}

// derive waits for a slot and hashes. It returns ErrBusy when as many wait as
// most allows.
func (h *Hasher) derive(ctx context.Context, password string, salt []byte, c Cost, size int, most int32) ([]byte, error) {
	if h.waiting.Add(1) > most {
		h.waiting.Add(-1)
		return nil, ErrBusy
	}
	select {
	case h.slots <- struct{}{}:
		h.waiting.Add(-1)
	case <-ctx.Done():
		h.waiting.Add(-1)
		return nil, ctx.Err()
	}
	defer func() { <-h.slots }()
	return argon2.IDKey(normalise(password), salt, c.Passes, c.MemoryKiB, c.Lanes, uint32(size)), nil
}

// normalise makes one text out of the ways in which two keyboards can send the
// same letters (NIST SP 800-63B asks for it).
func normalise(password string) []byte { return norm.NFKC.Bytes([]byte(password)) }

func encodePHC(c Cost, salt, key []byte) string {
	b64 := base64.RawStdEncoding
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version,
		c.MemoryKiB, c.Passes, c.Lanes, b64.EncodeToString(salt), b64.EncodeToString(key))
}

func parsePHC(s string) (c Cost, salt, key []byte, err error) {
	parts := strings.Split(s, "$")
	if len(parts) != 6 || parts[0] != "" || parts[1] != "argon2id" || parts[2] != fmt.Sprintf("v=%d", argon2.Version) {
		return c, nil, nil, errFormat
	}
	if _, err := fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &c.MemoryKiB, &c.Passes, &c.Lanes); err != nil {
		return c, nil, nil, errFormat
	}
	if c.MemoryKiB == 0 || c.MemoryKiB > maxMemoryKiB || c.Passes == 0 || c.Passes > maxPasses || c.Lanes == 0 {
		return c, nil, nil, errFormat
	}
	if salt, err = base64.RawStdEncoding.DecodeString(parts[4]); err != nil || len(salt) < 8 {
		return c, nil, nil, errFormat
	}
	if key, err = base64.RawStdEncoding.DecodeString(parts[5]); err != nil || len(key) < 16 {
		return c, nil, nil, errFormat
	}
	return c, salt, key, nil
}
